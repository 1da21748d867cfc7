// Package startpage is the first page: the search box, then what is on the
// bench. On the first screen: the search and the devices.
package startpage

import (
	"html/template"
	"slices"
	"sort"
	"strings"

	"faultleaf/calc/draw/circuit"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/calc/trace/drawn"
	"faultleaf/internal/note"
	"faultleaf/internal/site/blockpage"
	"faultleaf/internal/site/coverpage"
	"faultleaf/internal/site/page"
	"faultleaf/internal/site/unwrittenpage"
	"faultleaf/internal/site/writingpage"
)

// Kind is the start page.
var Kind = page.Listed(page.Kind{Name: "start"}, rowOf, pages)

type view struct {
	Name               string
	Families           []family
	Many               bool // devices, so that a telephone folds their families
	Checklists, Lately []page.Item
	Pages              []page.Item
	Shelves            []page.Shelf
	Unwritten          string        // address of the page that traces what is not among them
	Sprite             template.HTML // the symbols of the chains
	Root, Hint         string        // for the search box, as in the frame; no root on this page
}

// family is a heading with its devices.
type family struct {
	Name    string
	Devices []device
}

type device struct {
	Address, Title, Faults, Jobs string
	Common                       page.Item     // the fault met most
	Chain                        template.HTML // in small, darker where faults are met most
}

// into puts a device under its family; families stand in the order in which
// they are met, those without a name last.
func (v *view) into(name string, d device) {
	for i := range v.Families {
		if v.Families[i].Name == name {
			v.Families[i].Devices = append(v.Families[i].Devices, d)
			return
		}
	}
	v.Families = append(v.Families, family{name, []device{d}})
}

// most is the cause that was met more often than any other, nil where there is none.
func most(causes []trace.Cause) (first *trace.Cause) {
	met, next := 0.0, 0.0
	for i := range causes {
		if c := &causes[i]; c.Seen+c.Jobs > met {
			first, met, next = c, c.Seen+c.Jobs, met
		} else {
			next = max(next, c.Seen+c.Jobs)
		}
	}
	if met == next {
		return nil
	}
	return first
}

// row is what the page shows of a device.
type row struct {
	Family string
	Device device
	Mini   circuit.Mini // none of a draft
	Lately []page.Sheet
}

// lately is how many sheets the page names.
const lately = 6

func rowOf(s *page.Shop, d *note.Device) row {
	t := s.Traced(d.Name)
	r := row{Family: d.Family, Device: device{Address: d.Address(), Title: d.Title, Faults: page.Count(len(t.Causes), "fault", "faults"),
		Jobs: page.Count(len(s.JobsOf(d.Name)), "job sheet", "job sheets")}, Lately: s.LastSheets("index.html", s.JobsOf(d.Name), lately)}
	if d.Draft {
		r.Device.Faults, r.Device.Jobs = "a draft: something is still to be filled in", ""
		return r
	}
	met := *t
	met.Causes = append(t.Causes[:0:0], t.Causes...)
	if s.Shop.Invented {
		for i := range met.Causes {
			met.Causes[i].Jobs = 0
		}
	}
	if c := most(met.Causes); c != nil {
		r.Device.Common = page.Item{Address: c.Address, Title: trace.InSentence(c.Title)}
	}
	var rest trace.Advice
	rest.Chances, rest.Unknown = trace.Chances(&met, trace.Evidence{})
	r.Mini = drawn.Mini(t, rest, "")
	r.Device.Chain = template.HTML(r.Mini.SVG())
	return r
}

func pages(s *page.Shop, rows []row) ([]page.Page, error) {
	v := view{Name: s.Shop.Name, Hint: page.SearchHint(s.Set), Shelves: s.Shelves("index.html")}
	var chains []circuit.Mini
	var sheets []page.Sheet
	for _, r := range rows {
		v.into(r.Family, r.Device)
		sheets = append(sheets, r.Lately...)
		if r.Mini != nil {
			chains = append(chains, r.Mini)
		}
	}
	for _, f := range v.Families {
		slices.SortStableFunc(f.Devices, func(a, b device) int { return page.ByTitle(a.Title, b.Title) })
	}
	v.Many = len(rows) > 12
	v.Sprite = template.HTML(circuit.Sprite(chains...))
	sort.SliceStable(v.Families, func(i, j int) bool { return v.Families[i].Name != "" && v.Families[j].Name == "" })
	if n := len(v.Families); n > 1 && v.Families[n-1].Name == "" {
		v.Families[n-1].Name = "Others"
	}
	for _, c := range s.Checklists {
		about := c.When
		if c.Minutes > 0 {
			about = strings.TrimSuffix("About "+quantity.Minutes(c.Minutes)+". "+c.When, ". ")
		}
		v.Checklists = append(v.Checklists, page.Item{Address: c.Address(), Title: c.Title, Note: about})
	}
	v.Lately = page.Latest(sheets, lately)
	if len(s.Blocks) > 0 {
		v.Unwritten = unwrittenpage.Address
		v.Pages = append(v.Pages, page.Item{Address: blockpage.Address, Title: "Common blocks: what many devices are made of"})
	}
	if len(s.Complaints) > 0 {
		v.Pages = append(v.Pages, page.Item{Address: coverpage.Address, Title: "What is answered, by device and complaint"})
	}
	for _, p := range s.Set.Pages {
		v.Pages = append(v.Pages, page.Item{Address: p.Address(), Title: p.Title})
	}
	v.Pages = append(v.Pages, page.Item{Address: writingpage.Address, Title: writingpage.Title + ": every key, with examples"})
	return []page.Page{{Address: "index.html", Title: s.Shop.Name, Template: "start", View: v}}, nil
}
