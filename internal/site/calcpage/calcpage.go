// Package calcpage is the reference page of a calculator: the form filled with
// the worked example's defaults, its results, and everything a reader needs to
// trust them.
package calcpage

import (
	"html/template"

	"faultleaf/calc"
	"faultleaf/internal/site/page"
	"faultleaf/search"
	"strings"
)

// Kind is the calculators' pages, their list, and what they and the notes cite.
var Kind = page.Listed(page.Kind{Name: "calculator", Pages: pages, Blocks: true}, rowOf, list)

type view struct {
	Name, Title, For, Shelf, Checks, ExampleSays, ExampleAddress string
	Cautions                                                     []page.Signal
	Form                                                         page.Form
	Rests                                                        string
	Method, Holds, Misleads, Disagree, Sources                   [][]piece
	MathML                                                       template.HTML
	Example                                                      []calc.Setting
}

type shelves struct{ Shelves []page.Shelf }

func pages(s *page.Shop) ([]page.Page, error) {
	records := records(s.Calculators)
	out := []page.Page{{Address: "calc/index.html", Title: "Calculators", Template: "shelves", View: shelves{s.Shelves("calc/index.html")}}, checked(records)}
	recorded := map[string]record{}
	for _, r := range records {
		recorded[r.Name] = r
	}
	for _, c := range s.Calculators {
		p, err := one(c, recorded[c.Name])
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

func one(c *calc.Calculator, checks record) (page.Page, error) {
	address := "calc/" + c.Name + ".html"
	r, err := c.Run(nil)
	if err != nil { // with the shop's uncommon mains its other defaults make no sense together
		r, err = c.Run(c.Example.Inputs)
	}
	if err != nil {
		return page.Page{}, err
	}
	form, err := page.NewForm(r, calc.Link{Calculator: c.Name}, page.Root(address), "")
	if err != nil {
		return page.Page{}, err
	}
	t := calc.ParseDoc(c.Doc)
	v := view{Name: c.Name, Checks: checks.Checks, Rests: checks.Rests, Title: c.Title, For: c.For, Shelf: string(c.Shelf), Cautions: page.Signals(c.Cautions), Form: form, Method: allPieces(t.Method), Holds: allPieces(t.Holds),
		Misleads: allPieces(t.Misleads), Disagree: allPieces(t.Disagree), Sources: allPieces(t.Sources), MathML: template.HTML(c.MathML), ExampleSays: c.Example.Says}
	toForm := calc.Link{Calculator: c.Name}
	reading := false
	for _, in := range c.Example.Inputs {
		if d, ok := c.Input(in.Name); ok {
			v.Example = append(v.Example, calc.Setting{Name: d.Label, Value: in.Value})
			reading = reading || d.Measured
			if !d.Measured {
				toForm.Inputs = append(toForm.Inputs, in) // a reading is taken, not copied
			}
		}
	}
	v.ExampleAddress = page.NumberAddress(page.Root(address), toForm)
	for _, o := range c.Example.Prints {
		// an example shows what is computed, and judges no device
		if d, ok := c.Output(o.Name); ok && !(reading && d.Kind == "") {
			v.Example = append(v.Example, calc.Setting{Name: d.Label, Value: o.Value})
		}
	}
	text := c.For + " " + strings.Join(t.Method, " ") + " " + strings.Join(t.Misleads, " ")
	return page.Page{Address: address, Title: c.Title, Template: "calculator", View: v,
		Found: &search.Document{ID: "calc/" + c.Name, Kind: "calculator", Title: c.Title, Address: address, Cause: strings.ReplaceAll(c.Name, "-", " "), Text: text}}, nil
}
