// Package faultpage is the page of one known fault. A reader comes to see
// whether this is it: on the first screen stand what it shows, how likely it is
// and what the tests read.
package faultpage

import (
	"html/template"
	"sort"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/calc/trace/drawn"
	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the fault note's page.
var Kind = page.Kind{Name: "fault", Pages: pages}

type view struct {
	Title, Device, DeviceAddress       string
	TraceAddress                       string    // the device's trace with this fault's main symptoms
	Symptoms, Seldom                   []symptom // shown often or at times; and rarely or never
	Chance, Seen, Cause, Minutes, Cost string
	Block                              string
	Wide, Pocket                       template.HTML // where it is on the chain
	Shown                              string
	Cautions                           []page.Signal
	Reads                              []read
	Body                               template.HTML
	Does, None, Needs, Takes           string
	Parts                              []part
	Because                            []string
	LastTime, Jobs                     []page.Item // the last two sheets with it, and the last twenty
	Common                             *page.Item  // the block's page, of a common fault
	Elsewhere                          string      // how sheets of other devices count
}

type symptom struct{ Says, Often string }

type read struct{ Address, Ask, Here, Healthy string }

type part struct{ Part, Count, Price string }

func pages(s *page.Shop) ([]page.Page, error) {
	return page.Each(s, s.Faults, one)
}

func one(s *page.Shop, f *note.Fault) (page.Page, error) {
	d := s.Traced(f.Device)
	c := d.Cause(trace.CauseID(f.Name))
	if f.Draft {
		c = &f.Cause // the trace does not know it
	}
	root := page.Root(f.Address())
	body, err := s.Body(&f.Document, f.Address())
	if err != nil {
		return page.Page{}, err
	}
	votes := s.Votes()[f.Name]
	before, err := s.First(f.Device, nil)
	if err != nil {
		return page.Page{}, err
	}
	v := view{Title: f.Title, Device: d.Title, DeviceAddress: root + "devices/" + f.Device + ".html", Cause: c.Says, Block: trace.Plain(string(c.Block)), Body: body,
		Does: c.Mend.Does, None: c.Mend.None, Needs: page.Opens(d, c.Mend.Needs), Because: c.Because, Minutes: quantity.Minutes(d.MendMinutes(c))}
	here := drawn.Here(d, before, c.Block)
	v.Wide, v.Pocket = template.HTML(here.Wide()), template.HTML(here.Pocket())
	if f.Draft {
		v.Chance = "not counted"
	}
	for _, ch := range before.Chances {
		if ch.ID == c.ID {
			v.Chance = quantity.Chance(ch.Chance)
		}
	}
	v.Seen = page.Met(c, votes.Here)
	if votes.Elsewhere > 0 {
		v.Seen += ", " + page.Count(int(votes.Elsewhere), "time", "times") + " on other devices"
		v.Elsewhere = "A sheet of another device counts a tenth here, and all of them together one case at most."
	}
	if f.Common != nil {
		if b, ok := s.Block(f.Common.Block); ok {
			v.Common = &page.Item{Address: root + b.Address() + "#" + f.Common.Fault, Title: trace.InSentence(b.Title)}
			if f.Common.Shared {
				v.Common.Note = "what is the same on every device stands there"
			}
		}
	}
	money := d.MendMinutes(c) / 60 * d.Shop.Rate
	for _, p := range c.Mend.Parts {
		money += float64(p.Price * p.Count)
		v.Parts = append(v.Parts, part{p.Part, quantity.Number(p.Count), s.Money(p.Price)})
	}
	if money > 0 {
		v.Cost = "about " + s.Money(money) + " with the bench's time"
	}
	switch c.Shown.Word {
	case "warm", "moved", "loaded":
		v.Shown = "It shows only when the device is " + c.Shown.Word + "; a healthy reading on a cold, still, idle one rules little out."
	case "now-and-then":
		v.Shown = "It comes and goes: a test meets it in about " + quantity.Chance(c.Shown.Chance) + " of tries."
	}
	v.Takes = page.Join(c.Takes)
	for _, often := range trace.Oftens() {
		for _, sy := range d.Symptoms {
			if c.Symptoms[sy.ID] == often {
				if x := (symptom{sy.Says, string(often)}); often == "never" || often == "rarely" {
					v.Seldom = append(v.Seldom, x)
				} else {
					v.Symptoms = append(v.Symptoms, x)
				}
			}
		}
	}
	if !f.Draft {
		v.TraceAddress = v.DeviceAddress + "#suspect=" + string(c.ID)
	}
	for _, t := range d.Tests {
		_, ok := c.Reads[t.ID]
		if !ok {
			continue
		}
		r := read{Address: v.DeviceAddress + "#test-" + string(t.ID), Ask: t.Ask}
		for _, b := range t.Reads {
			text := trace.Plain(string(b.ID))
			if b.Text != "" {
				text += ", " + b.Text
			}
			if c.States(t.ID, b.ID) {
				if r.Here != "" {
					r.Here += " or "
				}
				r.Here += text
			}
			if b.Healthy {
				r.Healthy = text
			}
		}
		if t.Power == trace.Mains || t.Power == trace.Isolated || t.Power == trace.SeriesLamp {
			v.Cautions = []page.Signal{page.SignalOf(calc.Caution{Signal: calc.Danger, Text: "A test here is done on a live device. Follow your local code; licensed people where the law says so."})}
		}
		v.Reads = append(v.Reads, r)
	}
	if c.Protective {
		v.Cautions = append(v.Cautions, page.SignalOf(calc.Caution{Signal: calc.Warning, Text: "This part protects people or the house. It is never left bypassed, and the job is closed only when the reason it opened is found, or “reason not found” is written and a loaded soak was passed."}))
	}
	var with []*note.Job
	for _, j := range s.JobsOf(f.Device) {
		if j.Sheet.Cause == f.Name {
			with = append(with, j)
		}
	}
	v.Jobs = s.LastTimes(f.Address(), with, 20)
	v.LastTime = v.Jobs[:min(2, len(v.Jobs))]
	return page.Page{Address: f.Address(), Title: f.Title, Template: "fault", View: v, Found: found(s, d, f, c)}, nil
}

// found is the note for the search. The symptoms that the fault shows most
// come first, and its first step is the one for the foremost.
func found(s *page.Shop, d *trace.Device, f *note.Fault, c *trace.Cause) *search.Document {
	if f.Draft { // it is found by its name, and answers for nothing
		return &search.Document{ID: f.ID, Kind: "fault", Title: f.Title + " (draft)", Address: f.Address(), Device: f.Device, DeviceTitle: d.Title}
	}
	doc := &search.Document{ID: f.ID, Kind: "fault", Title: f.Title, Address: f.Address(), Device: f.Device, DeviceTitle: d.Title,
		Cause: c.Says, Text: f.Plain(), Complaints: s.FaultComplaints(f.Device, c)}
	if f.Common != nil {
		doc.Like = f.Common.Block + "#" + f.Common.Fault
		if !f.Common.Shared { // the block's page is found by the text that all devices share
			doc.Text = ""
		}
	}
	for _, b := range c.Because {
		doc.Cause += ". " + b
	}
	rank := map[trace.Often]int{"always": 0, "often": 1, "sometimes": 2} // a rare one would answer for the faults that mostly show it
	var shows []trace.Symptom
	for _, sy := range d.Symptoms {
		if _, ok := rank[c.Symptoms[sy.ID]]; ok {
			shows = append(shows, sy)
		}
	}
	sort.SliceStable(shows, func(i, j int) bool { return rank[c.Symptoms[shows[i].ID]] < rank[c.Symptoms[shows[j].ID]] })
	doc.Symptoms = s.Symptoms(f.Device, shows)
	var main []trace.SymptomID // one, as an owner names one; so a device has as many first steps as symptoms
	if len(shows) > 0 && rank[c.Symptoms[shows[0].ID]] <= 1 {
		main = []trace.SymptomID{shows[0].ID}
	}
	s.BeginWith(doc, f.Device, c, main)
	return doc
}
