// Package drawn turns a device and what a trace knows of it into the drawing of
// its chain: where the suspicion sits, what is cleared, and what the next test
// tells about. The page shows it at publish, with the chances at rest, and the
// browser anew after each reading.
package drawn

import (
	"cmp"
	"slices"
	"strconv"

	"faultleaf/calc/draw"
	"faultleaf/calc/draw/circuit"
	"faultleaf/calc/inorder"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/calc/trace/say"
)

// clearedBelow is the suspicion under which a block that read well counts as
// cleared. Our choice: below the first step of shading.
const clearedBelow = .015

// Chain is the drawing of a device's chain. letters names the faults that stand
// in a list beside it.
func Chain(d *trace.Device, e trace.Evidence, a trace.Advice, letters map[trace.CauseID]string) circuit.Chain {
	share := shares(d, a)
	cleared := clearings(d, e)
	named := map[trace.BlockID][]string{}
	for i := range d.Causes {
		if l := letters[d.Causes[i].ID]; l != "" {
			named[d.Causes[i].Block] = append(named[d.Causes[i].Block], l)
		}
	}
	block := func(id trace.BlockID) circuit.Block {
		own := d.Block(id)
		b := circuit.Block{ID: string(id), Name: say.Block(id), Short: own.Short, Symbol: symbol(own), Separates: own.Separates, Share: quantity.Round(share[id], 6), Said: quantity.Chance(share[id]), Letters: named[id]}
		inorder.Up(b.Letters)
		if c := cleared[id]; c != "" && share[id] < clearedBelow {
			b.Cleared, b.Said, b.Letters = c, "", nil
		}
		return b
	}
	c := circuit.Chain{ID: "chain", Title: d.Title + ": " + say.ChainTitle, Says: says(share, a, d), Roomy: true}
	c.Poles, c.Back = poles(d)
	for _, b := range d.Blocks {
		if b.Branch == nil {
			one := block(b.ID)
			c.Parts = append(c.Parts, circuit.Part{Block: &one})
			continue
		}
		var ways [][]circuit.Block
		for _, w := range b.Branch {
			var way []circuit.Block
			for _, id := range flat(w) {
				way = append(way, block(id))
			}
			ways = append(ways, beyond(d, way))
		}
		c.Parts = append(c.Parts, circuit.Part{Ways: ways})
	}
	for i := len(c.Parts) - 1; i > 0 && c.Parts[i].Block != nil && outside(d, c.Parts[i].Block); i-- {
		c.Parts[i].Block.Beyond = true
	}
	if a.Kind == trace.DoTest {
		if t := d.Test(a.Test); t != nil {
			sum := 0.0
			for _, id := range t.Covers {
				c.Reach.Blocks = append(c.Reach.Blocks, string(id))
				sum += share[id]
			}
			c.Reach.Step = strconv.Itoa(len(trace.Taken(d, e)) + 1)
			c.Reach.Says = say.Reaches(len(t.Covers), sum)
			probe(d, &c, t, a.Open)
		}
	}
	for i := range c.Parts {
		if b := c.Parts[i].Block; b != nil && a.Kind == trace.DoMend {
			if m := d.Cause(a.Cause); m != nil && string(m.Block) == b.ID {
				b.State = circuit.Mending
			}
		}
	}
	return c
}

// AtRest is the drawing while no test is asked: nothing reaches, no meter.
func AtRest(c circuit.Chain) circuit.Chain {
	c.Reach, c.Meter, c.Room, c.Apart = circuit.Reach{}, circuit.Meter{}, circuit.Room{}, ""
	each(&c, func(b *circuit.Block, _ bool) {
		if b.State == circuit.Lifted {
			b.State = circuit.Plain
		}
	}, "")
	return c
}

// Unasked is the drawing before any symptom is known and any test asked.
func Unasked(d *trace.Device, a trace.Advice) circuit.Chain {
	a.Kind = ""
	c := Chain(d, trace.Evidence{}, a, nil)
	c.Roomy = false
	return c
}

// Here is the drawing of a fault note: a chain with its own block marked. The chain
// itself stays as it is.
func Here(c circuit.Chain, at trace.BlockID) circuit.Chain {
	mark := func(b circuit.Block) circuit.Block {
		b.Said, b.Share = "", 0
		if b.ID == string(at) {
			b.State, b.Said, b.Share = circuit.Here, "here", 1
		}
		return b
	}
	parts := make([]circuit.Part, len(c.Parts))
	for i, p := range c.Parts {
		if p.Block != nil {
			b := mark(*p.Block)
			parts[i].Block = &b
		}
		for _, w := range p.Ways {
			way := make([]circuit.Block, len(w))
			for k := range w {
				way[k] = mark(w[k])
			}
			parts[i].Ways = append(parts[i].Ways, way)
		}
	}
	c.Parts = parts
	return c
}

