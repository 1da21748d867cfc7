package note

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"faultleaf/internal/problem"
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
		{"a wide table of short rows", strings.Repeat("a|", 5000) + "\n" + strings.Repeat("-|", 5000) + "\n" + strings.Repeat("b|\n", 100_000), ":5:1: this table would have more than 100000 cells"},
		{"one in a quotation", "> " + strings.Repeat("a|", 5000) + "\n> " + strings.Repeat("-|", 5000) + "\n" + strings.Repeat("> b|\n", 100_000), ":5:1: this table would have more than 100000 cells"},
		{"a wide table", strings.Repeat("a|", 200) + "\n" + strings.Repeat("-|", 200) + "\n" + strings.Repeat(strings.Repeat("b|", 200)+"\n", 400), ""},
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

// Hostile texts give a sentence at their place and nothing else: no address that runs
// something, no HTML, no value that grows when it is read, no number that is none.
func TestHostileTexts(t *testing.T) {
	bomb := "title: A\na0: &a0 [x]\n"
	for i := range 30 {
		bomb += fmt.Sprintf("a%d: &a%d [*a%d, *a%d, *a%d]\n", i+1, i+1, i, i, i)
	}
	many := ""
	for i := range 60_000 {
		many += fmt.Sprintf("k%d: 1\n", i)
	}
	fault := "title: A\ndevice: fan-heater\nblock: element\ncause: a\n"
	for _, c := range []struct{ name, front, body, says string }{
		{"what doubles thirty times", bomb, "", "is not known here"},
		{"a text that is another's", fault + "seen: &a 3\nsymptoms: *a\n", "", "symptoms"},
		{"a merge", "title: A\n<<: *none\n", "", "content/faults/x.md:"},
		{"itself", "title: A\nbecause: &a [*a]\n", "", "an anchor (&) is not used"},
		{"brackets without end", "title: A\nbecause: " + strings.Repeat("[", 60_000) + "\n", "", "brackets"},
		{"maps without end", "title: A\nbecause: " + strings.Repeat("{a: ", 15_000) + "\n", "", "brackets"},
		{"steps without end", "title: A\nbecause:\n" + strings.Repeat(" ", 5000) + "- a\n", "", "content/faults/x.md:"},
		{"keys without end", "title: A\n" + strings.Repeat("? ", 30_000) + "a\n", "", "content/faults/x.md:"},
		{"a list without end", "title: A\nbecause: [" + strings.Repeat("a,", 200_000) + "]\n", "", "more than 64 kB of keys"},
		{"as long a list as may be", "title: A\nbecause: [" + strings.Repeat("a,", 30_000) + "]\n", "", "content/faults/x.md:"},
		{"lines without end", "title: A\n" + many, "", "more than 64 kB of keys"},
		{"as many lines as may be", "title: A\n" + many[:longestKeys-1000] + "\n", "", "content/faults/x.md:"},
		{"keys that are none", "title: A\n" + strings.Repeat("? a\n", 16_000), "", "content/faults/x.md:"},
		{"one word again and again", "title: &x A\nbecause: [" + strings.Repeat("*x,", 21_000) + "]\n", "", "content/faults/x.md:"},
		{"a line without end", "title: " + strings.Repeat("a", 900_000) + "\n", "", "more than 64 kB of keys"},
		{"the largest number", fault + "seen: 1e999\n", "", "seen"},
		{"a number of many digits", fault + "seen: " + strings.Repeat("9", 5000) + "\n", "", "seen"},
		{"no number", fault + "seen: .nan\n", "", "seen"},
		{"less than nothing", fault + "seen: -1\n", "", "seen"},
		{"without end", fault + "mend: {does: A, minutes: .inf, succeeds: 0.5}\n", "", "minutes"},
		{"more than sure", fault + "mend: {does: A, minutes: 1, succeeds: 1e300}\n", "", "succeeds"},
		{"a tag of another language", "title: !!python/object/apply:os.system [a]\n", "", "content/faults/x.md:"},
		{"two documents", fault + "...\n%YAML 9.9\n", "", "content/faults/x.md:"},
		{"a script", "title: <script>a</script>\n", "<script>a</script>\n", "HTML is not shown"},
		{"a frame", "title: A\n", "a <iframe src=x> b\n", "HTML is not shown"},
		{"a remark of HTML", "title: A\n", "<!-- a -->\n", "HTML is not shown"},
		{"a link that runs", "title: A\n", "[a](javascript:a)\n", "of no known kind"},
		{"in capitals", "title: A\n", "[a](JaVaScRiPt:a)\n", "of no known kind"},
		{"by its number", "title: A\n", "[a](&#106;avascript:a)\n", "content/faults/x.md:4"},
		{"by its name", "title: A\n", "[a](javascript&colon;a)\n", "content/faults/x.md:4"},
		{"with an end of line", "title: A\n", "[a](<java&#10;script:a>)\n", "content/faults/x.md:4"},
		{"with a blank", "title: A\n", "[a](< javascript:a>)\n", "content/faults/x.md:4"},
		{"in brackets", "title: A\n", "<javascript:a>\n", "of no known kind"},
		{"data in brackets", "title: A\n", "<data:text/html,a>\n", "of no known kind"},
		{"a page in a link", "title: A\n", "[a](data:text/html,a)\n", "of no known kind"},
		{"elsewhere", "title: A\n", "[a][b]\n\n[b]: vbscript:a\n", "of no known kind"},
		{"a file of the machine", "title: A\n", "[a](file:///etc/passwd)\n", "of no known kind"},
		{"another host", "title: A\n", "[a](//evil.example/x)\n", "the link"},
		{"out of the shop", "title: A\n", "[a](../../../../etc/passwd)\n", "which is no note"},
		{"a picture from elsewhere", "title: A\n", "![a](http://evil.example/x.png)\n", "does not lie in this shop"},
		{"a picture that is data", "title: A\n", "![a](data:image/svg+xml,x)\n", "does not lie in this shop"},
		{"a picture of the machine", "title: A\n", "![a](../../../etc/x.png)\n", "there is no picture"},
	} {
		t.Run(c.name, func(t *testing.T) {
			fsys := good(t)
			fsys["content/faults/x.md"] = &fstest.MapFile{Data: []byte("---\n" + c.front + "---\n" + c.body), Mode: 0o644}
			_, mistakes, _ := Load(fsys, findWire)
			var of problem.List
			for _, m := range mistakes {
				if m.File == "content/faults/x.md" {
					of = append(of, m)
				}
				if len([]rune(m.String())) > 501 {
					t.Errorf("a sentence of %d signs", len([]rune(m.String())))
				}
			}
			if !strings.Contains(printed(of), c.says) {
				t.Errorf("it says:\n%.900s", printed(of))
			}
			inside(t, fsys, of[:min(len(of), 200)])
		})
	}
}

// FuzzVocabulary: whatever stands in the files that all notes rest on, reading ends and points
// into the file.
func FuzzVocabulary(f *testing.F) {
	names := []string{"content/complaints.yaml", "content/words.txt", "content/pages/glossary.md", "content/blocks/mains-cord.md", "content/shop.yaml"}
	for i, name := range names {
		b, err := os.ReadFile(filepath.Join("../..", name))
		if err != nil {
			f.Fatal(err)
		}
		if len(b) > 1500 { // small ones are tried more often
			b = b[:bytes.LastIndexByte(b[:1500], '\n')+1]
		}
		f.Add(uint8(i), b)
	}
	f.Add(uint8(0), []byte("dead: {says: Dead, hears: [dead, dead]}\n"))
	f.Add(uint8(1), []byte("a = b\nb = a\n# c\n\x00\n"))
	f.Add(uint8(2), []byte("---\nalso:\n  - {what does it mean: 0.}\n---\n"))
	f.Fuzz(func(t *testing.T, which uint8, raw []byte) {
		set, _ := loadsWith(t, names[int(which)%len(names)], raw)
		for _, d := range set.Documents() {
			_ = d.Plain()
		}
	})
}
