// Package draw makes plots as SVG text, at publish and in the browser alike.
//
// A Chart is plain numbers; SVG turns it into a drawing with presentation
// attributes and classes only, because the pages' policy allows no inline style.
// Curves are told apart by their dashes and by their names beside them, not by
// colour. Every drawing carries its title and what it shows in words.
package draw

import (
	"math"
	"strconv"
	"strings"

	"faultleaf/calc/quantity"
)

// The drawing's own size; it scales to its place.
const (
	width, height         = 460.0, 280.0
	left, top, foot       = 52.0, 14.0, 46.0
	rightBare, rightTicks = 12.0, 50.0 // without and with a right axis
)

// SVG draws the chart. id becomes the prefix of the ids inside, so that several
// drawings can stand on one page. Points that are no numbers are left out.
func (c Chart) SVG(id string) string {
	var onLeft, onRight []Series
	for _, s := range c.Series {
		if s.Right {
			onRight = append(onRight, s)
		} else {
			onLeft = append(onLeft, s)
		}
	}
	right := rightBare
	if onRight != nil {
		right = rightTicks
	}
	x0, x1 := span(c.X, c.Series, c.Marks, true)
	y0, y1 := span(c.Y, onLeft, c.Marks, false)
	xs, ys := ticks(x0, x1, 6), ticks(y0, y1, 5)
	if c.Y.From == c.Y.To { // let the data end at a tick
		y0, y1 = math.Min(y0, ys.from), math.Max(y1, ys.to)
		ys = ticks(y0, y1, 5)
	}
	px := func(x float64) float64 { return left + (x-x0)/(x1-x0)*(width-left-right) }
	py := upward(y0, y1)

	var b strings.Builder
	begin(&b, id, c.Title, c.Says, height)
	for _, t := range ys.at {
		y := num(py(t))
		b.WriteString(line("draw-grid", num(left), y, num(width-right), y))
		b.WriteString(label("draw-tick", left-6, py(t)+4, "end", quantity.Tick(t, ys.step)))
	}
	for _, t := range xs.at {
		x := num(px(t))
		b.WriteString(line("draw-grid", x, num(top), x, num(height-foot)))
		b.WriteString(label("draw-tick", px(t), height-foot+16, "middle", quantity.Tick(t, xs.step)))
	}
	b.WriteString(`<path class="draw-axis" d="M` + num(left) + ` ` + num(top) + `V` + num(height-foot) + `H` + num(width-right) + `"/>`)
	b.WriteString(label("draw-label", (left+width-right)/2, height-6, "middle", axisText(c.X)))
	b.WriteString(`<text class="draw-label" text-anchor="middle" transform="translate(13 ` + num((top+height-foot)/2) + `) rotate(-90)">` + escape(axisText(c.Y)) + `</text>`)
	pyRight := py
	if onRight != nil {
		from, to := span(c.Right, onRight, nil, false)
		at := ticks(from, to, 5)
		if c.Right.From == c.Right.To {
			from, to = math.Min(from, at.from), math.Max(to, at.to)
			at = ticks(from, to, 5)
		}
		pyRight = upward(from, to)
		b.WriteString(line("draw-axis", num(width-right), num(top), num(width-right), num(height-foot)))
		for _, t := range at.at {
			b.WriteString(label("draw-tick", width-right+5, pyRight(t)+4, "start", quantity.Tick(t, at.step)))
		}
		b.WriteString(`<text class="draw-label" text-anchor="middle" transform="translate(` + num(width-5) + ` ` + num((top+height-foot)/2) + `) rotate(-90)">` + escape(axisText(c.Right)) + `</text>`)
	}
	var taken []float64
	for i, s := range c.Series {
		class := "draw-line"
		if i > 0 || s.Dashed {
			class += "-" + string(rune('1'+min(max(i, 1), 2)))
		}
		scale, anchor := py, "end"
		if s.Right {
			scale = pyRight
		}
		path, endX, endY := curve(s, x0, x1, px, scale)
		if path == "" {
			continue
		}
		b.WriteString(`<path class="` + class + `" d="` + path + `"/>`)
		if s.Name == "" {
			continue
		}
		// the name stands at the curve's end, or right of the peak of one that
		// belongs to the right axis, moved off other names
		if s.Right {
			anchor = "start"
			endX, endY = peak(s, x0, x1, px, scale)
			if endX += 6; endX > width*0.6 {
				anchor, endX = "end", endX-12
			}
			endY += 12
		}
		y := clear(math.Max(top+10, math.Min(height-foot-4, endY-5)), taken)
		taken = append(taken, y)
		b.WriteString(label("draw-label", math.Min(endX, width-right-2), y, anchor, s.Name))
	}
	for _, m := range c.Marks {
		if !finite(m.X) || !finite(m.Y) {
			continue
		}
		switch {
		case m.Level:
			if m.Y < y0 || m.Y > y1 {
				continue
			}
			b.WriteString(line("draw-mark", num(left), num(py(m.Y)), num(width-right), num(py(m.Y))))
			b.WriteString(label("draw-label", left+4, py(m.Y)-4, "start", m.Name))
		case m.Upright:
			if m.X < x0 || m.X > x1 {
				continue
			}
			b.WriteString(line("draw-mark", num(px(m.X)), num(top), num(px(m.X)), num(height-foot)))
			b.WriteString(label("draw-label", px(m.X)+4, top+10, "start", m.Name))
		case m.X >= x0 && m.X <= x1:
			x, y := px(m.X), py(m.Y)
			b.WriteString(`<circle class="draw-dot" cx="` + num(x) + `" cy="` + num(y) + `" r="4.5"/>`)
			anchor, at := "start", x+7
			if x > width*0.6 {
				anchor, at = "end", x-7
			}
			b.WriteString(label("draw-label", at, math.Max(top+10, y-7), anchor, m.Name))
		}
	}
	b.WriteString(`</svg>`)
	return b.String()
}

