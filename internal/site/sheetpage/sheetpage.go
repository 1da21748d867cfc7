// Package sheetpage is a device's reading sheet: one page of A4 with its chain,
// every test with what it should read, a blank for what it read, and the proofs
// before it goes back. It stands on the bench where no screen does.
package sheetpage

import (
	"html/template"
	"slices"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/draw/circuit"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/calc/trace/drawn"
	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
)

// Kind is the reading sheet.
var Kind = page.Kind{Name: "sheet", Of: func(s *page.Shop, d *note.Device) ([]page.Page, error) {
	p, err := one(s, d)
	return []page.Page{p}, err
}}

type view struct {
	Title, Name, Device string // Name is the title within a sentence
	Plate               []note.Plate
	Class               string
	Chain               template.HTML
	Signals             []page.Signal // for what is taken unplugged
	Cautions            []page.Signal // of the tests, each once; rows name them by number
	Parts               []part
	Proofs              []string
	Size                string // "", "many" or "most": how much stands on the one page
}

// part is what is done with the thing in one state: as it came, opened so far,
// under power.
type part struct {
	Title, Opens string
	Rows         []row
}

type row struct {
	Ask, Probes, Good, Minutes, Unit string
	Spots                            template.HTML
	Power                            string // under which it is taken, "" for none
	Caution                          int    // its number among the cautions, 0 for none of its own
}

// Address is where a device's sheet lies.
func Address(device string) string { return "sheets/" + device + ".html" }

func one(s *page.Shop, d *note.Device) (page.Page, error) {
	t := s.Traced(d.Name)
	root := page.Root(Address(d.Name))
	v := view{Title: d.Title, Name: trace.InSentence(d.Title), Device: root + d.Address(), Plate: d.Plate, Class: d.Class}
	first, err := s.First(d.Name)
	if err != nil {
		return page.Page{}, err
	}
	rest := drawn.Chain(t, trace.Evidence{}, first, nil)
	rest.Reach, rest.Meter, rest.Room, rest.Apart = circuit.Reach{}, circuit.Meter{}, circuit.Room{}, "" // nothing is asked yet
	v.Chain = template.HTML(rest.Wide())
	v.Signals = page.Signals([]calc.Caution{{Signal: calc.Warning, Text: "Unplug before every row that does not say otherwise. The meter goes on the plug's pins, never into an outlet."}})
	if t.Class == "III" {
		v.Signals = page.Signals([]calc.Caution{{Signal: calc.Care, Text: "Battery out, or off the supply, before every row that does not say otherwise."}})
	}
	v.Parts, v.Cautions = parts(t)
	v.Size = v.size()
	needs := s.Shop.Proofs
	if needs == nil {
		needs = trace.CommonNeeds()
	}
	for _, n := range needs.For(d.Class, d.Proofs) {
		v.Proofs = append(v.Proofs, n.Says())
	}
	return page.Page{Address: Address(d.Name), Title: d.Title + ": reading sheet", Template: "sheet", View: v}, nil
}

// size is how small the sheet is printed so that it stays one page, by the letters
// on it; tried on every device of the starter.
func (v *view) size() string {
	letters := 0
	for _, p := range v.Parts {
		for _, r := range p.Rows {
			letters += len(r.Ask) + len(r.Probes) + len(r.Good) + 25
		}
	}
	for _, c := range v.Cautions {
		letters += len(c.Word) + len(c.Text)
	}
	switch {
	case letters > 4700:
		return "most"
	case letters > 3400:
		return "many"
	}
	return ""
}

// parts are the rows of each state that the thing is in, and the cautions of the
// tests, each once.
func parts(t *trace.Device) (out []part, cautions []page.Signal) {
	for _, state := range page.States(t) {
		p := part{Title: state.Title, Opens: state.Opens}
		for _, x := range state.Tests {
			r := rowOf(t, x)
			if x.Power != trace.Off && x.Power != "" {
				r.Power = x.Power.Says()
			}
			if text := strings.Trim(x.Caution, ". "); text != "" && !strings.HasSuffix(text, "Unplug") { // what stands over them all needs no number
				c := page.SignalOf(calc.ReadCaution(x.Caution, calc.Signal(x.Power.Signal())))
				if r.Caution = slices.Index(cautions, c) + 1; r.Caution == 0 {
					cautions = append(cautions, c)
					r.Caution = len(cautions)
				}
			}
			p.Rows = append(p.Rows, r)
		}
		out = append(out, p)
	}
	return out, cautions
}

func rowOf(t *trace.Device, x *trace.Test) row {
	r := row{Ask: x.Ask, Good: page.Good(x), Minutes: quantity.Minutes(x.Minutes), Unit: x.Kind.Unit(), Spots: template.HTML(drawn.Spots(t, x.Covers).SVG())}
	if x.Waits > 0 {
		r.Minutes += " + " + quantity.Minutes(x.Waits)
	}
	if len(x.Probes) == 2 {
		r.Probes = x.Probes[0].Says + " – " + x.Probes[1].Says
	}
	return r
}
