package draw

import (
	"math"

	"faultleaf/calc/quantity"
)

// Arm is the left arm of the square that a page is laid against: the rule of
// minutes of a job. It begins at 0 and ends where the job is expected to end.
// Solid is spent, hatched is opening and closing, an open box is the step now;
// it starts at the clock's minute. Beside the minutes stands what they cost.
type Arm struct {
	ID    string // sets the ids of several drawings on a page apart
	Says  string // the rule in words
	Spent []Lap
	Clock float64 // minutes by the clock
	Now   Lap     // the step at hand
	Rest  float64 // expected from the clock to the end, with the step at hand
	Ends  string  // what is reached there: "mended"
	Cost  string  // what it costs then, "22.80 EUR"; "" draws no lane of money
	Rate  float64 // money a minute
	Unit  string  // "EUR"
	Over  string  // said under the rule where the owner's limit is passed; "" where not
}

// Lap is one step: opening (hatched), then work (solid).
type Lap struct{ Opens, Works float64 }

const (
	armMost   = 640.0 // height of the scale
	armMinute = 34.0  // height of a minute at most
	armTop    = 42.0
)

// lanes of an arm, from its outer edge. Nothing leaves its lane, so that neither
// flag nor line covers a numeral.
type lanes struct {
	wide                      float64
	numeral, tick, bar, thick float64 // right edge of the numerals, left ends
	money                     bool
	size                      float64
}

// Wide draws the arm for a page of the usual width, 106 across.
func (a Arm) Wide() string {
	return a.draw("wide", lanes{wide: 106, numeral: 54, tick: 81, bar: 90, thick: 16, money: a.Cost != "", size: 15})
}

// Pocket draws the arm for a telephone, 40 across.
func (a Arm) Pocket() string {
	return a.draw("pocket", lanes{wide: 40, numeral: 19, tick: 21, bar: 28, thick: 11, size: 11})
}

