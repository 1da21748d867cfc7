package draw

import (
	"math"

	"faultleaf/calc/quantity"
)

// Ruler is a piece of a ruler of minutes that runs down the page, with one step
// on it: opening is hatched, work is solid, waiting is an outline. It is a
// picture beside a text that says the same, so it carries no words of its own.
type Ruler struct {
	At    float64 // minute at which the step begins
	Opens float64 // minutes of opening and setting up
	Works float64 // minutes of the work itself
	Waits float64 // unattended minutes; long ones are drawn shortened
}

const (
	rulerWide   = 60.0
	minuteHigh  = 5.0
	blockAt     = 42.0
	blockWide   = 16.0
	mostMinutes = 90.0 // a longer span is cut with a gap
	mostWaiting = 15.0
)

// SVG draws the piece. Its height is its minutes.
func (r Ruler) SVG() string {
	clean := func(x, most float64) float64 {
		if !(x > 0) {
			return 0
		}
		return math.Min(x, most)
	}
	at := clean(r.At, 1e5)
	opens, works, waits := clean(r.Opens, mostMinutes), clean(r.Works, mostMinutes), clean(r.Waits, mostWaiting)
	span := math.Max(opens+works+waits, 2)
	high := span*minuteHigh + 6
	var b pen
	b.put(`<svg class="ruler" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 `, rulerWide, ` `, high, `" width="`, rulerWide, `" height="`, high, `" aria-hidden="true" focusable="false">`)
	const top = 3.0
	mark := func(y, minute float64) {
		b.put(`<text class="ruler-text" font-size="11" text-anchor="end" x="25" y="`, y, `">`, quantity.Tick(minute, 1), `</text>`)
	}
	mark(top+7, math.Round(at))
	// ticks stand on whole minutes of the job, not of the step
	for m := math.Ceil(at); m <= at+span+1e-9; m++ {
		y := top + (m-at)*minuteHigh
		long := 5.0
		if math.Mod(m, 5) == 0 {
			long = 10
			if math.Mod(m, 10) == 0 && y > top+18 { // clear of the step's own minute
				mark(math.Min(y+4, high-1), m)
			}
		}
		b.put(`<path class="ruler-tick" stroke="currentColor" d="M`, blockAt-3-long, ` `, y, `H`, blockAt-3, `"/>`)
	}
	y := top
	if opens > 0 {
		h := opens * minuteHigh
		b.put(`<rect class="ruler-opens" fill="none" stroke="currentColor" x="`, blockAt, `" y="`, y, `" width="`, blockWide, `" height="`, h, `"/>`)
		for d := 4.0; d < h+blockWide; d += 6 { // diagonal hatching, cut at the block's edges
			x0, y0, x1, y1 := 0.0, d, blockWide, d-blockWide
			if y0 > h {
				x0, y0 = d-h, h
			}
			if y1 < 0 {
				x1, y1 = d, 0
			}
			if x1 > x0 {
				b.put(`<path class="ruler-hatch" stroke="currentColor" d="M`, blockAt+x0, ` `, y+y0, `L`, blockAt+x1, ` `, y+y1, `"/>`)
			}
		}
		y += h
	}
	if works > 0 {
		b.put(`<rect class="ruler-works" fill="currentColor" x="`, blockAt, `" y="`, y, `" width="`, blockWide, `" height="`, works*minuteHigh, `"/>`)
		y += works * minuteHigh
	}
	if waits > 0 {
		b.put(`<rect class="ruler-waits" fill="none" stroke="currentColor" stroke-dasharray="2 3" x="`, blockAt, `" y="`, y, `" width="`, blockWide, `" height="`, waits*minuteHigh, `"/>`)
	}
	b.put(`</svg>`)
	return b.String()
}

// Span is a step on a ruler that lies across: the steps of a plan, one below the
// other, on rulers of the same End show at a glance what comes when.
type Span struct {
	At, Opens, Works, End float64 // minutes
}

// SVG draws the ruler with its one step.
func (s Span) SVG() string {
	const w, left = 160.0, 1.0
	end := s.End
	if !(end > 0) || end > 1e5 {
		end = 60
	}
	px := func(m float64) float64 {
		if !(m > 0) {
			m = 0
		}
		return left + math.Min(m, end)/end*(w-2*left)
	}
	var b pen
	b.put(`<svg class="span" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 160 13" width="160" height="13" aria-hidden="true">`)
	step := 10.0
	for end/step > 16 {
		step *= 2
	}
	b.put(`<path class="ruler-tick" stroke="currentColor" d="M`, left, ` 12H`, w-left) // one path: a page has a ruler for each test
	for m := 0.0; m <= end; m += step {
		b.put(`M`, px(m), ` 8V12`)
	}
	b.put(`"/>`)
	a, o, z := px(s.At), px(s.At+s.Opens), px(s.At+s.Opens+s.Works)
	if o > a {
		b.put(`<rect class="ruler-opens" fill="none" stroke="currentColor" x="`, a, `" y="2" width="`, o-a, `" height="6"/>`)
	}
	b.put(`<rect class="ruler-works" fill="currentColor" x="`, o, `" y="2" width="`, math.Max(z-o, 1), `" height="6"/>`)
	b.put(`</svg>`)
	return b.String()
}

// Share is one part of a Strip.
type Share struct {
	Letter string  // names the part in the list beside the strip; "" for the rest
	Value  float64 // between 0 and 1
}

// Heat is the step of suspicion something is shaded by: 0 to 4, from 1.5, 6, 15
// and 30 %. Our choice: each step is about twice the one before.
func Heat(share float64) int {
	for i, from := range []float64{.3, .15, .06, .015} {
		if share >= from {
			return 4 - i
		}
	}
	return 0
}

// Strip is a whole parted into shares, each with its letter: readable without
// colour. It stands beside a list that says the same in words.
type Strip []Share

// SVG draws the strip.
func (s Strip) SVG() string {
	const w, h = 160.0, 18.0
	var b pen
	b.put(`<svg class="strip-bar" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 160 18" preserveAspectRatio="xMinYMid meet" width="160" height="18" aria-hidden="true" focusable="false">`)
	x := 0.0
	for _, part := range s {
		v := part.Value
		if !(v > 0) {
			continue
		}
		v = math.Min(v, 1)
		wide := math.Min(v*w, w-x)
		if wide <= 0 {
			break
		}
		class := "strip-rest"
		if part.Letter != "" {
			class = "strip-heat" + num(float64(Heat(v)))
		}
		b.put(`<rect class="`, class, `" stroke="currentColor" fill="none" x="`, x+.5, `" y="0.5" width="`, math.Max(wide-1, .2), `" height="17"/>`)
		if part.Letter != "" && wide >= 13 {
			b.put(`<text class="`, class, `-text" font-size="12" font-weight="700" text-anchor="middle" x="`, x+wide/2, `" y="`, h-5, `">`, escape(part.Letter), `</text>`)
		}
		x += wide
	}
	b.put(`</svg>`)
	return b.String()
}
