package draw

import (
	"math"
	"strings"

	"faultleaf/calc/quantity"
)

// Mend is a mend on a rule of minutes: opening and closing hatched, the work
// itself solid between them.
type Mend struct {
	ID                    string // sets the ids of several drawings on a page apart
	Opens, Works, Closes  float64
	SaysOpen, Says, Close string // what stands under the three parts
}

// SVG draws the rule.
func (m Mend) SVG() string {
	const left, right, wide, low = 6.0, 314.0, 320.0, 32.0
	sane := func(x float64) float64 {
		if !(x > 0) {
			return 0
		}
		return math.Min(x, 999)
	}
	o, w, c := sane(m.Opens), sane(m.Works), sane(m.Closes)
	end := math.Max(o+w+c, 1)
	x := func(minute float64) float64 { return left + minute/end*(right-left) }
	var b pen
	id := "mend-" + escape(m.ID)
	b.put(`<svg class="mend-rule" xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 320 92" width="320" height="92" aria-label="`, escape(strings.Join([]string{m.SaysOpen, m.Says, m.Close}, ", ")), `"><defs><pattern id="`, id, `" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="arm-hatch" d="M0 0V6"/></pattern></defs>`)
	part := func(class, fill string, from, to float64) {
		if to-from > 0 {
			b.put(`<rect class="`, class, `"`, fill, ` x="`, x(from), `" y="10" width="`, x(to)-x(from), `" height="22"/>`)
		}
	}
	hatch := ` fill="url(#` + id + `)"`
	part("arm-opens", hatch, 0, o)
	part("arm-spent", "", o, o+w)
	part("arm-opens", hatch, o+w, o+w+c)
	every := 5.0
	for x(every)-x(0) < 34 && every < 1000 {
		every *= 2
	}
	tick := 1.0
	for x(tick)-x(0) < 5 {
		tick *= 5
	}
	for minute := 0.0; minute <= end+1e-9; minute += tick {
		long := 6.0
		if math.Mod(minute, every) == 0 {
			long = 12
			if x(end)-x(minute) >= 24 { // the end has its own numeral
				b.put(`<text class="mend-minute" font-size="13" text-anchor="middle" x="`, math.Max(x(minute), left+5), `" y="60">`, quantity.Tick(minute, 1), `</text>`)
			}
		}
		b.put(`<path class="arm-tick" d="M`, x(minute), ` `, low+2, `v`, long, `"/>`)
	}
	b.put(`<text class="mend-minute" font-size="13" text-anchor="end" x="`, wide, `" y="60">`, quantity.Tick(math.Round(end), 1), `</text>`)
	for _, l := range []struct {
		at           float64
		anchor, says string
	}{{left, "start", m.SaysOpen}, {wide / 2, "middle", m.Says}, {right, "end", m.Close}} {
		if l.says != "" {
			b.put(`<text class="mend-says" font-size="13" text-anchor="`, l.anchor, `" x="`, l.at, `" y="84">`, escape(l.says), `</text>`)
		}
	}
	b.put(`</svg>`)
	return b.String()
}
