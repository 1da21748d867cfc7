// Package findpage is the page of results: the search box and a long list below
// it. The script fills it; the query, the device and the kind stand in its
// address.
package findpage

import "faultleaf/internal/site/page"

// Kind is the page of results.
var Kind = page.Kind{Name: "find", Pages: func(s *page.Shop) ([]page.Page, error) {
	return []page.Page{{Address: Address, Title: "Search", Template: "results", View: struct{ Root, Hint string }{page.Root(Address), page.SearchHint(s.Set)}}}, nil
}}

// Address of the page.
const Address = "find.html"
