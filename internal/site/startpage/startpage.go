// Package startpage is the first page: the search box, then what is on the
// bench. On the first screen: the search and the devices.
package startpage

import (
	"faultleaf/internal/site/page"
	"sort"
)

// Kind is the start page.
var Kind = page.Kind{Name: "start", Pages: pages}

type view struct {
	Name               string
	Devices            []device
	Checklists, Lately []page.Item
	Pages              []page.Item
	Shelves            []page.Shelf
	Root               string // for the search box, as in the frame; "" on this page
}

type device struct {
	Address, Title, Faults, Jobs string
	Common                       []page.Item // the faults met most
}

func pages(s *page.Shop) ([]page.Page, error) {
	v := view{Name: s.Shop.Name, Shelves: s.Shelves("index.html")}
	for _, d := range s.Devices {
		t := s.Traced(d.Name)
		dv := device{Address: d.Address(), Title: d.Title, Faults: page.Count(len(t.Causes), "fault", "faults"),
			Jobs: page.Count(len(s.JobsOf(d.Name)), "job sheet", "job sheets")}
		causes := append(t.Causes[:0:0], t.Causes...)
		sort.SliceStable(causes, func(i, j int) bool { return causes[i].Seen+causes[i].Jobs > causes[j].Seen+causes[j].Jobs })
		for _, c := range causes[:min(3, len(causes))] {
			dv.Common = append(dv.Common, page.Item{Address: c.Address, Title: c.Title})
		}
		v.Devices = append(v.Devices, dv)
	}
	for _, c := range s.Checklists {
		v.Checklists = append(v.Checklists, page.Item{Address: c.Address(), Title: c.Title, Note: c.When})
	}
	for _, j := range s.Latest(6) {
		v.Lately = append(v.Lately, s.JobItem("index.html", j))
	}
	for _, p := range s.Set.Pages {
		v.Pages = append(v.Pages, page.Item{Address: p.Address(), Title: p.Title})
	}
	return []page.Page{{Address: "index.html", Title: s.Shop.Name, Template: "start", View: v}}, nil
}
