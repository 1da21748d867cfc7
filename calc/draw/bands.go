package draw

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"faultleaf/calc/quantity"
)

// Bands is the scale of what a meter may show, over a row of answers, low to high:
// each answer takes an equal part, and its readings stand at their true places
// within it. Answers that are no amounts leave their part bare.
type Bands struct {
	Parts []Part
	End   string // what the meter shows beyond the last number, as "open"
}

// Part is one answer. Low and High are in the base unit; nil is open, and both nil
// is a word.
type Part struct {
	Low, High *float64
	Healthy   bool
}

// The scale's own size; it is drawn as wide as the answers below it.
const (
	bandsWide, bandsHigh = 680.0, 36.0
	bandsLine            = bandsHigh - 1
	bandsFace            = 7.6 // of a numeral at 12
	decadesOn            = 2.3 // drawn of a part that has no upper end
	decadesIn            = .8  // from so many on, a part is drawn by decades
)

// SVG draws the scale; it is empty where fewer than two parts are amounts.
func (s Bands) SVG() string {
	measured := 0
	for _, p := range s.Parts {
		if p.Low != nil || p.High != nil {
			measured++
		}
	}
	if measured < 2 {
		return ""
	}
	var b strings.Builder
	b.WriteString(`<svg class="bands" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ` + num(bandsWide) + ` ` + num(bandsHigh) + `" aria-hidden="true" focusable="false">`)
	one := bandsWide / float64(len(s.Parts))
	var taken [][2]float64 // where numbers stand
	name := func(class, anchor string, x float64, text string, must bool) {
		w := bandsFace*float64(len([]rune(text))) + 6
		from := x - w/2
		switch anchor {
		case "start":
			from = x
		case "end":
			from = x - w
		}
		if !must && (from < 0 || from+w > bandsWide || slices.ContainsFunc(taken, func(t [2]float64) bool { return from < t[1] && t[0] < from+w })) {
			return
		}
		taken = append(taken, [2]float64{from, from + w})
		b.WriteString(`<text class="` + class + `" text-anchor="` + anchor + `" x="` + num(x) + `" y="14">` + text + `</text>`)
	}
	// the limits first: they stand whatever else finds room
	for i, p := range s.Parts {
		left, right := one*float64(i), one*float64(i+1)
		if p.Low == nil && p.High == nil {
			continue
		}
		if p.Healthy {
			b.WriteString(`<path class="bands-ok" fill="none" d="M` + num(left) + ` ` + num(bandsLine-6) + `H` + num(right) + `"/>`)
		}
		b.WriteString(`<path class="bands-line" fill="none" d="M` + num(left) + ` ` + num(bandsLine) + `H` + num(right) + `"/>`)
		next := i+1 < len(s.Parts) && s.Parts[i+1].Low != nil
		switch {
		case p.High == nil:
		case next && *s.Parts[i+1].Low == *p.High:
			name("bands-limit", "middle", right, short3(*p.High), true)
			b.WriteString(`<path class="bands-tick" d="M` + num(right) + ` 19V` + num(bandsLine) + `"/>`)
		default:
			name("bands-limit", "end", right-4, short3(*p.High), true)
			if next { // between the two lies what no answer names: the scale is broken there
				name("bands-limit", "start", right+4, short3(*s.Parts[i+1].Low), true)
				b.WriteString(`<path class="bands-tick" d="M` + num(right-5) + ` ` + num(bandsLine) + `l4 -14M` + num(right+1) + ` ` + num(bandsLine) + `l4 -14"/>`)
			}
		}
		if p.Low != nil && (i == 0 || s.Parts[i-1].High == nil) {
			name("bands-limit", "start", left+2, short3(*p.Low), true)
		}
	}
	if last := s.Parts[len(s.Parts)-1]; last.High == nil && last.Low != nil && s.End != "" {
		name("bands-number", "end", bandsWide-1, s.End, true)
	}
	var ticks strings.Builder
	for i, p := range s.Parts {
		for _, t := range p.ticks(one) {
			x := one*float64(i) + t.at*one
			high := bandsLine - 7
			if t.named {
				high = bandsLine - 12
				name("bands-number", t.anchor(), x, short3(t.value), false)
			}
			ticks.WriteString("M" + num(x) + " " + num(high) + "V" + num(bandsLine))
		}
	}
	b.WriteString(`<path class="bands-tick" d="` + ticks.String() + `"/></svg>`)
	return b.String()
}

type bandTick struct {
	at    float64 // 0 to 1, within the part
	value float64
	named bool
}

func (t bandTick) anchor() string {
	if t.at == 0 {
		return "start"
	}
	return "middle"
}

// ticks are the readings that are marked within a part, at least 5 px apart.
func (p Part) ticks(wide float64) []bandTick {
	from, to := 0.0, 0.0
	switch {
	case p.Low == nil && p.High == nil:
		return nil
	case p.Low == nil:
		to = *p.High
		if to <= 0 {
			return nil
		}
	case p.High == nil:
		if from = *p.Low; from <= 0 {
			return nil
		}
		to = from * math.Pow(10, decadesOn)
	default:
		from, to = *p.Low, *p.High
	}
	if !(to > from) {
		return nil
	}
	var out []bandTick
	if from > 0 && math.Log10(to/from) > decadesIn {
		whole := math.Log10(to / from)
		for d := math.Floor(math.Log10(from)); d <= math.Log10(to); d++ {
			for m := 1.0; m < 10; m++ {
				x := m * math.Pow(10, d)
				at := math.Log10(x/from) / whole
				if at <= .005 || at >= .995 || m != 1 && wide/whole*math.Log10((m+1)/m) < 5 {
					continue
				}
				out = append(out, bandTick{at, x, m == 1})
			}
		}
		return out
	}
	step := tickStep((to - from) / 2)
	fine := step / 10
	for fine/(to-from)*wide < 5 {
		fine *= 2
		if fine > step/2 {
			fine = step
		}
	}
	for k := math.Ceil(from/fine - 1e-9); k*fine <= to; k++ {
		x := k*fine + 0 // no -0
		at := (x - from) / (to - from)
		if at > .995 || at < .005 && from != 0 {
			continue
		}
		out = append(out, bandTick{at, x, math.Abs(x/step-math.Round(x/step)) < 1e-6})
	}
	return out
}

// tickStep is the round number, 1, 2 or 5 with zeros, at or below x.
func tickStep(x float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(x)))
	for _, m := range []float64{5, 2} {
		if x >= m*p {
			return m * p
		}
	}
	return p
}

// short3 is a number of at most three digits with its prefix, without a unit.
func short3(x float64) string {
	x = quantity.Round(x, 3)
	a := math.Abs(x)
	for _, p := range []struct {
		from float64
		sign string
	}{{1e9, "G"}, {1e6, "M"}, {1e3, "k"}, {.01, ""}, {1e-5, "m"}, {1e-8, "µ"}, {1e-11, "n"}} {
		if a >= p.from {
			scale := p.from
			switch p.sign {
			case "":
				scale = 1
			case "m":
				scale = 1e-3
			case "µ":
				scale = 1e-6
			case "n":
				scale = 1e-9
			}
			text := strconv.FormatFloat(quantity.Round(x/scale, 3), 'f', -1, 64)
			return strings.Replace(strings.TrimSpace(text+" "+p.sign), "-", "−", 1)
		}
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}
