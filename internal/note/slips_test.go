package note

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"faultleaf/internal/format"
	"faultleaf/internal/problem"
)

// TestCuts: a # cuts a text without quotes; behind anything else it begins a remark.
func TestCuts(t *testing.T) {
	for line, column := range map[string]int{
		"caution: Unplug; fuse #2 out first":         23,
		"caution: Unplug # then wait":                17,
		`caution: "Unplug; fuse #2 out first"`:       0,
		`caution: 'Unplug; it''s fuse #2'`:           0,
		"power: off # or mains":                      0,
		"power: off #2":                              12,
		"mains: 230 V # at the bench":                0,
		"covers: [element] # only":                   0,
		"mend: {does: Take out fuse #2, minutes: 3}": 28,
		"reads: {a: open} # so":                      0,
		"says: C#":                                   0,
		"says: >\n  a text #2 stays":                 0,
		"says: |-\n  a text #2 stays\nb: a text #2":  11,
		"# a remark":                                 0,
		"access: # below":                            0,
		"- a word #2":                                10,
		"- dark # so":                                0,
		`{a: "x", b: Some text #1}`:                  23,
		"draft: true # fill it in":                   0,
		"minutes: 5 # about":                         0,
		"x: \"a\n  b #c\"":                           0,
	} {
		got := 0
		if found := cuts(line); len(found) > 0 {
			got = found[0].column
		}
		if got != column {
			t.Errorf("%q is cut at %d, wanted %d", line, got, column)
		}
	}
}

// FuzzFront: whatever stands in a front matter, the checks of slips and of the
// tables end, change nothing but indentation and what parts a key from its value, and point into the text.
func FuzzFront(f *testing.F) {
	for _, s := range format.Samples {
		f.Add(front(s.Text))
	}
	for _, s := range []string{"a: b #c\n", " x:\n  - {a: 0,5 Ω}\n", "title: „a: b“\n", "tests:\n x:\n   ask: a\n  covers: [b]\n", "a: |\n #\n", "a: 'it''s #1'\n", "{a: 1,5, b: 2,}\n", "? a\n: b\n", "<<: *x\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 600 {
			return
		}
		lines := strings.Split(text, "\n")
		for _, c := range cuts(text) {
			if c.line < 1 || c.line > len(lines) || c.column < 1 || c.column > len([]rune(lines[c.line-1])) {
				t.Fatalf("%+v lies outside of %q", c, text)
			}
		}
		{
			k := format.Kinds[len(text)%len(format.Kinds)] // one a text, so that many texts are tried
			var list problem.List
			r := &reader{file: "x", problems: &list, lines: lines}
			straight := r.straighten(text, k.Keys)
			after := strings.Split(straight, "\n")
			if len(after) != len(lines) {
				t.Fatalf("%q became %q", text, straight)
			}
			for i := range lines {
				if parting.Replace(after[i]) != parting.Replace(lines[i]) {
					t.Fatalf("line %d of %q became %q", i, text, after[i])
				}
			}
			if m, ok := r.parse(text, k.Keys); ok {
				m.known(false)
				_ = r.treeOf(m)
			}
			for _, p := range list {
				if p.Line < 1 || p.Line > len(lines) || p.Column < 1 || p.Column > len([]rune(lines[p.Line-1]))+1 {
					t.Fatalf("%v lies outside of %q", p, text)
				}
			}
		}
	})
}

// parting takes out what parts a key from its value, and what may be put in there.
var parting = strings.NewReplacer(" ", "", "\u00a0", "", "\t", "", ":", "", "=", "", "：", "")

func front(text string) string {
	if rest, ok := strings.CutPrefix(text, "---\n"); ok {
		text, _, _ = strings.Cut(rest, "\n---")
	}
	return text
}

// Every note of the starter fits the tables, so that none is searched for slips: a
// sound note costs one reading.
func TestSoundNotesFit(t *testing.T) {
	for folder, kind := range map[string]string{"devices": "device", "faults": "fault", "blocks": "block", "checklists": "checklist", "pages": "page"} {
		k, ok := format.Find(kind)
		if !ok {
			t.Fatalf("there is no kind %s", kind)
		}
		files, err := filepath.Glob(filepath.Join("..", "..", "content", folder, "*.md"))
		if err != nil || len(files) == 0 {
			t.Fatal(folder, err)
		}
		for _, file := range files {
			raw, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			var list problem.List
			lines := strings.Split(strings.SplitN(string(raw), "---\n", 3)[1], "\n")
			r := &reader{file: file, problems: &list, lines: lines}
			m := mapping{r: r, keys: k.Keys, damaged: map[string]bool{}}
			if err := r.entries(&m, strings.Join(lines, "\n"), 0); err != nil {
				t.Errorf("%s: %v", file, err)
			} else if n := m.misfits(); n > 0 {
				t.Errorf("%s: %d of its entries do not fit the tables", file, n)
			}
		}
	}
}
