package calcpage

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/all"
	"faultleaf/calc/sources"
)

// Every figure of a method page cites documents of the list, and every citation
// in it can be found.
func TestMethodPagesCite(t *testing.T) {
	for _, c := range all.Calculators {
		for _, text := range bracketsOf(c) {
			if _, err := sources.Cite(text); err != nil {
				t.Errorf("%s: [%s]: %v", c.Name, text, err)
			}
		}
		for _, item := range calc.ParseDoc(c.Doc).Sources {
			if !bracketed.MatchString(item) && !strings.Contains(item, "no figure") {
				t.Errorf("%s: %q cites no source", c.Name, item)
			}
		}
	}
}

var domain = regexp.MustCompile(`(?i)\b[a-z0-9-]+\.(com|net|org|info|de|ru|dk|ch|uk|au|ie|is|io|tech|edu|pl|fr|cz)\b`)

var plainDomain = regexp.MustCompile(`\b[a-z0-9-]+\.(com|net|org|info|edu)\b`)

// A document is described on the list alone: rooms, their cases and their method
// pages name no site.
func TestNoSitesBesideTheList(t *testing.T) {
	for _, pattern := range []string{"/*/*.go", "/*/*/*.go", "/*/*/testdata/cases.txt"} {
		files, _ := filepath.Glob(calcFolder + pattern)
		if len(files) == 0 {
			t.Fatal("no rooms found")
		}
		for _, f := range files {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			sites := domain
			if strings.HasSuffix(f, ".go") && !strings.HasSuffix(f, "/doc.go") {
				sites = plainDomain // e.is is code
			}
			for _, site := range sites.FindAllString(string(text), -1) {
				if site == "w3.org" || site == "github.com" {
					continue // a drawing's language, an import
				}
				t.Errorf("%s names %s; it belongs on the list of sources, under at", f, site)
			}
		}
	}
}

// Every document of the list is used, or it says what it is kept for.
func TestEverySourceIsUsed(t *testing.T) {
	var used strings.Builder
	for _, r := range records(all.Calculators) {
		for _, text := range r.citations {
			used.WriteString("\n" + text + " ")
		}
	}
	for _, c := range all.Calculators {
		for _, text := range bracketsOf(c) {
			used.WriteString("\n" + text + " ")
		}
	}
	notes, _ := filepath.Glob("../../../content/*/*.md")
	for _, f := range notes {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range strings.Split(string(text), "](source:")[1:] {
			id, _, _ := strings.Cut(part, ")")
			used.WriteString("\n" + id + " ")
		}
	}
	for _, s := range sources.All {
		if !strings.Contains(used.String(), "\n"+s.ID+" ") && !strings.Contains(used.String(), "\n"+s.ID+";") && !strings.Contains(used.String(), "\n"+s.ID+",") {
			t.Errorf("%s is used nowhere", s.ID)
		}
	}
}
