//go:build unix

package site

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"faultleaf/internal/outfit"
)

// A note that is a link or a pipe, is without end or may not be read is a mistake, for the whole
// shop and where it alone is inspected: it never vanishes without a word.
func TestNothingVanishes(t *testing.T) {
	dir := t.TempDir()
	if err := outfit.Usual.Example(filepath.Join(dir, "content")); err != nil {
		t.Fatal(err)
	}
	for _, folder := range []string{"faults", "jobs", "devices", "pages", "checklists", "blocks"} {
		for what, put := range map[string]func(at string) error{
			"a link":     func(at string) error { return os.Symlink("/dev/zero", at) },
			"a pipe":     func(at string) error { return syscall.Mkfifo(at, 0o644) },
			"endless":    func(at string) error { return second(os.WriteFile(at, nil, 0o644), os.Truncate(at, 1<<30)) },
			"not ours":   func(at string) error { return os.WriteFile(at, []byte("---\ntitle: A\n---\n"), 0) },
			"a link out": func(at string) error { return os.Symlink("/nowhere", at) },
		} {
			if what == "not ours" && os.Getuid() == 0 { // who may read everything reads it
				continue
			}
			name := map[string]string{"jobs": "2026-01-01-table-lamp-9"}[folder]
			if name == "" {
				name = "zz"
			}
			file := "content/" + folder + "/" + name + ".md"
			at := filepath.Join(dir, file)
			if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := put(at); err != nil {
				t.Skip(what, err)
			}
			says := func(list interface{ String() string }) bool { return strings.Contains(list.String(), file) }
			_, mistakes, err := Publish(dir, filepath.Join(dir, "public"))
			told := false
			for _, m := range mistakes {
				told = told || says(m)
			}
			if err != nil || !told {
				t.Errorf("%s in the place of %s is published over: %v %v", what, file, mistakes, err)
			}
			mistakes, _, err = CheckSome(dir, []string{file})
			if err != nil || len(mistakes) == 0 {
				t.Errorf("%s in the place of %s is found sound: %v", what, file, err)
			}
			if err := os.Remove(at); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func second(a, b error) error {
	if a != nil {
		return a
	}
	return b
}
