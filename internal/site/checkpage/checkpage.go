// Package checkpage is the page of a checklist: hazards first, then steps to
// tick. On paper the boxes stay empty.
package checkpage

import (
	"html/template"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the checklist's page.
var Kind = page.Kind{Name: "checklist", Pages: pages}

type view struct {
	ID, Title, When, Count string
	Minutes                string     // about how long it takes; "" if the note does not say
	Of                     *page.Item // the device that it is about, nil for all
	Cautions               []page.Signal
	Body                   template.HTML
}

func pages(s *page.Shop) ([]page.Page, error) {
	var out []page.Page
	for _, c := range s.Checklists {
		body, err := s.Body(&c.Document, c.Address())
		if err != nil {
			return nil, err
		}
		v := view{ID: c.Name, Title: c.Title, When: c.When, Count: page.Count(len(c.Steps), "step", "steps"), Body: body}
		if c.Minutes > 0 {
			v.Minutes = quantity.Minutes(c.Minutes)
		}
		for _, h := range c.Hazards {
			v.Cautions = append(v.Cautions, page.Signals([]calc.Caution{calc.ReadCaution(h, calc.Warning)})...)
		}
		out = append(out, page.Page{Address: c.Address(), Title: c.Title, Template: "checklist", View: v,
			Found: &search.Document{ID: c.ID, Kind: "checklist", Title: c.Title, Address: c.Address(), Cause: c.When, Text: c.Plain(),
				Names: page.Weighted(c.Also), Complaints: page.Weighted(c.Is), Hazard: page.Hazards(c.Hazards)}})
	}
	return out, nil
}
