package note

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"faultleaf/calc/all"
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
			if r.put > 0 {
				after = slices.Delete(after, r.put-1, r.put)
				r.put = 0
			}
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

// TestToldOnce: what a hand does to a whole line is one mistake, at its place, with what to do.
func TestToldOnce(t *testing.T) {
	const device, fault, checklist = "content/devices/fan-heater.md", "content/faults/element-tag-burnt-off.md", "content/checklists/x.md"
	for _, c := range []struct{ name, file, was, is, wanted string }{
		{"the line above a group is lost", device, "\ntests:\n", "\n", "the line “tests:” is missing above this one"},
		{"and where nothing stands above it", device, "\naccess:\n", "\n", "the line “access:” is missing above this one"},
		{"a tab before an entry", device, "\n    ask:", "\n\t\task:", "a tab stands at the beginning of this line"},
		{"a blank that ends no word", device, "\n    ask:", "\n\u00a0\u00a0\u00a0\u00a0ask:", "a blank of another sort stands at the beginning of this line"},
		{"a key of a group beside it", fault, "\nbecause:", "\nparts: [{part: tag-6.3}]\nbecause:", "“parts” is not known here; it belongs into the group of mend:"},
		{"an entry at the left edge", fault, "\nsymptoms: {air-cold: always}\n", "\nsymptoms:\n  air-cold: always\nair-hot: often\n", "put as many blanks before it as the lines above it have, if it belongs to “symptoms”"},
		{"no comma between braces", fault, "tag, minutes: 25", "tag minutes: 25", "the comma before “minutes:” is missing"},
		{"signs of a word processor", fault, "\nbecause: [loose crimp, inlet blocked]\n", "\nbecause:\n  – loose crimp\n  – inlet blocked\n", "this text begins with –, which makes no list here"},
		{"a second head", fault, "\n---\n", "\n---\n---\ntitle: Again\n---\n", "a second head begins here"},
		{"a table of tabs", fault, "", "\nPoint\tOhms\nplug\t20\n", "tabs part these lines into a table"},
		{"a table without its line", fault, "", "\n| Point | Ohms |\n| plug | 20 |\n", "these lines were meant for a table, and are none"},
		{"a row that is too long", fault, "", "\n| Point | Ohms |\n| --- | --- |\n| plug | 20 | 21 |\n", "this row of the table has 3 cells, and its head 2"},
		{"a bar that parts none", fault, "", "\n| Point | Ohms |\n| --- | --- |\n| plug | 20 \\| 21 |\n", ""},
		{"a path of another system", fault, "", "\n![a tag](..\\images\\tag.svg)\n", "write ../images/tag.svg"},
		{"numbers before steps", checklist, "", "---\ntitle: X\n---\n- [ ] one\n\nThen:\n\n1. two\n2. three\n", "these lines of the list are no steps"},
	} {
		t.Run(c.name, func(t *testing.T) {
			shop := samples()
			text := ""
			if f, ok := shop[c.file]; ok {
				text = string(f.Data)
			}
			if c.was == "" {
				text += c.is
			} else if strings.Count(text, c.was) == 0 {
				t.Fatalf("%q is not in %s:\n%s", c.was, c.file, text)
			} else {
				text = strings.Replace(text, c.was, c.is, 1)
			}
			shop[c.file] = &fstest.MapFile{Data: []byte(text)}
			_, mistakes, _ := Load(shop, all.Find)
			told, _ := mistakes.First()
			if c.wanted == "" && len(told) == 0 {
				return
			}
			if len(told) != 1 || !strings.Contains(told[0].String(), c.wanted) || told[0].File != c.file || told[0].Line < 1 {
				t.Errorf("wanted %q alone, told:\n%s", c.wanted, printed(told))
			}
		})
	}
}

// TestRenamedTold: a symptom that was given another name is one slip, however many notes still name it.
func TestRenamedTold(t *testing.T) {
	shop := samples()
	const file = "content/devices/fan-heater.md"
	text := string(shop[file].Data)
	shop[file].Data = []byte(strings.Replace(text, "air-cold:", "blows-cold:", 1))
	_, mistakes, _ := Load(shop, all.Find)
	if told, _ := mistakes.First(); len(told) != 1 || len(mistakes) < 2 || !strings.Contains(told[0].Says, "no symptom “air-cold”") {
		t.Errorf("told:\n%s", printed(told))
	}
}
