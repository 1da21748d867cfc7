// Package newpage is the page "What is new": which notes changed lately, and
// why, as the shop's commits say.
package newpage

import (
	"maps"

	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the page; a shop without commits has none.
var Kind = page.Listed(page.Kind{Name: "new", Dated: true}, rowOf, pages)

// row are the notes of a device, by file.
type row map[string]page.Item

func rowOf(s *page.Shop, d *note.Device) row {
	r := row{}
	r.add(&d.Document)
	for _, f := range s.FaultsOf(d.Name) {
		r.add(&f.Document)
	}
	for _, j := range s.JobsOf(d.Name) {
		r.add(&j.Document)
	}
	return r
}

func (r row) add(d *note.Document) { r[d.File] = page.Item{Address: d.Address(), Title: d.Title} }

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

func pages(s *page.Shop, rows []row) ([]page.Page, error) {
	if len(s.Past.Changes) == 0 {
		return nil, nil
	}
	notes := row{}
	for _, d := range s.Documents() {
		notes.add(d)
	}
	for _, r := range rows {
		maps.Copy(notes, r)
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
