package site

import (
	"bytes"
	"fmt"
	"html"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"faultleaf/calc/all"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
	"faultleaf/internal/published"
	"faultleaf/internal/site/page"
)

// Healthy reads the notes under dir without those that cannot be relied on. to is
// the published site, which may tell whose note a broken one was; it may be "".
func Healthy(dir, to string) (*note.Set, note.Left, problem.List) {
	set, left, mistakes, _ := note.LoadHealthy(os.DirFS(dir), all.Find, func(file string) string { return whose(to, file) })
	return set, left, mistakes
}

// PublishHealthy publishes what of the notes is without mistakes. Pages that rest
// on a note with one stay as they were last published, and say so; what was never
// published is a page that says why it is not there. Nothing is written where a
// mistake concerns the whole shop. The mistakes are all there are.
func PublishHealthy(dir, to string, tell Progress) (published.Report, note.Left, problem.List, error) {
	s := &stream{dir: dir, to: to, tell: tell, some: true}
	r, mistakes, err := s.run()
	return r, s.left, mistakes, err
}

var ofDevice = regexp.MustCompile(`^<html[^>]* data-device="([a-z0-9-]+)"`)

// whose is the device of the page that a note had, "" where none is known.
func whose(to, file string) string {
	if to == "" {
		return ""
	}
	b, err := os.ReadFile(filepath.Join(to, filepath.FromSlash(strings.TrimSuffix(strings.TrimPrefix(file, "content/"), ".md")+".html")))
	if err != nil {
		return ""
	}
	return pageOf(b)
}

func pageOf(page []byte) string {
	_, rest, _ := bytes.Cut(page, []byte("\n"))
	if m := ofDevice.FindSubmatch(rest); m != nil {
		return string(m[1])
	}
	return ""
}

// Where the word about a stale page stands, and how it begins.
const (
	mainBegins  = "<main id=\"main\">\n"
	staleBegins = `<div class="note-stale" role="note">`
)

// stale adds the pages of notes that are left: as they were, or as a word that
// they are not there.
func (s *stream) stale(mistakes problem.List) error {
	was, err := published.ReadManifest(os.DirFS(s.to))
	if err != nil {
		return err
	}
	made := map[string]bool{}
	for _, o := range s.out {
		made[o.Name] = true
	}
	add := func(name string, b []byte) error {
		o, err := s.put(name, b)
		made[name] = true
		s.add(o)
		return err
	}
	of := map[string]string{} // the device of a note with a mistake
	for _, m := range mistakes {
		if _, ok := of[m.File]; !ok {
			of[m.File] = s.deviceOf(m.File)
		}
	}
	today := time.Now().Format("2006-01-02")
	why := func(file, device string) string {
		var b strings.Builder
		b.WriteString("<details><summary>What is wrong</summary><ul>")
		for _, m := range mistakes {
			if m.File == file || device != "" && (strings.HasPrefix(m.File, "content/blocks/") || of[m.File] == device) {
				b.WriteString("<li>" + html.EscapeString(m.String()) + "</li>")
			}
		}
		b.WriteString("</ul></details>")
		return b.String()
	}
	for _, name := range slices.Sorted(maps.Keys(was)) {
		if made[name] || path.Ext(name) != ".html" || was[name].Kept {
			continue
		}
		b, err := os.ReadFile(filepath.Join(s.to, filepath.FromSlash(name)))
		if err != nil {
			continue // it is gone; there is nothing to keep
		}
		file, device := "content/"+strings.TrimSuffix(name, ".html")+".md", pageOf(b)
		if !s.left.Files[file] && !s.left.Has(device) {
			continue
		}
		if !bytes.Contains(b, []byte(staleBegins)) {
			word := staleBegins + "<p><strong>Not up to date.</strong> Since " + today + " a note that this page rests on holds a mistake, so it stands here as it was last published; what was changed since is not in it.</p>" + why(file, device) + "</div>\n"
			b = bytes.Replace(b, []byte(mainBegins), []byte(mainBegins+word), 1)
		}
		if err := add(name, b); err != nil {
			return err
		}
	}
	for _, file := range slices.Sorted(maps.Keys(s.left.Files)) {
		address := strings.TrimSuffix(strings.TrimPrefix(file, "content/"), ".md") + ".html"
		if made[address] || path.Ext(file) != ".md" {
			continue
		}
		v := missing{Name: strings.TrimSuffix(path.Base(file), ".md")}
		for _, m := range mistakes {
			if m.File == file || of[m.File] == v.Name {
				v.Why = append(v.Why, m.String())
			}
		}
		p := page.Page{Kind: "missing", Address: address, Title: v.Name, Template: "missing", View: v}
		b, err := frame(nil, s.pages, p, around(s.shop.Set, p, ""))
		if err != nil {
			return fmt.Errorf("%s: %w", address, err)
		}
		if err := add(address, b); err != nil {
			return err
		}
	}
	return nil
}

// missing is what stands in place of a page that cannot be made.
type missing struct {
	Name string
	Why  []string
}

// deviceOf is the device that a note with a mistake is about.
func (s *stream) deviceOf(file string) string {
	if path.Dir(file) == "content/devices" {
		return strings.TrimSuffix(path.Base(file), ".md")
	}
	if d := s.whosePage(file); d != "" {
		return d
	}
	if len(s.left.Devices) == 1 {
		return s.left.Devices[0]
	}
	return ""
}