// Spots are the blocks of a chain as cells: filled where a test tells about them.
func Spots(d *trace.Device, covers []trace.BlockID) draw.Spots {
	var s draw.Spots
	for _, id := range flat(d.Blocks) {
		s = append(s, draw.Spot{On: slices.Contains(covers, id)})
	}
	return s
}

// Mini is a device's chain in small: about is the block that something is about; ""
// shades all by what they have.
func Mini(d *trace.Device, a trace.Advice, about trace.BlockID) circuit.Mini {
	var share map[trace.BlockID]float64
	if about == "" {
		share = shares(d, a)
	}
	var m circuit.Mini
	for _, id := range flat(d.Blocks) {
		s := circuit.Small{Symbol: symbol(d.Block(id))}
		if about == "" {
			s.Heat = circuit.Heat(share[id])
		} else {
			s.Here = id == about
		}
		m = append(m, s)
	}
	return m
}

// Place is where a block stands on the chain as Mini draws it, from 0; -1 for none.
func Place(d *trace.Device, id trace.BlockID) int { return slices.Index(flat(d.Blocks), id) }

// scaled is up to how many answers stand side by side under one scale.
const scaled = 4

// Bands is the scale over a test's answers, in their order; it draws nothing where
// too many stand there, or too few are amounts.
func Bands(t *trace.Test, order []trace.ReadingID) draw.Bands {
	var s draw.Bands
	if t == nil || t.Kind == "" || len(order) > scaled {
		return s
	}
	if t.Kind == quantity.Resistance {
		s.End = "open"
	}
	for _, id := range order {
		var p draw.Part
		for _, b := range t.Reads {
			if b.ID == id {
				p = draw.Part{Low: b.Low, High: b.High, Healthy: b.Healthy}
			}
		}
		s.Parts = append(s.Parts, p)
	}
	return s
}

// Arm is the rule of minutes of a trace: what is done, the step now, and how far
// it is to the end. clock is what a real clock says, in minutes; 0 where none runs,
// and the steps count as planned.
func Arm(d *trace.Device, e trace.Evidence, a trace.Advice, clock float64) draw.Arm {
	arm := draw.Arm{ID: "minutes", Ends: say.ArmEnds(a), Rate: d.Shop.Rate / 60, Unit: d.Shop.Currency}
	for _, s := range trace.Taken(d, e) {
		arm.Spent = append(arm.Spent, draw.Lap{Opens: s.Opens, Works: s.Minutes - s.Opens - s.Waits})
		arm.Clock += s.Minutes - s.Waits
	}
	if clock > 0 {
		arm.Clock = clock
	}
	arm.Rest = a.MinutesFromHere
	if a.Kind != trace.DoStop {
		arm.Now = draw.Lap{Opens: a.Opens, Works: a.Minutes - a.Opens - a.Waits}
	}
	if d.Shop.Rate > 0 {
		cost := (arm.Clock + arm.Rest) * arm.Rate
		arm.Cost = say.Sum(d.Shop, cost)
		if e.Terms.Limit > 0 && cost > e.Terms.Limit {
			arm.Over = say.OverLimit
		}
	}
	arm.Says = say.ArmSays(arm.Clock, arm.Rest)
	return arm
}

// shares are the suspicion of each block: of its faults, and of those that no
// note describes.
func shares(d *trace.Device, a trace.Advice) map[trace.BlockID]float64 {
	share := map[trace.BlockID]float64{}
	for _, c := range a.Chances {
		if cause := d.Cause(c.ID); cause != nil {
			share[cause.Block] += c.Chance
		}
	}
	for _, u := range a.Unknown {
		share[u.Block] += u.Chance
	}
	return share
}

// clearings says of each block which reading cleared it last: the step's number
// and the reading.
func clearings(d *trace.Device, e trace.Evidence) map[trace.BlockID]string {
	out := map[trace.BlockID]string{}
	for i, r := range e.Readings {
		t := d.Test(r.Test)
		if t == nil {
			continue
		}
		for _, b := range t.Reads {
			if !b.Healthy || !readsAs(t, r.Value, b.ID) {
				continue
			}
			for _, id := range t.Covers {
				out[id] = strconv.Itoa(i+1) + " " + trace.Plain(string(b.ID))
			}
		}
	}
	return out
}

func readsAs(t *trace.Test, typed string, id trace.ReadingID) bool {
	fits, err := trace.ParseReading(t, typed)
	return err == nil && len(fits) == 1 && fits[0].Reading == id
}

func flat(list []trace.Block) (ids []trace.BlockID) {
	for _, b := range list {
		if b.Branch == nil {
			ids = append(ids, b.ID)
		}
		for _, w := range b.Branch {
			ids = append(ids, flat(w)...)
		}
	}
	return ids
}

