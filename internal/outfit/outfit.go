// Package outfit writes what a new shop begins with: notes that every shop needs,
// an example of a device, and beside them what a repository of notes needs.
package outfit

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"text/template"
	"unicode"

	"faultleaf"
	"faultleaf/internal/format"
	"faultleaf/internal/whole"
)

// starter is the shop's own part of its first notes: shop.yaml and an example of a
// device. beside is what lies beside content/.
//
//go:embed starter
var starter embed.FS

//go:embed beside
var beside embed.FS

// Shop is what a shop says about itself when it begins.
type Shop struct{ Name, Mains, Hertz, Currency, Rate string }

// Usual is a shop that says nothing.
var Usual = Shop{Name: "Our shop", Mains: "230 V", Hertz: "50", Currency: "€", Rate: "30"}

// ID is the shop's name as a short plain one.
func (s Shop) ID() string {
	id := strings.Trim(regexp.MustCompile(`[^a-z0-9]+`).ReplaceAllString(strings.ToLower(s.Name), "-"), "-")
	if id == "" || !unicode.IsLetter(rune(id[0])) {
		id = strings.Trim("shop-"+id, "-")
	}
	return id
}

// begins are the notes that a shop begins with besides its example; what they link to
// comes with them.
var begins = []string{"content/blocks", "content/checklists/before-opening.md", "content/checklists/after-repair.md",
	"content/checklists/prove-and-discharge.md", "content/checklists/first-power.md", "content/checklists/thermal-link-change.md"}

// link is a link or a picture of a note that leads to another file.
var link = regexp.MustCompile(`\]\(([a-z0-9./-]+\.(?:md|svg|png|jpg|webp))(?:#[^)]*)?\)`)

// Example writes the shop's file, the vocabulary, and a device that is written out with
// two faults and a checklist, into the folder to: the smallest shop that works.
func (s Shop) Example(to string) error {
	own, err := fs.Sub(starter, "starter")
	if err != nil {
		return err
	}
	if err := os.CopyFS(to, own); err != nil {
		return err
	}
	for _, name := range []string{"shop.yaml", "devices/table-lamp.md"} {
		if err := s.fill(filepath.Join(to, filepath.FromSlash(name))); err != nil {
			return err
		}
	}
	b, err := faultleaf.Notes.ReadFile("content/complaints.yaml")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(to, "complaints.yaml"), b, 0o644)
}

// Content writes all the notes that a shop begins with into the folder to.
func (s Shop) Content(to string) error {
	if err := s.Example(to); err != nil {
		return err
	}
	seen := map[string]bool{}
	var take func(name string) error
	take = func(name string) error {
		if seen[name] {
			return nil
		}
		seen[name] = true
		if list, err := fs.ReadDir(faultleaf.Notes, name); err == nil {
			for _, e := range list {
				if err := take(path.Join(name, e.Name())); err != nil {
					return err
				}
			}
			return nil
		}
		b, err := fs.ReadFile(faultleaf.Notes, name)
		if err != nil {
			return fmt.Errorf("a note that a new shop begins with leads to %s, which it has not", name)
		}
		at := filepath.Join(to, filepath.FromSlash(strings.TrimPrefix(name, "content/")))
		if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(at, b, 0o644); err != nil {
			return err
		}
		if path.Ext(name) != ".md" {
			return nil
		}
		for _, m := range link.FindAllSubmatch(b, -1) {
			if err := take(path.Join(path.Dir(name), string(m[1]))); err != nil {
				return err
			}
		}
		return nil
	}
	for _, name := range begins {
		if err := take(name); err != nil {
			return err
		}
	}
	return nil
}

// fill fills a file's places for what the shop said.
func (s Shop) fill(file string) error {
	b, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	t, err := template.New("").Parse(string(b))
	if err != nil {
		return err
	}
	var out strings.Builder
	if err := t.Execute(&out, s); err != nil {
		return err
	}
	return os.WriteFile(file, []byte(out.String()), 0o644)
}

// Beside writes what lies beside content/ into the folder dir; what is there already stays.
func (s Shop) Beside(dir string) error {
	put := func(name string, b []byte, mode fs.FileMode) error {
		at := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			return err
		}
		err := whole.New(at, mode, whole.Bytes(b))
		if errors.Is(err, fs.ErrExist) {
			return nil
		}
		return err
	}
	for name, to := range map[string]string{"gitignore": ".gitignore", "editorconfig": ".editorconfig", "README.md": "README.md", "hooks/pre-commit": "hooks/pre-commit", "ci/inspect": "ci/inspect"} {
		b, err := beside.ReadFile("beside/" + name)
		if err != nil {
			return err
		}
		mode := fs.FileMode(0o644)
		if strings.HasPrefix(string(b), "#!") {
			mode = 0o755
		}
		if name == "README.md" {
			b = []byte(strings.ReplaceAll(string(b), "{{.Name}}", s.Name))
		}
		if err := put(to, b, mode); err != nil {
			return err
		}
	}
	for _, k := range format.Kinds {
		if err := put("schema/"+k.Name+".json", k.Schema(), 0o644); err != nil {
			return err
		}
	}
	return nil
}
