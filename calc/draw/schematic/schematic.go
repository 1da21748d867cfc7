// Package schematic draws the circuit that a calculator reckons with: parts
// between an upper and a lower conductor, from the source at the left to the load
// at the right, in the symbols of IEC 60617 where one exists. Each place that is
// asked for bears the number of its field.
//
// The drawing is laid out by columns, each as wide as what is written in it, so
// that nothing can lie on anything else. Colours come from classes; there is no
// style inside.
package schematic

import (
	"math"
	"strconv"
	"strings"
)

// Symbol is what a part is drawn as.
type Symbol string

// The symbols.
const (
	AC          Symbol = "ac"          // a source of alternating volts
	Battery     Symbol = "battery"     // cells, or any source of direct volts
	Resistor    Symbol = "resistor"    // also a cord's core, a load, a winding's ohms
	Capacitor   Symbol = "capacitor"   //
	Reservoir   Symbol = "reservoir"   // with polarity
	Inductor    Symbol = "inductor"    // a winding
	Diode       Symbol = "diode"       //
	Zener       Symbol = "zener"       //
	LED         Symbol = "led"         //
	Thermistor  Symbol = "thermistor"  // its ohms follow its temperature
	Varistor    Symbol = "varistor"    // its ohms follow its volts
	Fuse        Symbol = "fuse"        //
	Switch      Symbol = "switch"      //
	Lamp        Symbol = "lamp"        //
	Motor       Symbol = "motor"       //
	Voltmeter   Symbol = "voltmeter"   //
	Ammeter     Symbol = "ammeter"     //
	Ohmmeter    Symbol = "ohmmeter"    // a resistance, bond or insulation tester
	Speaker     Symbol = "speaker"     //
	Couple      Symbol = "couple"      // two metals joined: a thermocouple
	Open        Symbol = "open"        // two terminals with nothing between
	Transformer Symbol = "transformer" // between both conductors
	Rectifier   Symbol = "rectifier"   // a bridge as one block, between both conductors
	Box         Symbol = "box"         // any other block, between both conductors; Says names it
	Wire        Symbol = "wire"        // nothing but the conductor
)

// Place is where a part stands.
type Place int

// The places.
const (
	along  Place = iota // in the upper conductor
	across              // between the two conductors
	back                // in the lower conductor
)

// Part is one part of the circuit.
type Part struct {
	At     Place
	Symbol Symbol
	Inputs []string // names of the fields that ask for it, whose numbers it bears
	Says   string   // a word or two beside it
	Shows  string   // name of an output whose amount stands beside it
}

// Ladder is a circuit, from left to right.
type Ladder []Part

// Inputs are the fields that the drawing has places for, each once, in the order
// of the drawing.
func (l Ladder) Inputs() []string {
	var out []string
	seen := map[string]bool{}
	for _, p := range l {
		for _, in := range p.Inputs {
			if !seen[in] {
				seen[in] = true
				out = append(out, in)
			}
		}
	}
	return out
}

// Words is what a drawing says beside its symbols.
type Words struct {
	Title   string
	Number  func(input string) int    // of its field; 0 draws none
	Label   func(input string) string // of its field, for readers that do not see
	Printed func(output string) string
}

// Units of the drawing.
const (
	upper, lower  = 50.0, 152.0
	middle        = (upper + lower) / 2
	size          = 13.0      // of the words
	letter        = .7 * size // reckoned with: a wide face
	badge         = 12.0      // radius
	least         = 74.0      // width of a column
	margin        = 8.0
	space         = 10.0 // beside what is written
	foot          = 46.0 // under the lower conductor
	numberSize    = 15.0
	half          = 22.0 // of a symbol's length
	lineOfWriting = 16.0
)

// column is a part with its room.
type column struct {
	Part
	lines         []string
	numbers       []int
	at            float64 // the middle of the symbol
	before, after float64 // room left and right of it
}