// probe draws what a test does to the chain: the meter on its two points, the
// chain taken apart, and the blocks behind what is opened next.
func probe(d *trace.Device, c *circuit.Chain, t *trace.Test, open []trace.AccessID) {
	Probe(c, t, "? "+t.Kind.Unit())
	opening := d.Opening(open)
	for _, a := range opening {
		for _, id := range a.Hides {
			if !slices.Contains(c.Room.Blocks, string(id)) {
				c.Room.Blocks = append(c.Room.Blocks, string(id))
			}
		}
	}
	if len(c.Room.Blocks) > 0 {
		c.Room.Says = say.Room(opening)
	}
}

// Probe puts a test's meter on its two points, showing something, and takes the
// chain apart where the test does.
func Probe(c *circuit.Chain, t *trace.Test, shows string) {
	if len(t.Probes) == 2 {
		c.Meter = circuit.Meter{Shows: shows, Red: point(t.Probes[0]), Black: point(t.Probes[1])}
	}
	if t.Apart != "" {
		c.Apart = string(t.Apart)
		each(c, func(b *circuit.Block, before bool) {
			if before {
				b.State = circuit.Lifted
			}
		}, string(t.Apart))
	}
}

// each walks over the blocks of a chain; before tells whether a block stands in
// the trunk at or before the one named.
func each(c *circuit.Chain, do func(b *circuit.Block, before bool), until string) {
	before := until != ""
	for i := range c.Parts {
		if b := c.Parts[i].Block; b != nil {
			do(b, before)
			before = before && b.ID != until
		}
		for _, w := range c.Parts[i].Ways {
			for k := range w {
				do(&w[k], before)
			}
		}
	}
}

func point(p trace.Point) circuit.Point {
	side := map[trace.Side]circuit.Side{trace.Before: circuit.Before, trace.Behind: circuit.After, trace.Back: circuit.Return,
		trace.Line: circuit.Line, trace.Neutral: circuit.Neutral, trace.Earth: circuit.Earth, trace.Metal: circuit.Metal}
	return circuit.Point{Block: string(p.Block), Side: side[p.Side]}
}

// beyond marks the tail of a way that stands outside the circuit.
func beyond(d *trace.Device, way []circuit.Block) []circuit.Block {
	for i := len(way) - 1; i > 0 && outside(d, &way[i]); i-- {
		way[i].Beyond = true
	}
	return way
}

// symbol is what a note says, else what the block's name leads to.
func symbol(b *trace.Block) string {
	if b.Symbol != "" {
		return b.Symbol
	}
	return circuit.Named(string(b.ID))
}

// outside tells whether a block stands outside the circuit: as a note says, else
// as its symbol does.
func outside(d *trace.Device, b *circuit.Block) bool {
	if own := d.Block(trace.BlockID(b.ID)); own != nil && own.Outside != nil {
		return *own.Outside
	}
	return circuit.Outside(b.Symbol)
}

// poles are the two conductors by which the current comes in and goes back; there
// is no second one where nothing says what comes in.
func poles(d *trace.Device) ([2]string, bool) {
	ids := flat(d.Blocks)
	if len(ids) == 0 {
		return [2]string{}, false
	}
	first := d.Block(ids[0])
	source := first.Source
	if source == "" {
		source = map[string]string{"plug": "mains", "outlet": "mains", "cord": "mains", "battery": "battery"}[symbol(first)]
	}
	switch {
	case source == "mains" && d.Class != "III": // what is fed by extra-low voltage has no line and neutral
		return [2]string{"L", "N"}, true
	case source != "":
		return [2]string{"+", "−"}, true
	}
	return [2]string{}, false
}

// says is the drawing in words: what is suspected, most first, and what the test
// tells about.
func says(share map[trace.BlockID]float64, a trace.Advice, d *trace.Device) string {
	type one struct {
		id trace.BlockID
		s  float64
	}
	var list []one
	for _, id := range flat(d.Blocks) {
		list = append(list, one{id, share[id]})
	}
	inorder.By(list, func(a, b one) int { return cmp.Compare(b.s, a.s) })
	var words []string
	for _, o := range list {
		if o.s >= clearedBelow {
			words = append(words, say.Block(o.id)+" "+quantity.Chance(o.s))
		}
	}
	var order []string
	for _, id := range flat(d.Blocks) {
		order = append(order, say.Block(id))
	}
	var covers []string
	if t := d.Test(a.Test); a.Kind == trace.DoTest && t != nil {
		for _, id := range t.Covers {
			covers = append(covers, say.Block(id))
		}
	}
	return say.Chain(order, words, covers)
}
