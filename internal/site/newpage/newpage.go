// Package newpage is the page "What is new": which notes changed lately, and
// why, as the shop's commits say.
package newpage

import (
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the page; a shop without commits has none.
var Kind = page.Kind{Name: "new", Pages: pages}

// Address of the page.
const Address = "new.html"

const (
	mostChanges = 40
	mostNotes   = 4 // named of one change
)

type view struct{ Days []day }

type day struct {
	Date    string
	Changes []change
}

type change struct {
	Why   string
	Notes []page.Item
	More  string // "and 12 more"
}

func pages(s *page.Shop) ([]page.Page, error) {
	notes := map[string]page.Item{}
	for _, d := range s.Documents() {
		notes[d.File] = page.Item{Address: d.Address(), Title: d.Title}
	}
	var v view
	shown := 0
	for _, c := range s.Past.Changes {
		ch := change{Why: c.Says()}
		more := 0
		for _, file := range c.Did {
			item, ok := notes[file]
			switch {
			case !ok: // moved or gone since
			case len(ch.Notes) < mostNotes:
				ch.Notes = append(ch.Notes, item)
			default:
				more++
			}
		}
		if len(ch.Notes) == 0 {
			continue
		}
		if more > 0 {
			ch.More = "and " + page.Count(more, "other note", "other notes")
		}
		if n := len(v.Days); n == 0 || v.Days[n-1].Date != c.Day() {
			v.Days = append(v.Days, day{Date: c.Day()})
		}
		last := &v.Days[len(v.Days)-1]
		last.Changes = append(last.Changes, ch)
		if shown++; shown == mostChanges {
			break
		}
	}
	if shown == 0 {
		return nil, nil
	}
	return []page.Page{{Address: Address, Title: "What is new", Template: "new", View: v,
		Found: &search.Document{ID: "new", Kind: "page", Title: "What is new", Address: Address, Text: "recent changes of the notes"}}}, nil
}
