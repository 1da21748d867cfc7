package calcpage

import (
	_ "embed"
	"strings"

	"faultleaf/calc"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// checkedText is the record of the outside checks: a paragraph for each
// calculator with its name, how many published values agreed, and the sources.
// The test of this package runs the checks and compares; UPDATE_GOLDEN=1 writes
// it anew.
//
//go:embed checked.txt
var checkedText string

// record is the outside checks of one calculator.
type record struct {
	Name, Title, Checks string
	Sources             []string
}

type checkedView struct{ Records []record }

// records reads the text for the calculators that there are.
func records(all []*calc.Calculator) []record {
	titles := map[string]string{}
	for _, c := range all {
		titles[c.Name] = c.Title
	}
	var out []record
	for _, part := range strings.Split(strings.TrimSpace(checkedText), "\n\n") {
		lines := strings.Split(part, "\n")
		name, checks, ok := strings.Cut(lines[0], ": ")
		if title := titles[name]; ok && title != "" {
			r := record{Name: name, Title: title, Checks: checks}
			for _, l := range lines[1:] {
				r.Sources = append(r.Sources, strings.TrimPrefix(l, "- "))
			}
			out = append(out, r)
		}
	}
	return out
}

// checked is the page that lists them.
func checked(all []*calc.Calculator) page.Page {
	const address = "calc/checked.html"
	return page.Page{Address: address, Title: "How the numbers are checked", Template: "checked", View: checkedView{records(all)},
		Found: &search.Document{ID: "calc/checked", Kind: "page", Title: "How the numbers are checked", Address: address, Text: "Published values, handbooks and standards that every calculator is checked against."}}
}