func (l Ladder) columns(w Words) []column {
	var out []column
	for _, p := range l {
		c := column{Part: p}
		for _, s := range []string{p.Says, shown(w, p.Shows)} {
			if s != "" {
				c.lines = append(c.lines, s)
			}
		}
		for _, in := range p.Inputs {
			if n := w.Number(in); n > 0 {
				c.numbers = append(c.numbers, n)
			}
		}
		wide := 0.0
		for _, s := range c.lines {
			wide = math.Max(wide, letter*float64(len([]rune(s))))
		}
		badges := (2*badge + 4) * float64(len(c.numbers))
		switch {
		case p.both():
			room := math.Max(math.Max(wide, badges)/2, 30) + space
			if p.Symbol == Box { // its words stand inside
				room = math.Max(room, wide/2+8+space)
			}
			c.before, c.after = room, room
		case p.At == across:
			c.before, c.after = 26, 26+space
			if wide+badges > 0 {
				c.after = 24 + math.Max(wide, math.Min(badges, 2*badge+4)) + space
			}
		default:
			room := math.Max(math.Max(wide, badges)+2*space, least) / 2
			c.before, c.after = room, room
		}
		out = append(out, c)
	}
	x := margin
	for i := range out {
		x += out[i].before
		out[i].at = x
		x += out[i].after
	}
	return out
}

func shown(w Words, output string) string {
	if output == "" || w.Printed == nil {
		return ""
	}
	return w.Printed(output)
}

// both tells whether a part lies in both conductors.
func (p Part) both() bool { return p.Symbol == Transformer || p.Symbol == Rectifier || p.Symbol == Box }

// SVG draws the circuit. id becomes the prefix of the ids inside.
func (l Ladder) SVG(id string, w Words) string {
	cols := l.columns(w)
	if len(cols) == 0 {
		return ""
	}
	last := cols[len(cols)-1]
	wide, high := last.at+last.after+margin, lower+foot
	d := &drawing{}
	id = escape(id)
	d.add(`<svg xmlns="http://www.w3.org/2000/svg" class="schematic" role="img" viewBox="0 0 `, num(wide), ` `, num(high), `" width="`, num(wide*1.15), `" height="`, num(high*1.15), `" aria-labelledby="`, id, `-t `, id, `-d" font-size="`, num(size), `">`,
		`<title id="`, id, `-t">`, escape(w.Title), `</title><desc id="`, id, `-d">`, escape(l.says(w)), `</desc>`)
	d.conductors(cols, wide)
	for _, c := range cols {
		d.part(c)
		d.words(c)
	}
	d.add(`</svg>`)
	return d.String()
}

// says tells the circuit in words, from left to right.
func (l Ladder) says(w Words) string {
	var parts []string
	for _, p := range l {
		if p.Symbol == Wire {
			continue
		}
		name := p.Says
		if name == "" {
			name = string(p.Symbol)
		}
		for _, in := range p.Inputs {
			if n := w.Number(in); n > 0 {
				name += ", place " + strconv.Itoa(n) + " (" + w.Label(in) + ")"
			}
		}
		if s := shown(w, p.Shows); s != "" {
			name += ", " + s
		}
		switch p.At {
		case across:
			name += ", across"
		case back:
			name += ", in the return"
		}
		parts = append(parts, name)
	}
	return "From left to right: " + strings.Join(parts, "; ") + "."
}

// conductors draws the upper and the lower one, broken where a part lies in them,
// with terminals where they end without a part across.
func (d *drawing) conductors(cols []column, wide float64) {
	for _, rail := range []struct {
		y  float64
		in Place
	}{{upper, along}, {lower, back}} {
		first, last := cols[0], cols[len(cols)-1]
		from, to := first.at, last.at
		if first.At != across && !first.both() {
			from = margin + 4
		}
		if last.At != across && !last.both() {
			to = wide - margin - 4
		}
		x := from
		for _, c := range cols {
			broken := c.both() || c.At == rail.in && c.Symbol != Wire
			if !broken {
				continue
			}
			reach := half
			if c.both() {
				reach = c.reach()
			}
			if c.at-reach > x {
				d.line(x, rail.y, c.at-reach, rail.y)
			}
			x = c.at + reach
		}
		if to > x {
			d.line(x, rail.y, to, rail.y)
		}
		for _, end := range []struct {
			c column
			x float64
		}{{first, from}, {last, to}} {
			if end.c.At != across && !end.c.both() {
				d.add(`<circle class="sch-end" cx="`, num(end.x), `" cy="`, num(rail.y), `" r="3"/>`)
			}
		}
		for i, c := range cols { // a part across between others is joined to both
			if c.At == across && !c.both() && i > 0 && i < len(cols)-1 {
				d.add(`<circle class="sch-dot" cx="`, num(c.at), `" cy="`, num(rail.y), `" r="3"/>`)
			}
		}
	}
}

