// Package openpage is how a device is opened, step by step: a checklist made of its
// note's access:, one part for each opening, with the hidden screws and catches of
// the kind.
package openpage

import (
	"html"
	"html/template"
	"strconv"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
)

// Kind is the openings of a device.
var Kind = page.Kind{Name: "opening", Of: func(s *page.Shop, d *note.Device) ([]page.Page, error) {
	if !Has(d) {
		return nil, nil
	}
	return []page.Page{one(d)}, nil
}}

// view is what the template of a checklist asks for.
type view struct {
	ID, Title, When, Count, Minutes string
	Of                              *page.Item // the device
	Cautions                        []page.Signal
	Body                            template.HTML
}

// Address is where a device's openings lie.
func Address(device string) string { return "opening/" + device + ".html" }

// Has tells whether a device is opened at all here.
func Has(d *note.Device) bool {
	for i := range d.Access {
		if d.Access[i].Forbidden == "" {
			return true
		}
	}
	return false
}

func one(d *note.Device) page.Page {
	v := view{ID: "opening-" + d.Name, Title: "Opening it: " + trace.InSentence(d.Title), Of: &page.Item{Address: page.Root(Address(d.Name)) + d.Address(), Title: trace.InSentence(d.Title)}}
	v.Cautions = page.Signals([]calc.Caution{{Signal: calc.Warning, Text: "Unplug, battery out, and let it cool. What holds a charge is discharged through a resistor and read again, before a hand goes in."}})
	var b strings.Builder
	n, minutes := 0, 0.0
	list := func(id string, steps []string) {
		b.WriteString("<ol class=\"task\">\n")
		for i, step := range steps {
			n++
			tick := id + "-" + strconv.Itoa(i+1)
			says := html.EscapeString(strings.TrimSuffix(step, "."))
			b.WriteString(`<li><input type="checkbox" id="step-` + tick + `" data-tick="` + tick + `" aria-label="` + says + `"> ` + says + ".</li>\n")
		}
		b.WriteString("</ol>\n")
	}
	for i := range d.Access {
		a := &d.Access[i]
		b.WriteString("<h2 id=\"" + string(a.ID) + "\">" + html.EscapeString(strings.TrimSuffix(a.Does, ".")) + "</h2>\n")
		if a.Forbidden != "" {
			b.WriteString("<p>Not for this shop: " + html.EscapeString(a.Forbidden) + ".</p>\n")
			continue
		}
		facts := "Opening takes " + quantity.Minutes(a.Minutes) + ", closing " + quantity.Minutes(a.Undo) + "."
		if in := first(d, a.Inside); in != nil {
			facts = "First: " + trace.InSentence(strings.TrimSuffix(in.Does, ".")) + ". " + facts
		}
		b.WriteString(`<p class="small">` + html.EscapeString(facts) + "</p>\n")
		minutes += a.Minutes
		steps := d.Steps[a.ID]
		if len(steps) == 0 {
			steps = []string{a.Does}
		}
		list(string(a.ID), steps)
	}
	b.WriteString("<p class=\"small\">How these things are put together is common practice, no source; makes differ. What does not move is held by a screw not yet found: look below feet, labels, caps and pads before force is used.</p>\n")
	v.Body, v.Count, v.Minutes = template.HTML(b.String()), page.Count(n, "step", "steps"), quantity.Minutes(minutes)
	return page.Page{Address: Address(d.Name), Title: v.Title, Template: "checklist", View: v}
}

// first is the access that has to be open before; nil for none.
func first(d *note.Device, id trace.AccessID) *trace.Access {
	for i := range d.Access {
		if id != "" && d.Access[i].ID == id {
			return &d.Access[i]
		}
	}
	return nil
}
