// Package plainpage is a page of plain text from content/pages.
package plainpage

import (
	"html/template"

	"faultleaf/calc"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the plain page.
var Kind = page.Kind{Name: "page", Pages: pages}

type view struct {
	Title    string
	Cautions []page.Signal
	Body     template.HTML
}

func pages(s *page.Shop) ([]page.Page, error) {
	var out []page.Page
	for _, p := range s.Set.Pages {
		body, err := s.Body(&p.Document, p.Address())
		if err != nil {
			return nil, err
		}
		v := view{Title: p.Title, Body: body}
		for _, h := range p.Hazards {
			v.Cautions = append(v.Cautions, page.SignalOf(calc.ReadCaution(h, calc.Danger)))
		}
		out = append(out, page.Page{Address: p.Address(), Title: p.Title, Template: "plain", View: v,
			Found: &search.Document{ID: p.ID, Kind: "page", Title: p.Title, Address: p.Address(), Text: p.Plain(),
				Names: page.Weighted(p.Also), Shut: p.Shut, Hazard: page.Hazards(p.Hazards)}})
	}
	return out, nil
}