// reach is half the width of a part that lies in both conductors.
func (c column) reach() float64 {
	if c.Symbol == Box {
		return c.before - space
	}
	return 30
}

// words writes the numbers and words of a part where its column keeps them free.
func (d *drawing) words(c column) {
	number := func(n int, x, y float64) {
		d.add(`<circle class="sch-badge" cx="`, num(x), `" cy="`, num(y), `" r="`, num(badge), `"/>`)
		d.text("sch-number", x, y+numberSize*.35, "middle", numberSize, strconv.Itoa(n))
	}
	row := func(y float64) {
		x := c.at - (2*badge+4)*float64(len(c.numbers)-1)/2
		for _, n := range c.numbers {
			number(n, x, y)
			x += 2*badge + 4
		}
	}
	switch {
	case c.both():
		row(upper - 32)
		for i, s := range c.lines {
			y := lower + 24 + lineOfWriting*float64(i)
			if c.Symbol == Box {
				y = middle + size*.35 + lineOfWriting*(float64(i)-float64(len(c.lines)-1)/2)
			}
			d.text("sch-word", c.at, y, "middle", size, s)
		}
	case c.At == across:
		x, y := c.at+24, middle
		if len(c.numbers) > 0 {
			y = middle + badge + size + 2
			for i, n := range c.numbers { // one above the other
				number(n, x+badge, middle-(2*badge+3)*float64(len(c.numbers)-1-i))
			}
		} else {
			y += size*.35 - lineOfWriting*float64(len(c.lines)-1)/2
		}
		for i, s := range c.lines {
			d.text("sch-word", x, y+lineOfWriting*float64(i), "start", size, s)
		}
	case c.At == back:
		x := c.at - (2*badge+4)*float64(len(c.numbers)-1)/2
		for _, n := range c.numbers {
			number(n, x, lower+33)
			x += 2*badge + 4
		}
		for i, s := range c.lines {
			d.text("sch-word", c.at, lower-26-lineOfWriting*float64(len(c.lines)-1-i), "middle", size, s)
		}
	default:
		row(upper - 32)
		for i, s := range c.lines {
			d.text("sch-word", c.at, upper+33+lineOfWriting*float64(i), "middle", size, s)
		}
	}
}

type drawing struct{ strings.Builder }

func (d *drawing) add(parts ...string) {
	for _, p := range parts {
		d.WriteString(p)
	}
}

func (d *drawing) line(x1, y1, x2, y2 float64) {
	d.path("M" + num(x1) + " " + num(y1) + "L" + num(x2) + " " + num(y2))
}

func (d *drawing) path(p string) { d.add(`<path class="sch-line" d="`, p, `"/>`) }

func (d *drawing) text(class string, x, y float64, anchor string, size float64, says string) {
	d.add(`<text class="`, class, `" x="`, num(x), `" y="`, num(y), `" text-anchor="`, anchor, `" font-size="`, num(size), `">`, escape(says), `</text>`)
}

// num is a coordinate with at most one decimal.
func num(x float64) string { return strconv.FormatFloat(math.Round(x*10)/10, 'f', -1, 64) }

func escape(s string) string { return entities.Replace(strings.ToValidUTF8(s, "\uFFFD")) }

var entities = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")

// Put is a part in the upper conductor that bears the numbers of these fields.
func Put(s Symbol, inputs ...string) Part { return Part{Symbol: s, Inputs: inputs} }

// Rectifying is the part between an AC source and what it feeds, by the name of
// the circuit: half-wave, centre-tap or bridge.
func Rectifying(circuit string, inputs ...string) Part {
	switch circuit {
	case "half-wave":
		return Put(Diode, inputs...)
	case "centre-tap":
		return Put(Diode, inputs...).Named("of each half")
	}
	return Put(Rectifier, inputs...)
}

// Across puts the part between the two conductors.
func (p Part) Across() Part { p.At = across; return p }

// Back puts the part into the lower conductor.
func (p Part) Back() Part { p.At = back; return p }

// Named writes a word or two beside the part.
func (p Part) Named(says string) Part { p.Says = says; return p }

// Showing writes an output's amount beside the part.
func (p Part) Showing(output string) Part { p.Shows = output; return p }
