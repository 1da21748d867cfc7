// Package site publishes the shop. It reads the notes of some devices at a time, checks
// them, computes every number, renders their pages, and writes what has changed beside the
// site; what was made before of the same things is taken over (stream.go). A mistake in a
// note stops it before anything is written, and the old site stays.
package site

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"faultleaf/calc/all"
	"faultleaf/internal/note"
	"faultleaf/internal/site/blockpage"
	"faultleaf/internal/site/calcpage"
	"faultleaf/internal/site/checkpage"
	"faultleaf/internal/site/counterpage"
	"faultleaf/internal/site/coverpage"
	"faultleaf/internal/site/devicepage"
	"faultleaf/internal/site/faultpage"
	"faultleaf/internal/site/figurepage"
	"faultleaf/internal/site/findpage"
	"faultleaf/internal/site/jobpage"
	"faultleaf/internal/site/newpage"
	"faultleaf/internal/site/openpage"
	"faultleaf/internal/site/page"
	"faultleaf/internal/site/plainpage"
	"faultleaf/internal/site/sheetpage"
	"faultleaf/internal/site/startpage"
	"faultleaf/internal/site/unwrittenpage"
	"faultleaf/internal/site/writingpage"
	"faultleaf/search"
)

// kinds is the one list of page kinds.
var kinds = []page.Kind{
	startpage.Kind,
	devicepage.Kind,
	sheetpage.Kind,
	openpage.Kind,
	faultpage.Kind,
	blockpage.Kind,
	unwrittenpage.Kind,
	checkpage.Kind,
	counterpage.Kind,
	counterpage.Job,
	jobpage.Kind,
	figurepage.Kind,
	coverpage.Kind,
	findpage.Kind,
	newpage.Kind,
	plainpage.Kind,
	writingpage.Kind,
	calcpage.Kind,
}

// Files are a finished site: path to content.
type Files map[string][]byte

// Pages makes all pages of a checked set, in the order of the kinds, and the
// documents for the search.
func Pages(set *note.Set) ([]page.Page, []search.Document, error) {
	shop := page.NewShop(set, all.At(set.Shop.Values()))
	var pages []page.Page
	var docs []search.Document
	var sheets []string
	for _, j := range set.Jobs {
		sheets = append(sheets, j.ID)
	}
	old := jobpage.Old(sheets)
	for _, k := range kinds {
		ps, err := whole(k, shop)
		if err != nil {
			return nil, nil, fmt.Errorf("the %s pages cannot be made: %w", k.Name, err)
		}
		for _, p := range ps {
			p.Kind = k.Name
			if p.Template != "" { // else it is only found, at a place on another page
				pages = append(pages, p)
			}
			if p.Found != nil && !old[p.Found.ID] {
				docs = append(docs, *p.Found)
			}
		}
	}
	return pages, docs, nil
}

// whole are all pages of a kind.
func whole(k page.Kind, s *page.Shop) ([]page.Page, error) {
	var out []page.Page
	if k.Of != nil {
		for _, d := range s.Devices {
			pages, err := k.Of(s, d)
			if err != nil {
				return nil, err
			}
			out = append(out, pages...)
		}
	}
	if k.Pages != nil {
		pages, err := k.Pages(s)
		if err != nil {
			return nil, err
		}
		out = append(out, pages...)
	}
	if k.Lists != nil {
		var rows [][]byte
		for _, d := range s.Devices {
			rows = append(rows, k.Row(s, d))
		}
		pages, err := k.Lists(s, rows)
		if err != nil {
			return nil, err
		}
		out = append(out, pages...)
	}
	return out, nil
}

// apart refuses a folder for the site that lies among the notes: the next
// reading of the notes would meet pages.
func apart(dir, to string) error {
	notes, err := real(filepath.Join(dir, "content"))
	if err != nil {
		return nil // there are none; reading them says so
	}
	site, err := real(to)
	if err != nil {
		return err
	}
	if in, err := filepath.Rel(notes, site); err == nil && filepath.IsLocal(in) {
		return fmt.Errorf("the site cannot be written to %s: that is among the notes; choose another folder with --to", to)
	}
	return nil
}

// real is where a path leads, links followed; of a folder that is not there
// yet, where it would be.
func real(p string) (string, error) {
	p, err := filepath.Abs(p)
	if err != nil {
		return "", err
	}
	at, err := filepath.EvalSymlinks(p)
	if err == nil || !errors.Is(err, fs.ErrNotExist) || filepath.Dir(p) == p {
		return at, err
	}
	up, err := real(filepath.Dir(p))
	return filepath.Join(up, filepath.Base(p)), err
}
