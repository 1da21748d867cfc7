package site

import (
	"strings"

	"faultleaf/internal/host"
	"faultleaf/internal/note"
	"faultleaf/internal/press"
	"faultleaf/internal/site/page"
)

// surround is what stands round the main part of a page.
type surround struct {
	Root, ShopID, ShopName, ShopAddress string
	Kind, Shelf, Title, Device, Policy  string
	File, Changed, Hint, Logo, Footer   string
	Standing                            standing
	New                                 bool // there is a page of what is new
}

// around tells what stands round a page; file is the note that it was made from, ""
// where there is none.
func around(set *note.Set, p page.Page, file string) surround {
	// frame-ancestors works as a header only
	policy, _, _ := strings.Cut(host.Policy, "; frame-ancestors")
	return surround{
		Root: page.Root(p.Address), ShopID: set.Shop.ID, ShopName: set.Shop.Name, ShopAddress: set.Shop.Address,
		Kind: p.Kind, Shelf: shelf(p.Address), Title: p.Title, Device: device(p), Policy: policy,
		File: file, Standing: standingOf(set, p, file), Changed: changed(set, file), New: len(set.Past.Changes) > 0,
		Hint: page.SearchHint(set), Logo: set.Shop.Logo, Footer: set.Shop.Footer,
	}
}

// frame appends a page in its frame.
func frame(b []byte, t *press.Press, p page.Page, a surround) ([]byte, error) {
	for _, part := range []struct {
		name string
		view any
	}{{"head", a}, {p.Template, p.View}, {"foot", a}} {
		var err error
		if b, err = t.Append(b, part.name, part.view); err != nil {
			return b, err
		}
	}
	return b, nil
}

// shelf is the part of the site that a page stands in, as the frame marks it.
func shelf(address string) string {
	switch first, _, _ := strings.Cut(address, "/"); first {
	case "devices", "faults", "blocks", "sheets", "opening":
		return "devices"
	case "checklists", "calc", "jobs":
		return first
	}
	return ""
}

// standing is how far a note may be relied on.
type standing struct {
	Draft   bool
	Asked   bool   // it is a note that somebody may check
	Checked string // by whom
}

// standingOf looks up the note that a page shows, and the one that it was made
// from.
func standingOf(set *note.Set, p page.Page, file string) (s standing) {
	if d, ok := set.Note("content/" + strings.TrimSuffix(p.Address, ".html") + ".md"); ok {
		s.Draft = d.Draft
	}
	if d, ok := set.Note(file); ok {
		s.Draft = s.Draft || d.Draft
		s.Asked = d.Kind != note.KindJob
		s.Checked = strings.Join(d.Checked, ", ")
	}
	return s
}

// changed says when a note last changed and why, "" where nobody knows.
func changed(set *note.Set, file string) string {
	c, ok := set.Past.Of(file)
	if !ok {
		return ""
	}
	return c.Day() + ": " + c.Says()
}

// device is the name of the device that a page is about, or "".
func device(p page.Page) string {
	if p.Found == nil {
		return ""
	}
	return p.Found.Device
}