func (a Arm) draw(class string, l lanes) string {
	sane := func(x float64) float64 {
		if !(x > 0) {
			return 0
		}
		return math.Min(x, 999) // longer than a working day is drawn as one
	}
	clock, rest := sane(a.Clock), sane(a.Rest)
	end := math.Max(clock+rest, 1)
	scale := math.Min(armMinute, armMost/end)
	if digits := float64(len(quantity.Tick(math.Round(end), 1))); digits > 2 {
		lane := l.numeral - 1
		if l.money {
			lane -= 30
		}
		l.size = math.Min(l.size, lane/digits/.62)
	}
	y := func(minute float64) float64 { return armTop + math.Min(minute, end)*scale }
	foot := y(end)
	high := foot + 24 + 2*16
	if a.Over != "" {
		high += 16
	}
	var b pen
	id := "arm-" + a.ID + "-" + class
	b.put(`<svg class="arm arm-`, class, `" xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 `, l.wide, ` `, high, `" width="`, l.wide, `" height="`, high, `" aria-label="`, escape(a.Says), `"><defs><pattern id="`, escape(id), `" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="arm-hatch" d="M0 0V6"/></pattern></defs>`)
	path := func(class, d string) { b.put(`<path class="`, class, `" fill="none" d="`, d, `"/>`) }
	text := func(class string, x, y, size float64, anchor, s string) {
		b.put(`<text class="`, class, `" font-size="`, size, `" text-anchor="`, anchor, `" x="`, x, `" y="`, y, `">`, escape(s), `</text>`)
	}
	// the scale: a tick a minute, longer ones where numerals stand
	every := 5.0
	for every*scale < 24 {
		every = map[float64]float64{5: 10, 10: 20, 20: 50, 50: 100, 100: 200, 200: 500}[every]
		if every == 0 {
			every = 1000 * math.Ceil(end/20000)
			break
		}
	}
	tick := 1.0
	for tick*scale < 4 {
		tick *= 5
	}
	if class == "wide" {
		text("arm-unit", l.numeral, armTop-14, 12, "end", "min")
	}
	for m := 0.0; m <= end+1e-9; m += tick {
		x := l.tick + (l.bar-l.tick)*.35
		if math.Mod(m, every) == 0 {
			x = l.tick
			// a numeral close to the end, or to the flag of the clock, is left out
			if foot-y(m) >= 11 || m == 0 {
				text("arm-minute", l.numeral, y(m)+l.size*.35, l.size, "end", quantity.Tick(m, 1))
			}
		}
		path("arm-tick", "M"+num(x)+" "+num(y(m))+"H"+num(l.bar))
	}
	path("arm-tick", "M"+num(l.bar)+" "+num(armTop)+"V"+num(foot))
	if l.money && a.Rate > 0 {
		text("arm-unit", 4, 14, 12, "start", a.Unit)
		step := 1.0
		for step/a.Rate*scale < 60 && step < 1e6 {
			step = map[float64]float64{1: 2, 2: 5, 5: 10}[step/math.Pow(10, math.Floor(math.Log10(step)))] * math.Pow(10, math.Floor(math.Log10(step)))
		}
		for sum := 0.0; sum/a.Rate <= end; sum += step {
			at := y(sum / a.Rate)
			path("arm-tick", "M0 "+num(at)+"H8")
			if foot-at >= 11 || sum == 0 {
				said := quantity.Tick(sum, 1)
				text("arm-sum", 11, at+4, math.Min(12, 18/float64(len(said))/.62), "start", said)
			}
		}
	}
	// the bar: what was spent by the clock, scaled where steps and clock differ
	block := func(class string, from, to float64) {
		if y(to)-y(from) < .2 {
			return
		}
		fill := ""
		if class == "arm-opens" {
			fill = ` fill="url(#` + escape(id) + `)"`
		}
		b.put(`<rect class="`, class, `"`, fill, ` x="`, l.bar+.8, `" y="`, y(from)+.6, `" width="`, l.thick-1.6, `" height="`, math.Max(y(to)-y(from)-1.2, .4), `"/>`)
	}
	at := 0.0
	for _, s := range a.Spent {
		opens, works := sane(s.Opens), sane(s.Works)
		if at+opens+works > clock {
			f := math.Max(clock-at, 0) / math.Max(opens+works, 1e-9)
			opens, works = opens*f, works*f
		}
		block("arm-opens", at, at+opens)
		block("arm-spent", at+opens, at+opens+works)
		at += opens + works
	}
	block("arm-spent", at, clock)
	opens, works := sane(a.Now.Opens), sane(a.Now.Works)
	block("arm-opens", clock, math.Min(clock+opens, end))
	block("arm-now", math.Min(clock+opens, end), math.Min(clock+opens+works, end))
	if after := clock + opens + works; after < end {
		path("arm-rest", "M"+num(l.bar+l.thick/2)+" "+num(y(after)+4)+"V"+num(foot))
	}
	// the end, with what is reached there under the rule
	path("arm-end", "M0 "+num(foot)+"H"+num(l.wide))
	text("arm-minute", l.numeral, foot+l.size+4, l.size, "end", quantity.Tick(math.Round(end), 1))
	low := foot + l.size + 4
	if class == "wide" {
		text("arm-word", 100, low, 13, "end", "min")
		low += 16
		text("arm-word", 100, low, 13, "end", a.Ends)
		if a.Cost != "" {
			low += 16
			text("arm-sum", 100, low, 12, "end", a.Cost)
		}
		if a.Over != "" {
			low += 16
			text("arm-over", 100, low, 12, "end", a.Over)
		}
	} else {
		text("arm-word", 38, low, 10, "end", "min")
	}
	// the flag of the clock, in its own lane
	c := y(clock)
	if class == "wide" {
		b.put(`<path class="arm-flag" d="M`, l.bar, ` `, c, `l-8 -10h-26v20h26z"/>`)
		text("arm-flag-text", 69, c+4.5, 13, "middle", quantity.Tick(math.Round(clock), 1))
	} else {
		b.put(`<rect class="arm-flag" x="0" y="2" width="40" height="34"/>`)
		text("arm-flag-text", 20, 17, 13, "middle", quantity.Tick(math.Round(clock), 1))
		text("arm-flag-text", 20, 31, 11, "middle", "min")
	}
	path("arm-cursor", "M"+num(l.bar)+" "+num(c)+"H"+num(l.wide))
	b.put(`</svg>`)
	return b.String()
}

// Spots are the blocks of a chain as cells in the order of the wire: filled where
// a test tells about them.
type Spots []Spot

// Spot is one block.
type Spot struct{ On bool }

// SVG draws the cells, 18 a block.
func (s Spots) SVG() string {
	w := num(float64(len(s)) * 18)
	var b pen
	b.put(`<svg class="spots" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 `, w, ` 16" width="`, w, `" height="16" aria-hidden="true"><path class="spots-wire" fill="none" d="M0 8H`, w, `"/>`)
	cells := func(class string, on bool) { // one path for all that look alike: a page has a row for each test
		any := false
		for i, c := range s {
			if c.On != on {
				continue
			}
			if !any {
				b.put(`<path class="`, class, `" d="`)
			}
			any = true
			b.put(`M`, float64(i)*18+2, ` 1.5h14v13h-14z`)
		}
		if any {
			b.put(`"/>`)
		}
	}
	cells("spot", false)
	cells("spot spot-on", true)
	b.put(`</svg>`)
	return b.String()
}
