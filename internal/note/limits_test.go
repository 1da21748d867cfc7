package note

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
)

// shut is a shop in which one folder cannot be read.
type shut struct {
	fs.FS
	dir string
}

func (s shut) ReadDir(name string) ([]fs.DirEntry, error) {
	if name == s.dir {
		return nil, fs.ErrPermission
	}
	return fs.ReadDir(s.FS, name)
}

// A folder that cannot be read is a mistake and not an empty folder: publishing
// would take its pages off the site.
func TestUnreadableFolder(t *testing.T) {
	_, mistakes, _ := Load(shut{good(t), "content/faults"}, findWire)
	if !strings.Contains(printed(mistakes), "content/faults: the folder cannot be read") {
		t.Errorf("it says:\n%s", printed(mistakes))
	}
}

// Markdown that takes a reader time with the square of its length is refused
// with its line; what people write is not.
func TestHeavyMarkdown(t *testing.T) {
	for _, c := range []struct{ name, text, says string }{
		{"stars", "fine\n\n" + strings.Repeat("*a_", 300_000), ":6:1: there are more than 1500 of the signs"},
		{"links", strings.Repeat("[a](b", 200_000), ":4:1: there are more than 1500"},
		{"over lines", strings.Repeat("*a_ b\n", 2000), ": there are more than 1500"},
		{"in what looks like code", "```\n" + strings.Repeat("*a_", 300_000), ": there are more than 1500"},
		{"quotations", strings.Repeat("> ", 300_000) + "a", ":4:1: more than 40 quotations"},
		{"lists", strings.Repeat("- ", 500) + "a", ":4:1: more than 40 quotations"},
		{"a rule", strings.Repeat("- ", 100), ""},
		{"a line of dashes", strings.Repeat("-", 300) + " a", ""},
		{"a long table", "| a | b |\n|---|---|\n" + strings.Repeat("| *a* | [x](y.md) |\n", 400), ""},
		{"code", "```\n" + strings.Repeat("a[i] = b_c * d;\n", 1000) + "```\n", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, mistakes, _ := Load(fstest.MapFS{"content/shop.yaml": {Data: []byte("name: A\n")},
				"content/pages/a.md": {Data: []byte("---\ntitle: A\n---\n" + c.text)}}, findWire)
			got := printed(mistakes)
			if c.says == "" && strings.Contains(got, "more than") || !strings.Contains(got, c.says) {
				t.Errorf("it says:\n%.600s", got)
			}
		})
	}
}

// What nobody can see is told with its place, and stops nothing.
func TestUnseen(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"title: A \u202e\n---\nb\n", "content/pages/a.md:2:10: a sign that cannot be seen stands here, U+202E; delete it"},
		{"title: A\n---\nfine\nb\x1b[2J\n", "content/pages/a.md:5:2: a sign that cannot be seen stands here, U+001B"},
		{"title: A\n---\nzero\u200bwidth\n", "content/pages/a.md:4:5: a sign that cannot be seen stands here, U+200B"},
		{"title: A\n---\nSil\u00adben, \t👨\u200d🔧, ü – µ\n", ""},
	} {
		_, _, remarks := Load(fstest.MapFS{"content/shop.yaml": {Data: []byte("name: A\n")}, "content/pages/a.md": {Data: []byte("---\n" + c.text)}}, findWire)
		if c.says == "" && strings.Contains(printed(remarks), "seen") || !strings.Contains(printed(remarks), c.says) {
			t.Errorf("%q:\n%s", c.text, printed(remarks))
		}
	}
}
