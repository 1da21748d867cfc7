// Package faultpage is the page of one known fault. A reader comes to see
// whether this is it: on the first screen stand what it shows, how likely it is
// and what the tests read.
package faultpage

import (
	"html/template"
	"math"
	"slices"
	"sort"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/draw/circuit"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/calc/trace/drawn"
	"faultleaf/calc/trace/say"
	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the fault note's page.
var Kind = page.Kind{Name: "fault", Of: func(s *page.Shop, d *note.Device) ([]page.Page, error) {
	o, err := deviceOf(s, d.Name)
	if err != nil {
		return nil, err
	}
	return page.Each(s, s.FaultsOf(d.Name), o.one)
}}

// device is what the pages of its faults have in common, worked out once.
type device struct {
	*trace.Device
	before  trace.Advice          // any symptom is known
	unasked circuit.Chain         // with no block marked
	blocks  []trace.BlockID       // in the order of the wire
	minutes []float64             // of each test, with what must be opened for it
	gives   [][][]trace.ReadingID // by test and cause
}

func deviceOf(s *page.Shop, name string) (*device, error) {
	d := s.Traced(name)
	before, err := s.First(name)
	if err != nil {
		return nil, err
	}
	o := &device{Device: d, before: before, unasked: drawn.Unasked(d, before)}
	for _, b := range d.Chain() {
		o.blocks = append(o.blocks, b.ID)
	}
	for i := range d.Tests {
		t := &d.Tests[i]
		minutes := t.Minutes
		for _, a := range d.Opening(t.Needs) {
			minutes += a.Minutes
		}
		var of [][]trace.ReadingID
		for k := range d.Causes {
			of = append(of, gives(t, &d.Causes[k]))
		}
		o.minutes, o.gives = append(o.minutes, minutes), append(o.gives, of)
	}
	return o, nil
}

type view struct {
	Title, Device, DeviceAddress       string
	TraceAddress                       string    // the device's trace with this fault's main symptoms
	Symptoms, Seldom                   []symptom // shown often or at times; and rarely or never
	Chance, Seen, Cause, Minutes, Cost string
	Block                              string
	Wide, Pocket                       template.HTML // where it is on the chain
	Shown                              string
	Cautions                           []page.Signal
	Look                               *page.Look    // how it shows itself to the eye
	Reads                              []read        // the tests that tell, quickest first
	Alike                              []page.Item   // tests that read the same with and without it
	Rule                               template.HTML // the mend on the rule of minutes
	Succeeds                           string
	Body                               template.HTML
	Does, None, Needs, Takes           string
	Parts                              []part
	Because                            []string
	LastTime, Jobs                     []page.Item // the last two sheets with it, and the last twenty
	Common                             *page.Item  // the block's page, of a common fault
	Elsewhere                          string      // how sheets of other devices count
}

type symptom struct{ Says, Often string }

// read is a test with this fault and without, and what it tells the fault from.
type read struct {
	Address, Ask, Minutes, Here, Healthy, From string
}

type part struct{ Part, Count, Price string }

func (d *device) one(s *page.Shop, f *note.Fault) (page.Page, error) {
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
	v := view{Title: f.Title, Device: trace.InSentence(d.Title), DeviceAddress: root + "devices/" + f.Device + ".html", Cause: c.Says, Block: say.Block(c.Block), Body: body,
		Does: c.Mend.Does, None: c.Mend.None, Needs: page.Opens(d.Device, c.Mend.Needs), Because: c.Because, Minutes: quantity.Minutes(d.MendMinutes(c))}
	v.Look = page.LookOf(c.Look)
	if f.Draft {
		v.Chance = "not counted"
	}
	for _, ch := range d.before.Chances {
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
		v.Parts = append(v.Parts, part{trace.Plain(p.Part), quantity.Number(p.Count), s.Money(p.Price)})
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
	v.tells(d, c)
	here := drawn.Here(d.unasked, c.Block)
	probed(&here, d.Device, c)
	v.Wide, v.Pocket = template.HTML(here.Wide()), template.HTML(here.Pocket())
	if c.Mend.None == "" {
		v.rule(d.Device, c)
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
	return page.Page{Address: f.Address(), Title: f.Title, Template: "fault", View: v, Found: d.found(s, f, c)}, nil
}

// gives are the readings that a fault gives on a test: those that its note states,
// else the healthy one where the test does not cover its block; none where
// nothing is known.
func gives(t *trace.Test, c *trace.Cause) (ids []trace.ReadingID) {
	for _, r := range c.Reads[t.ID] {
		ids = append(ids, r.Reading)
	}
	if len(ids) == 0 && !slices.Contains(t.Covers, c.Block) {
		ids = append(ids, t.Healthy())
	}
	return ids
}

// mostFrom is how many blocks a row names.
const mostFrom = 4

// tells lists the tests that read otherwise with this fault than without, quickest
// first, and of each the neighbours that it tells the fault from: the blocks of
// faults that show what this one shows and read otherwise.
func (v *view) tells(d *device, c *trace.Cause) {
	neighbours := make([]bool, len(d.Causes))
	for k := range d.Causes {
		neighbours[k] = d.Causes[k].ID != c.ID && alike(c, &d.Causes[k])
	}
	type row struct {
		read
		minutes float64
	}
	var rows []row
	for i := range d.Tests {
		t := &d.Tests[i]
		if _, ok := c.Reads[t.ID]; !ok {
			continue
		}
		if t.Power == trace.Mains || t.Power == trace.Isolated || t.Power == trace.SeriesLamp {
			v.Cautions = []page.Signal{page.SignalOf(calc.Caution{Signal: calc.Danger, Text: "A test here is done on a live device. Follow your local code; licensed people where the law says so."})}
		}
		mine := gives(t, c)
		address := v.DeviceAddress + "#test-" + string(t.ID)
		if len(mine) == 1 && mine[0] == t.Healthy() {
			v.Alike = append(v.Alike, page.Item{Address: address, Title: trace.Plain(string(t.ID))})
			continue
		}
		r := row{read: read{Address: address, Ask: t.Ask}, minutes: d.minutes[i]}
		r.Minutes = quantity.Minutes(r.minutes)
		for _, b := range t.Reads {
			text := trace.Plain(string(b.ID))
			if b.Text != "" {
				text += ", " + page.Unbroken(b.Text)
			}
			if slices.Contains(mine, b.ID) {
				if r.Here != "" {
					r.Here += " or "
				}
				r.Here += text
			}
			if b.Healthy {
				r.Healthy = text
			}
		}
		told := map[trace.BlockID]bool{}
		for k, theirs := range d.gives[i] {
			if !neighbours[k] || len(theirs) == 0 {
				continue
			}
			if !slices.ContainsFunc(theirs, func(id trace.ReadingID) bool { return slices.Contains(mine, id) }) {
				told[d.Causes[k].Block] = true
			}
		}
		own := told[c.Block]
		delete(told, c.Block)
		var from []string
		for _, id := range d.blocks {
			if told[id] {
				from = append(from, say.Block(id))
			}
		}
		if n := len(from); n > mostFrom {
			from = append(from[:mostFrom], "and "+quantity.Number(float64(n-mostFrom))+" more")
		}
		r.From = strings.Join(from, ", ")
		switch {
		case r.From != "":
		case own:
			r.From = "other faults of the " + say.Block(c.Block)
		case !slices.Contains(mine, t.Healthy()):
			r.From = "a sound one"
		default: // it may read as a sound one does, and as every other fault does
			continue
		}
		rows = append(rows, r)
	}
	sort.SliceStable(rows, func(i, j int) bool { return rows[i].minutes < rows[j].minutes })
	for _, r := range rows {
		v.Reads = append(v.Reads, r.read)
	}
}

// alike tells whether there is a symptom that both show at least sometimes.
func alike(c, o *trace.Cause) bool {
	shows := func(often trace.Often) bool { return often != "" && often != "never" && often != "rarely" }
	for id, often := range c.Symptoms {
		if shows(often) && shows(o.Symptoms[id]) {
			return true
		}
	}
	return false
}

// probed puts the meter onto the drawing, as the test holds it that tells about
// the fewest blocks: with what it reads then.
func probed(chain *circuit.Chain, d *trace.Device, c *trace.Cause) {
	var best *trace.Test
	for i := range d.Tests {
		t := &d.Tests[i]
		if id, ok := c.Likeliest(t.ID); !ok || id == t.Healthy() || len(t.Probes) != 2 || best != nil && len(best.Covers) <= len(t.Covers) {
			continue
		}
		best = t
	}
	if best != nil {
		id, _ := c.Likeliest(best.ID)
		drawn.Probe(chain, best, trace.Plain(string(id)))
	}
}

// rule draws the mend on the rule of minutes.
func (v *view) rule(d *trace.Device, c *trace.Cause) {
	m := draw.Mend{ID: "rule", Works: c.Mend.Minutes, Says: "mend " + quantity.Number(c.Mend.Minutes)}
	for _, a := range d.Opening(c.Mend.Needs) {
		m.Opens, m.Closes = m.Opens+a.Minutes, m.Closes+a.Undo
	}
	if m.Opens > 0 {
		m.SaysOpen = "open " + quantity.Number(m.Opens)
	}
	if m.Closes > 0 {
		m.Close = "close " + quantity.Number(m.Closes)
	}
	v.Rule = template.HTML(m.SVG())
	if s := c.Mend.Succeeds; s > 0 {
		v.Succeeds = quantity.Number(math.Round(100*s)) + " in 100"
	}
}

// found is the note for the search. The symptoms that the fault shows most
// come first, and its first step is the one for the foremost.
func (d *device) found(s *page.Shop, f *note.Fault, c *trace.Cause) *search.Document {
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
	doc.Chain = drawn.Mini(d.Device, d.before, c.Block).Text()
	s.BeginWith(doc, f.Device, c, main)
	return doc
}
