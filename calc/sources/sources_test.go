package sources

import (
	"slices"
	"strings"
	"testing"
)

// Every document stands once and is complete.
func TestList(t *testing.T) {
	for _, p := range problems {
		t.Error(p)
	}
	names := map[string]string{}
	for i, s := range All {
		if i > 0 && All[i-1].ID == s.ID {
			t.Errorf("%s stands twice", s.ID)
		}
		if other := names[s.Label()+s.Title]; other != "" {
			t.Errorf("%s and %s are one document", other, s.ID)
		}
		names[s.Label()+s.Title] = s.ID
		bad := func(says string) { t.Errorf("%s: %s", s.ID, says) }
		if s.Name == "" || s.Title == "" {
			bad("needs name and title")
		}
		if !slices.Contains(Sorts, s.Sort) {
			bad("sort " + s.Sort + " is none of " + strings.Join(Sorts, ", "))
		}
		for _, k := range s.Devices {
			if !slices.Contains(Kinds, k) {
				bad("devices: " + k + " is none of " + strings.Join(Kinds, ", "))
			}
		}
		for _, r := range s.Regions {
			if !slices.Contains(Regions, r) {
				bad("region " + r + " is none of " + strings.Join(Regions, ", "))
			}
		}
		if !s.Document() {
			if s.Seen != "" || s.Status != "" {
				bad("is no document, so it has no status and was not seen")
			}
			continue
		}
		if !slices.Contains(Ways, s.Seen) {
			bad("seen " + s.Seen + " is none of " + strings.Join(Ways, ", "))
		}
		if s.Sort == "standard" || s.Sort == "law" || s.Sort == "guide" {
			switch s.Status {
			case "in force", "withdrawn", "superseded":
			default:
				bad("status is \"in force\", \"withdrawn\", \"withdrawn for ID\" or \"superseded by ID\"")
			}
			if s.Year == "" || len(s.Regions) == 0 || s.Scope == "" {
				bad("a " + s.Sort + " needs year, region and scope")
			}
		} else if s.Status != "" {
			bad("only standards, laws and guides have a status")
		}
		if s.Status == "superseded" && s.By == "" {
			bad("superseded by what?")
		}
		if s.By != "" {
			if by, ok := Find(s.By); !ok || !by.InForce() {
				bad("what took its place, " + s.By + ", is not on the list or not in force")
			}
		}
	}
}

func TestCite(t *testing.T) {
	tests := []struct{ text, want, counts string }{
		{"iec-60335-1 table 11", "IEC 60335-1 (2010; that of 2020 not seen), table 11", Published},
		{"iec-60335-1, table 11; 2 m at most", "IEC 60335-1 (2010; that of 2020 not seen), table 11; 2 m at most", Published},
		{"iec-60335-1 table 3 (memory)", "IEC 60335-1 (2010; that of 2020 not seen), table 3 (from memory)", Memory},
		{"iec-60335-1 table 3; the watts from memory", "IEC 60335-1 (2010; that of 2020 not seen), table 3; the watts from memory", Memory},
		{"own V²/R", "Own computation: V²/R", Own},
		{"practice", "Trade practice, no source", Practice},
		{"limit", "A limit of this calculator", Limit},
		{"iec-60950-1 5.1.7; withdrawn", "IEC 60950-1 (2005), 5.1.7; withdrawn", Published},
	}
	for _, test := range tests {
		c, err := Cite(test.text)
		if err != nil || c.String() != test.want || c.Counts() != test.counts {
			t.Errorf("%s: %q %s %v", test.text, c.String(), c.Counts(), err)
		}
	}
	for text, says := range map[string]string{
		"iec-60335-7 table 1":        "not on the list",
		"the same page":              "not on the list",
		"":                           "not on the list",
		"iec-60950-1 5.1.7":          "withdrawn for iec-62368-1; say so",
		"own V²/R (read)":            "is no document",
		"practice, no source (read)": "is no document",
	} {
		if _, err := Cite(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q", text, err, says)
		}
	}
}

// A mistake in the list is told with its line.
func TestParse(t *testing.T) {
	_, wrong := parse("x.txt", "Bad Id\nname: x\n\ngood\ncolour: red\nplain words")
	if len(wrong) != 3 || !strings.HasPrefix(wrong[0], "x.txt:1: ") || !strings.HasPrefix(wrong[1], "x.txt:5: ") || !strings.HasPrefix(wrong[2], "x.txt:6: ") {
		t.Errorf("%q", wrong)
	}
}

func FuzzCite(f *testing.F) {
	for _, s := range []string{"iec-60335-1 table 11", "own; x", "a,b;c (memory)", "(read)"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if c, err := Cite(text); err == nil && c.Counts() == "" {
			t.Error("counts nowhere")
		}
	})
}
