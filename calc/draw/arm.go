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

// rule is an arm as it is drawn: its lanes, and where a minute lies.
type rule struct {
	pen
	Arm
	lanes
	pocket bool // for a telephone
	hatch  string
	clock  float64
	end    float64 // minutes, at least one
	scale  float64 // height of a minute
	foot   float64 // y of the end
}

func (a Arm) draw(class string, l lanes) string {
	r := rule{Arm: a, lanes: l, pocket: class == "pocket", hatch: "arm-" + a.ID + "-" + class, clock: sane(a.Clock)}
	r.end = math.Max(r.clock+sane(a.Rest), 1)
	r.scale = math.Min(armMinute, armMost/r.end)
	r.foot = r.y(r.end)
	if digits := float64(len(quantity.Tick(math.Round(r.end), 1))); digits > 2 {
		lane := l.numeral - 1
		if l.money {
			lane -= 30
		}
		r.size = math.Min(l.size, lane/digits/.62)
	}
	high := r.foot + 24 + 2*16
	if a.Over != "" {
		high += 16
	}
	r.put(`<svg class="arm arm-`, class, `" xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 `, l.wide, ` `, high, `" width="`, l.wide, `" height="`, high, `" aria-label="`, escape(a.Says), `"><defs><pattern id="`, escape(r.hatch), `" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="arm-hatch" d="M0 0V6"/></pattern></defs>`)
	r.minutes()
	if l.money && a.Rate > 0 {
		r.sums()
	}
	r.laps()
	r.ending()
	r.flag()
	r.put(`</svg>`)
	return r.String()
}

// sane are minutes that can be drawn.
func sane(x float64) float64 {
	if !(x > 0) {
		return 0
	}
	return math.Min(x, 999) // longer than a working day is drawn as one
}

func (r *rule) y(minute float64) float64 { return armTop + math.Min(minute, r.end)*r.scale }

func (r *rule) path(class, d string) { r.put(`<path class="`, class, `" fill="none" d="`, d, `"/>`) }

func (r *rule) text(class string, x, y, size float64, anchor, s string) {
	r.put(`<text class="`, class, `" font-size="`, size, `" text-anchor="`, anchor, `" x="`, x, `" y="`, y, `">`, escape(s), `</text>`)
}

// minutes draws the scale: a tick a minute, longer ones where numerals stand.
func (r *rule) minutes() {
	every := 5.0
	for every*r.scale < 24 {
		every = map[float64]float64{5: 10, 10: 20, 20: 50, 50: 100, 100: 200, 200: 500}[every]
		if every == 0 {
			every = 1000 * math.Ceil(r.end/20000)
			break
		}
	}
	tick := 1.0
	for tick*r.scale < 4 {
		tick *= 5
	}
	if !r.pocket {
		r.text("arm-unit", r.numeral, armTop-14, 12, "end", "min")
	}
	for m := 0.0; m <= r.end+1e-9; m += tick {
		x := r.tick + (r.bar-r.tick)*.35
		if math.Mod(m, every) == 0 {
			x = r.tick
			// a numeral close to the end, or to the flag of the clock, is left out
			if r.foot-r.y(m) >= 11 || m == 0 {
				r.text("arm-minute", r.numeral, r.y(m)+r.size*.35, r.size, "end", quantity.Tick(m, 1))
			}
		}
		r.path("arm-tick", "M"+num(x)+" "+num(r.y(m))+"H"+num(r.bar))
	}
	r.path("arm-tick", "M"+num(r.bar)+" "+num(armTop)+"V"+num(r.foot))
}

// sums draws the lane of money: what the minutes cost, in steps of 1, 2 or 5.
func (r *rule) sums() {
	r.text("arm-unit", 4, 14, 12, "start", r.Unit)
	step := 1.0
	for step/r.Rate*r.scale < 60 && step < 1e6 {
		ten := math.Pow(10, math.Floor(math.Log10(step)))
		step = map[float64]float64{1: 2, 2: 5, 5: 10}[step/ten] * ten
	}
	for sum := 0.0; sum/r.Rate <= r.end; sum += step {
		at := r.y(sum / r.Rate)
		r.path("arm-tick", "M0 "+num(at)+"H8")
		if r.foot-at >= 11 || sum == 0 {
			said := quantity.Tick(sum, 1)
			r.text("arm-sum", 11, at+4, math.Min(12, 18/float64(len(said))/.62), "start", said)
		}
	}
}

// laps draws the bar: what was spent by the clock, made shorter where the steps
// took longer than it, then the step now and the rest.
func (r *rule) laps() {
	at := 0.0
	for _, s := range r.Spent {
		opens, works := sane(s.Opens), sane(s.Works)
		if at+opens+works > r.clock {
			f := math.Max(r.clock-at, 0) / math.Max(opens+works, 1e-9)
			opens, works = opens*f, works*f
		}
		r.lap("arm-opens", at, at+opens)
		r.lap("arm-spent", at+opens, at+opens+works)
		at += opens + works
	}
	r.lap("arm-spent", at, r.clock)
	opened := r.clock + sane(r.Now.Opens)
	done := opened + sane(r.Now.Works)
	r.lap("arm-opens", r.clock, math.Min(opened, r.end))
	r.lap("arm-now", math.Min(opened, r.end), math.Min(done, r.end))
	if done < r.end {
		r.path("arm-rest", "M"+num(r.bar+r.thick/2)+" "+num(r.y(done)+4)+"V"+num(r.foot))
	}
}

func (r *rule) lap(class string, from, to float64) {
	if r.y(to)-r.y(from) < .2 {
		return
	}
	fill := ""
	if class == "arm-opens" {
		fill = ` fill="url(#` + escape(r.hatch) + `)"`
	}
	r.put(`<rect class="`, class, `"`, fill, ` x="`, r.bar+.8, `" y="`, r.y(from)+.6, `" width="`, r.thick-1.6, `" height="`, math.Max(r.y(to)-r.y(from)-1.2, .4), `"/>`)
}

// ending draws the end, with what is reached there under the rule.
func (r *rule) ending() {
	r.path("arm-end", "M0 "+num(r.foot)+"H"+num(r.lanes.wide))
	low := r.foot + r.size + 4
	r.text("arm-minute", r.numeral, low, r.size, "end", quantity.Tick(math.Round(r.end), 1))
	if r.pocket {
		r.text("arm-word", 38, low, 10, "end", "min")
		return
	}
	r.text("arm-word", 100, low, 13, "end", "min")
	low += 16
	r.text("arm-word", 100, low, 13, "end", r.Ends)
	if r.Cost != "" {
		low += 16
		r.text("arm-sum", 100, low, 12, "end", r.Cost)
	}
	if r.Over != "" {
		low += 16
		r.text("arm-over", 100, low, 12, "end", r.Over)
	}
}

// flag draws the clock, in its own lane.
func (r *rule) flag() {
	at, said := r.y(r.clock), quantity.Tick(math.Round(r.clock), 1)
	if !r.pocket {
		r.put(`<path class="arm-flag" d="M`, r.bar, ` `, at, `l-8 -10h-26v20h26z"/>`)
		r.text("arm-flag-text", 69, at+4.5, 13, "middle", said)
	} else {
		r.put(`<rect class="arm-flag" x="0" y="2" width="40" height="34"/>`)
		r.text("arm-flag-text", 20, 17, 13, "middle", said)
		r.text("arm-flag-text", 20, 31, 11, "middle", "min")
	}
	r.path("arm-cursor", "M"+num(r.bar)+" "+num(at)+"H"+num(r.lanes.wide))
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
