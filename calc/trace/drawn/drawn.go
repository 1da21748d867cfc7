// Package drawn turns a device and what a trace knows of it into the drawing of
// its chain: where the suspicion sits, what is cleared, and what the next test
// tells about. The page shows it at publish, with the chances at rest, and the
// browser anew after each reading.
package drawn

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"faultleaf/calc/draw"
	"faultleaf/calc/draw/circuit"
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
		b := circuit.Block{ID: string(id), Name: say.Block(id), Symbol: symbol(id), Share: quantity.Round(share[id], 6), Said: quantity.Chance(share[id]), Letters: named[id]}
		slices.Sort(b.Letters)
		if c := cleared[id]; c != "" && share[id] < clearedBelow {
			b.Cleared, b.Said, b.Letters = c, "", nil
		}
		return b
	}
	c := circuit.Chain{ID: "chain", Title: d.Title + ": " + say.ChainTitle, Says: says(share, a, d), Back: mains(d)}
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
			ways = append(ways, beyond(way))
		}
		c.Parts = append(c.Parts, circuit.Part{Ways: ways})
	}
	for i := len(c.Parts) - 1; i > 0 && c.Parts[i].Block != nil && worked[c.Parts[i].Block.Symbol]; i-- {
		c.Parts[i].Block.Beyond = true
	}
	if a.Kind == trace.DoTest {
		if t := d.Test(a.Test); t != nil {
			sum := 0.0
			for _, id := range t.Covers {
				c.Reach.Blocks = append(c.Reach.Blocks, string(id))
				sum += share[id]
			}
			c.Reach.Step = strconv.Itoa(len(e.Readings) + 1)
			c.Reach.Says = say.Reaches(len(t.Covers), sum)
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

// Here is the drawing of a fault note: the chain at rest, with its own block.
func Here(d *trace.Device, a trace.Advice, at trace.BlockID) circuit.Chain {
	a.Kind = ""
	c := Chain(d, trace.Evidence{}, a, nil)
	mark := func(b *circuit.Block) {
		if b.ID == string(at) {
			b.State = circuit.Here
		}
	}
	for i := range c.Parts {
		if c.Parts[i].Block != nil {
			mark(c.Parts[i].Block)
		}
		for _, w := range c.Parts[i].Ways {
			for k := range w {
				mark(&w[k])
			}
		}
	}
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

// Heated are the blocks of a chain as cells, shaded by what they had at rest.
func Heated(d *trace.Device, a trace.Advice) draw.Spots {
	share := shares(d, a)
	var s draw.Spots
	for _, id := range flat(d.Blocks) {
		s = append(s, draw.Spot{Heat: circuit.Heat(share[id])})
	}
	return s
}

// Arm is the rule of minutes of a trace: what is done, the step now, and how far
// it is to the end.
func Arm(d *trace.Device, e trace.Evidence, a trace.Advice) draw.Arm {
	arm := draw.Arm{ID: "minutes", Ends: say.ArmEnds(a), Rate: d.Shop.Rate / 60, Unit: d.Shop.Currency}
	for _, s := range trace.Taken(d, e) {
		arm.Spent = append(arm.Spent, draw.Lap{Opens: s.Opens, Works: s.Minutes - s.Opens - s.Waits})
		arm.Clock += s.Minutes - s.Waits
	}
	arm.Rest = a.MinutesFromHere
	if a.Kind != trace.DoStop {
		arm.Now = draw.Lap{Opens: a.Opens, Works: a.Minutes - a.Opens - a.Waits}
	}
	if d.Shop.Rate > 0 {
		arm.Cost = say.Sum(d.Shop, (arm.Clock+arm.Rest)*arm.Rate)
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

// beyond marks the tail of a way that stands outside the circuit.
func beyond(way []circuit.Block) []circuit.Block {
	for i := len(way) - 1; i > 0 && worked[way[i].Symbol]; i-- {
		way[i].Beyond = true
	}
	return way
}

// mains says whether the chain begins at the mains, so that the current comes
// back by a second conductor.
func mains(d *trace.Device) bool {
	ids := flat(d.Blocks)
	return len(ids) > 0 && (symbol(ids[0]) == "plug" || symbol(ids[0]) == "outlet" || symbol(ids[0]) == "cord")
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
	slices.SortStableFunc(list, func(a, b one) int { return cmp.Compare(b.s, a.s) })
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

// worked are the symbols of what the work is done to, or moves: they stand
// outside the circuit.
var worked = map[string]bool{"vessel": true, "valve": true, "hose": true, "fan": true, "gear": true, "belt": true, "chuck": true, "tank": true, "filter": true, "handle": true, "case": true, "stand": true, "hand": true}

// bySound gives a block the symbol of what its name says, the longest word first.
var bySound = []struct{ word, symbol string }{
	{"thermal-link", "thermal-link"}, {"thermal-fuse", "thermal-link"}, {"thermostat", "thermostat"}, {"cut-out", "thermal-switch"}, {"cutout", "thermal-switch"}, {"link", "thermal-link"},
	{"outlet", "outlet"}, {"socket", "outlet"}, {"plug", "plug"}, {"cord", "cord"}, {"lead", "cord"}, {"cable", "cord"}, {"fuse", "fuse"}, {"trigger", "switch"}, {"switch", "switch"},
	{"dimmer", "triac"}, {"control", "control"}, {"timer", "control"}, {"button", "push-button"}, {"knob", "potentiometer"}, {"volume", "potentiometer"}, {"element", "heating"}, {"heater", "heating"}, {"plate", "heating"},
	{"motor", "motor"}, {"armature", "motor"}, {"brush", "brushes"}, {"field", "coil"}, {"coil", "coil"}, {"winding", "coil"}, {"magnet", "magnet"}, {"transformer", "transformer"}, {"primary", "transformer"}, {"secondary", "transformer"},
	{"rectifier", "bridge"}, {"bridge", "bridge"}, {"diode", "diode"}, {"capacitor", "electrolytic"}, {"reservoir", "electrolytic"}, {"smoothing", "electrolytic"}, {"transistor", "transistor"}, {"regulator", "regulator"}, {"pass", "transistor"},
	{"chopper", "oscillator"}, {"converter", "oscillator"}, {"oscillator", "oscillator"}, {"tuner", "radio"}, {"aerial", "radio"}, {"antenna", "radio"}, {"amplifier", "amplifier"}, {"output-stage", "amplifier"}, {"preamp", "amplifier"}, {"output", "amplifier"}, {"input", "connector"},
	{"battery", "battery"}, {"cells", "battery"}, {"cell", "battery"}, {"pack", "battery"}, {"bulb", "lamp"}, {"lamp", "lamp"}, {"led", "led"}, {"holder", "connector"}, {"speaker", "speaker"}, {"relay", "relay"}, {"sensor", "sensor"}, {"thermistor", "thermistor"}, {"clip", "connector"},
	{"contact", "connector"}, {"connector", "connector"}, {"base", "connector"}, {"jack", "connector"}, {"terminal", "terminal"}, {"board", "board"}, {"electronics", "board"}, {"charger", "board"}, {"reel", "cord"}, {"outlets", "outlet"},
	{"pump", "pump"}, {"valve", "valve"}, {"hose", "hose"}, {"pipe", "hose"}, {"waterway", "hose"}, {"steam", "hose"}, {"airway", "fan"}, {"air", "fan"}, {"blade", "fan"}, {"impeller", "fan"}, {"fan", "fan"}, {"gear", "gear"}, {"head", "gear"}, {"belt", "belt"}, {"chuck", "chuck"},
	{"tank", "tank"}, {"vessel", "vessel"}, {"jug", "vessel"}, {"basket", "filter"}, {"filter", "filter"}, {"bag", "filter"}, {"sole", "case"}, {"case", "case"}, {"box", "case"}, {"carriage", "handle"}, {"lever", "handle"}, {"stand", "stand"}, {"use", "hand"}, {"owner", "hand"},
}

func symbol(id trace.BlockID) string {
	for _, s := range bySound {
		if strings.Contains(string(id), s.word) {
			return s.symbol
		}
	}
	return ""
}
