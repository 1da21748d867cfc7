package site

import (
	"regexp"
	"slices"
	"testing"

	"faultleaf/internal/note"
	"faultleaf/templates"
)

// TestPlaces: what the reader of notes knows of the places on a page is what the
// page's template has.
func TestPlaces(t *testing.T) {
	id := regexp.MustCompile(`\sid="([a-z-]+)"`)
	for kind, want := range note.Places {
		name := string(kind) + ".html"
		if kind == note.KindPage {
			name = "lists.html"
		}
		b, err := templates.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var has []string
		if kind != note.KindPage {
			for _, m := range id.FindAllSubmatch(b, -1) {
				has = append(has, string(m[1]))
			}
		}
		slices.Sort(has)
		slices.Sort(want)
		if !slices.Equal(has, want) {
			t.Errorf("the %s page has the places %v, and notes may link to %v", kind, has, want)
		}
	}
}
