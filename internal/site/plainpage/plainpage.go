// Package plainpage is a page of plain text from content/pages.
package plainpage

import (
	"html/template"

	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the plain page.
var Kind = page.Kind{Name: "page", Pages: pages}

type view struct {
	Title string
	Body  template.HTML
}

func pages(s *page.Shop) ([]page.Page, error) {
	var out []page.Page
	for _, p := range s.Set.Pages {
		body, err := s.Body(&p.Document, p.Address())
		if err != nil {
			return nil, err
		}
		out = append(out, page.Page{Address: p.Address(), Title: p.Title, Template: "plain", View: view{p.Title, body},
			Found: &search.Document{ID: p.ID, Kind: "page", Title: p.Title, Address: p.Address(), Text: p.Plain(),
				Names: page.Weighted(p.Also), Shut: p.Shut}})
	}
	return out, nil
}
