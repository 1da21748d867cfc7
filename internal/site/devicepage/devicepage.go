// Package devicepage is the page of a device: the trace first, then its faults
// by chance, the chain of its parts, and what every reading should be. On paper
// it is the printed tree and the table of readings.
package devicepage

import (
	"encoding/json"
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
	"faultleaf/internal/site/openpage"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the device page.
var Kind = page.Kind{Name: "device", Of: func(s *page.Shop, d *note.Device) ([]page.Page, error) {
	return page.Each(s, []*note.Device{d}, one)
}}

type view struct {
	ID, Title, TreeNote string
	Family, Class       string
	Wide, Pocket, Slim  template.HTML // the chain as it is drawn
	Data                template.JS
	Tree                *step
	Faults              []fault
	Chain               []block
	Plate               []note.Plate
	Tests               []test
	Good                []good // what a healthy one reads, as one works
	Here                bool   // something of it was read on this bench
	Opening             string // address of how it is opened, step by step; "" where it is not
	Body                template.HTML
	LastTime, Jobs      []page.Item // the last three sheets, and the last twenty
}

type step struct {
	Kind, At, Title, Address, Minutes string
	Span                              template.HTML // its place on the ruler
	Branches                          []way
}

type way struct {
	Reading, Chance string
	Then            *step
}

type fault struct{ Address, Title, Block, Chance, Share, Seen, Minutes string }

type block struct {
	Name   string
	About  string // page of its block note, "" for a block of the device's own
	Tests  []testRef
	Branch [][]block
}

// good is a row of the table of good readings; the first of a state says which.
type good struct {
	State, ID, What, Is, Here string
}

// goods are the tests that a meter answers, in the order of work. What is measured
// is said up to the first stop or semicolon; the test itself says the rest.
func goods(t *trace.Device) (out []good) {
	for _, s := range page.States(t) {
		state := s.Title
		if s.Opens != "" {
			state = "Opened: " + s.Opens
		}
		for _, x := range s.Tests {
			if x.Kind == "" {
				continue
			}
			what := x.Ask
			for _, end := range []string{". ", "; "} {
				what, _, _ = strings.Cut(what, end)
			}
			out = append(out, good{state, string(x.ID), strings.TrimSuffix(what, "."), page.Good(x), x.Good})
			state = ""
		}
	}
	return out
}

type testRef struct{ ID, Title string }

type test struct {
	ID, Ask, Minutes, Needs, Power, Covers, Good string
	Is, Probes                                   string        // the healthy reading; where the probes go
	Spots, Span                                  template.HTML // the blocks it tells about; its minutes
	Was                                          []string      // its former names, for links to it
	Cautions                                     []page.Signal
	Reads                                        []band
}

type band struct {
	ID, Name, Text, Link string
	Healthy              bool
	Faults               []page.Item
}

// classes of protection against shock (IEC 61140) as the plate says them.
var classes = map[string]string{"I": "I, earthed", "II": "II, double insulated", "III": "III, extra-low voltage"}

func one(s *page.Shop, d *note.Device) (page.Page, error) {
	t := s.Traced(d.Name)
	body, err := s.Body(&d.Document, d.Address())
	if err != nil {
		return page.Page{}, err
	}
	v := view{ID: d.Name, Title: d.Title, Family: d.Family, Class: classes[d.Class], Plate: d.Plate, Body: body}
	plate := map[string]string{}
	for _, p := range d.Plate {
		plate[p.Name] = p.Value
	}
	data, err := json.Marshal(struct {
		*trace.Device
		Plate map[string]string                             `json:"plate"`
		Was   map[string]map[string]string                  `json:"was,omitempty"`   // for jobs begun under the old names
		Looks map[trace.TestID]map[trace.ReadingID][]string `json:"looks,omitempty"` // what each answer of a test by eye looks like
	}{t, plate, d.Names.Old(), looks(t)})
	if err != nil {
		return page.Page{}, err
	}
	// encoding/json escapes <, > and &, so the text cannot end its element
	v.Data = template.JS(data)

	root := page.Root(d.Address())
	first, err := s.First(d.Name)
	if err != nil {
		return page.Page{}, err
	}
	tree, err := s.Tree(d.Name)
	if err != nil {
		return page.Page{}, err
	}
	v.Tree = stepOf(t, tree, root, lastMinute(tree))
	v.Faults = faults(t, first, root)
	about := map[trace.BlockID]string{}
	for id, kind := range d.Kinds {
		about[id] = root + "blocks/" + kind + ".html"
	}
	v.Chain = chain(t, t.Blocks, about)
	rest := drawn.Chain(t, trace.Evidence{}, first, nil)
	rest.Reach = circuit.Reach{} // nothing is asked yet
	v.Wide, v.Pocket, v.Slim = template.HTML(rest.Wide()), template.HTML(rest.Pocket()), template.HTML(rest.SlimWide()+rest.SlimPocket())
	was := map[trace.TestID][]string{}
	old, _ := d.Names.Was()
	for name, now := range old {
		if t.Test(trace.TestID(name)) == nil {
			was[trace.TestID(now)] = append(was[trace.TestID(now)], name)
		}
	}
	longest := 0.0
	for i := range t.Tests {
		longest = math.Max(longest, opens(t, &t.Tests[i])+t.Tests[i].Minutes)
	}
	for i := range t.Tests {
		x := testOf(t, &t.Tests[i], root, plate)
		x.Span = template.HTML(draw.Span{Opens: opens(t, &t.Tests[i]), Works: t.Tests[i].Minutes, End: longest}.SVG())
		x.Was = was[t.Tests[i].ID]
		sort.Strings(x.Was)
		v.Tests = append(v.Tests, x)
	}
	if openpage.Has(d) {
		v.Opening = root + openpage.Address(d.Name)
	}
	v.inOrder(t)
	v.Good = goods(t)
	v.Here = slices.ContainsFunc(v.Good, func(g good) bool { return g.Here != "" })
	v.Jobs = s.LastTimes(d.Address(), s.JobsOf(d.Name), 20)
	v.LastTime = v.Jobs[:min(3, len(v.Jobs))]
	found := &search.Document{ID: d.ID, Kind: "device", Title: d.Title, Address: d.Address(), Device: d.Name, DeviceTitle: d.Title,
		Text: d.Plain(), Symptoms: s.Symptoms(d.Name, t.Symptoms), Complaints: s.DeviceComplaints(d),
		Names: page.Weighted(d.Also, d.Near), Unlike: d.Unlike}
	s.BeginWith(found, d.Name, nil, nil)
	found.Chain = drawn.Mini(t, first, "").Text()
	return page.Page{Address: d.Address(), Title: d.Title, Template: "device", View: v, Found: found}, nil
}

// looks are what is seen behind each reading, of the tests by eye.
func looks(t *trace.Device) map[trace.TestID]map[trace.ReadingID][]string {
	out := map[trace.TestID]map[trace.ReadingID][]string{}
	for i := range t.Tests {
		if l := t.Looks(&t.Tests[i]); len(l) > 0 {
			out[t.Tests[i].ID] = l
		}
	}
	return out
}

// opens is how long everything takes that must be opened before a test.
func opens(t *trace.Device, x *trace.Test) (minutes float64) {
	for _, a := range t.Opening(x.Needs) {
		minutes += a.Minutes
	}
	return minutes
}

// inOrder puts the tests into the order of the wire: by the first block that each
// tells about, and those that tell about fewer first.
func (v *view) inOrder(t *trace.Device) {
	place := map[trace.BlockID]int{}
	for i, b := range t.Chain() {
		place[b.ID] = i
	}
	at := func(x test) (first, many int) {
		first = len(place)
		covers := t.Test(trace.TestID(x.ID)).Covers
		for _, b := range covers {
			first = min(first, place[b])
		}
		return first, len(covers)
	}
	sort.SliceStable(v.Tests, func(i, j int) bool {
		a, n := at(v.Tests[i])
		b, m := at(v.Tests[j])
		return a < b || a == b && n < m
	})
}

// stepOf turns the engine's tree into what the page shows.
func stepOf(t *trace.Device, n *trace.Node, root string, end float64) *step {
	if n == nil {
		return nil
	}
	s := &step{Kind: string(n.Kind), At: quantity.Minutes(n.At), Title: say.Step(t, n.Action, n.Again)}
	if n.Stop != "" {
		s.Title = say.Head(n.Kind) + ": " + say.Stop(t, n.Action, n.Stop, n.Located)
	}
	if n.Minutes > 0 {
		s.Span = template.HTML(draw.Span{At: n.At, Opens: n.Opens, Works: n.Minutes - n.Opens, End: end}.SVG())
	}
	if n.Minutes > 0 {
		s.Minutes = quantity.Minutes(n.Minutes)
	}
	switch n.Kind {
	case trace.DoTest:
		s.Address = "#test-" + string(n.Test)
	case trace.DoMend, trace.Past:
		if c := t.Cause(n.Cause); c != nil {
			s.Address = root + c.Address
		}
		s.Title = say.Head(n.Kind) + ": " + s.Title
	}
	for _, b := range n.Branches {
		name := say.Reading(t.Test(n.Test), b.Reading, "")
		if b.Reading == "" {
			name = "it did not cure"
		}
		s.Branches = append(s.Branches, way{Reading: name, Chance: quantity.Chance(b.Chance), Then: stepOf(t, b.Then, root, end)})
	}
	return s
}

func faults(t *trace.Device, first trace.Advice, root string) []fault {
	chance := map[trace.CauseID]float64{}
	for _, c := range first.Chances {
		chance[c.ID] = c.Chance
	}
	causes := append([]trace.Cause(nil), t.Causes...)
	sort.SliceStable(causes, func(i, j int) bool { return chance[causes[i].ID] > chance[causes[j].ID] })
	var out []fault
	for _, c := range causes {
		out = append(out, fault{Address: root + c.Address, Title: c.Title, Block: string(c.Block), Chance: quantity.Chance(chance[c.ID]),
			Share: quantity.Number(quantity.Round(100*chance[c.ID], 3)), Seen: quantity.Number(quantity.Round(c.Seen+c.Jobs, 2)), Minutes: quantity.Minutes(t.MendMinutes(&c))})
	}
	return out
}

func chain(t *trace.Device, blocks []trace.Block, about map[trace.BlockID]string) []block {
	var out []block
	for _, b := range blocks {
		v := block{Name: say.Block(b.ID), About: about[b.ID]}
		for _, branch := range b.Branch {
			v.Branch = append(v.Branch, chain(t, branch, about))
		}
		for _, test := range t.Tests {
			for _, id := range test.Covers {
				if id == b.ID && b.ID != "" {
					v.Tests = append(v.Tests, testRef{string(test.ID), trace.Plain(string(test.ID))})
				}
			}
		}
		out = append(out, v)
	}
	return out
}

// lastMinute is when the longest way of the tree ends.
func lastMinute(n *trace.Node) float64 {
	if n == nil {
		return 0
	}
	end := n.At + n.Minutes
	for _, b := range n.Branches {
		end = math.Max(end, lastMinute(b.Then))
	}
	return end
}

func testOf(t *trace.Device, x *trace.Test, root string, plate map[string]string) test {
	v := test{ID: string(x.ID), Ask: x.Ask, Minutes: quantity.Minutes(x.Minutes), Needs: page.Opens(t, x.Needs),
		Power: x.Power.Says(), Covers: page.Join(x.Covers), Good: x.Good, Is: page.Good(x), Spots: template.HTML(drawn.Spots(t, x.Covers).SVG())}
	if x.Waits > 0 {
		v.Minutes += " and " + quantity.Minutes(x.Waits) + " of waiting"
	}
	if o := opens(t, x); o > 0 {
		v.Minutes = quantity.Number(o) + " + " + v.Minutes
	}
	if len(x.Probes) == 2 {
		v.Probes = x.Probes[0].Says + ", and " + x.Probes[1].Says
	}
	if x.Caution != "" {
		v.Cautions = append(v.Cautions, page.SignalOf(calc.ReadCaution(x.Caution, calc.Signal(x.Power.Signal()))))
	}
	for _, b := range x.Reads {
		r := band{ID: string(b.ID), Name: trace.Plain(string(b.ID)), Text: b.Text, Healthy: b.Healthy}
		if b.Link != "" {
			if l, err := calc.ParseLink(b.Link); err == nil {
				if l, err = l.Fill(plate); err == nil {
					r.Link = page.NumberAddress(root, l)
				}
			}
		}
		for _, c := range t.Causes {
			if c.States(x.ID, b.ID) && !b.Healthy {
				r.Faults = append(r.Faults, page.Item{Address: root + c.Address, Title: trace.InSentence(c.Title)})
			}
		}
		v.Reads = append(v.Reads, r)
	}
	return v
}
