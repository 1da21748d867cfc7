package layers

import (
	"io/fs"
	"os"
	"path"
	"regexp"
	"strings"
	"testing"
)

var (
	quoted    = regexp.MustCompile("`([^`\n]+)`")
	ourFolder = regexp.MustCompile(`^(\./)?(calc|cmd|content|internal|search|templates)(/[a-z0-9_.-]+)*(/|/\.\.\.)?$`)
	testName  = regexp.MustCompile(`^(Test|Benchmark|Fuzz)[A-Z]\w*$`)
	ourFile   = regexp.MustCompile(`^[a-z0-9_]+\.(go|js|css|txt)$`)
	declared  = regexp.MustCompile(`(?m)^func ((?:Test|Benchmark|Fuzz)\w+)\(`)
)

// TestMap holds DEVELOPERS.md to what is there: each folder, file and test that it names
// exists, and each part of the house that is no shelf stands under "What lies where".
func TestMap(t *testing.T) {
	house := os.DirFS("../..")
	b, err := fs.ReadFile(house, "DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	tests, files := map[string]bool{}, map[string]bool{"faultleaf.js": true, "starter.go": true} // publishing writes the one; the other lies beside DEVELOPERS.md
	for _, top := range []string{"calc", "cmd", "content", "internal", "search", "templates"} {
		err := fs.WalkDir(house, top, func(name string, d fs.DirEntry, err error) error {
			files[d.Name()] = true
			if err != nil || d.IsDir() || !strings.HasSuffix(name, "_test.go") {
				return err
			}
			text, err := fs.ReadFile(house, name)
			for _, m := range declared.FindAllSubmatch(text, -1) {
				tests[string(m[1])] = true
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, m := range quoted.FindAllStringSubmatch(string(b), -1) {
		name := m[1]
		switch {
		case testName.MatchString(name) && !tests[name]:
			t.Errorf("DEVELOPERS.md names %s, which is no test", name)
		case ourFile.MatchString(name) && !files[name]:
			t.Errorf("DEVELOPERS.md names %s, which is not there", name)
		case ourFolder.MatchString(name):
			at := strings.TrimSuffix(path.Clean(strings.TrimPrefix(name, "./")), "/...")
			if _, err := fs.Stat(house, at); err != nil {
				t.Errorf("DEVELOPERS.md names %s, which is not there", name)
			}
		}
	}
	_, where, _ := strings.Cut(string(b), "## What lies where")
	where, _, ok := strings.Cut(where, "\n## ")
	if !ok {
		t.Fatal("DEVELOPERS.md does not say what lies where")
	}
	for _, m := range may {
		if strings.HasPrefix(m.part, "calc/") && strings.Contains(m.imports, room) || m.part == "faultleaf" { // a shelf; what a new shop begins with
			continue
		}
		if name := path.Base(m.part); !regexp.MustCompile("[`/]" + name + "[`/]").MatchString(where) {
			t.Errorf("DEVELOPERS.md does not say what %s holds", m.part)
		}
	}
}