// begin opens a drawing and names it.
func begin(b *strings.Builder, id, title, says string, high float64) {
	id = escape(id)
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" class="draw" role="img" viewBox="0 0 ` + num(width) + ` ` + num(high) +
		`" aria-labelledby="` + id + `-t ` + id + `-d" font-size="12">`)
	b.WriteString(`<title id="` + id + `-t">` + escape(title) + `</title><desc id="` + id + `-d">` + escape(says) + `</desc>`)
}

// upward gives the height on the drawing of a value; what lies outside the axis
// is drawn at its end.
func upward(from, to float64) func(float64) float64 {
	return func(y float64) float64 {
		y = math.Max(from, math.Min(to, y))
		return height - foot - (y-from)/(to-from)*(height-top-foot)
	}
}

func axisText(a Axis) string {
	if a.Unit == "" {
		return a.Label
	}
	return a.Label + ", " + a.Unit
}

func finite(x float64) bool { return !math.IsNaN(x) && math.Abs(x) < 1e15 }

// span is the axis's own range, or that of the data.
func span(a Axis, series []Series, marks []Mark, isX bool) (from, to float64) {
	if finite(a.From) && finite(a.To) && a.From < a.To {
		return a.From, a.To
	}
	from, to = math.Inf(1), math.Inf(-1)
	take := func(v float64) {
		if finite(v) {
			from, to = math.Min(from, v), math.Max(to, v)
		}
	}
	for _, s := range series {
		vs := s.Y
		if isX {
			vs = s.X
		}
		for _, v := range vs {
			take(v)
		}
	}
	for _, m := range marks {
		if isX && !m.Level {
			take(m.X)
		}
		if !isX && !m.Upright {
			take(m.Y)
		}
	}
	switch {
	case from > to:
		return 0, 1
	case to-from <= 1e-9*math.Max(math.Abs(to), 1e-12):
		d := math.Max(math.Abs(to)*.1, 1e-9)
		return from - d, to + d
	}
	return from, to
}

type scale struct {
	at             []float64
	step, from, to float64
}

// ticks are round numbers (1, 2 or 5 times a power of ten) that cover a range.
func ticks(from, to float64, n int) scale {
	raw := (to - from) / float64(n)
	step := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5, 10} {
		if s := step * m; s >= raw*(1-1e-9) {
			step = s
			break
		}
	}
	s := scale{step: step, from: math.Floor(from/step+1e-9) * step, to: math.Ceil(to/step-1e-9) * step}
	for k := math.Ceil(from/step - 1e-9); k <= to/step+1e-9 && len(s.at) < 30; k++ {
		s.at = append(s.at, k*step)
	}
	return s
}

// clear moves a name down until it stands off the others. Every move goes past
// one of them, so that it ends also where sums of 13 are rounded.
func clear(y float64, taken []float64) float64 {
	const pitch = 13
	for range taken {
		moved := false
		for _, t := range taken {
			if math.Abs(t-y) < pitch-1e-6 {
				y, moved = t+pitch, true
			}
		}
		if !moved || y > height {
			break
		}
	}
	return y
}

// curve is the path of a series, broken where a point is no number or lies
// outside the axis from x0 to x1.
func curve(s Series, x0, x1 float64, px, py func(float64) float64) (path string, endX, endY float64) {
	b := make([]byte, 0, 12*len(s.X))
	pen := byte('M')
	for i := range min(len(s.X), len(s.Y)) {
		if !finite(s.X[i]) || !finite(s.Y[i]) || s.X[i] < x0 || s.X[i] > x1 {
			pen = 'M'
			continue
		}
		endX, endY = px(s.X[i]), py(s.Y[i])
		b = appendNum(append(b, pen), endX)
		b = appendNum(append(b, ' '), endY)
		pen = 'L'
	}
	return string(b), endX, endY
}

// peak is where the highest point of a series is drawn; it has one.
func peak(s Series, x0, x1 float64, px, py func(float64) float64) (x, y float64) {
	top := math.Inf(-1)
	for i := range min(len(s.X), len(s.Y)) {
		if finite(s.X[i]) && finite(s.Y[i]) && s.X[i] >= x0 && s.X[i] <= x1 && s.Y[i] > top {
			top = s.Y[i]
			x, y = px(s.X[i]), py(s.Y[i])
		}
	}
	return x, y
}

// num is a coordinate with at most one decimal.
func num(x float64) string {
	var b [24]byte
	return string(appendNum(b[:0], x))
}

func appendNum(b []byte, x float64) []byte {
	if !finite(x) {
		return append(b, '0')
	}
	tenths := int64(math.Round(x * 10))
	if tenths < 0 {
		b, tenths = append(b, '-'), -tenths
	}
	b = strconv.AppendInt(b, tenths/10, 10)
	if t := tenths % 10; t != 0 {
		b = append(b, '.', byte('0'+t))
	}
	return b
}

func line(class, x1, y1, x2, y2 string) string {
	return `<line class="` + class + `" x1="` + x1 + `" y1="` + y1 + `" x2="` + x2 + `" y2="` + y2 + `"/>`
}

func label(class string, x, y float64, anchor, text string) string {
	return `<text class="` + class + `" x="` + num(x) + `" y="` + num(y) + `" text-anchor="` + anchor + `">` + escape(text) + `</text>`
}

func escape(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < 0x20 && r != '\n' && r != '\t' || r == 0xFFFE || r == 0xFFFF {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
	return entities.Replace(s)
}

var entities = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")
