// Package draw makes drawings as SVG text, at publish and in the browser alike: charts,
// a whole parted into shares (Strip), the scale of a test's answers (Bands), and the minutes
// of a trace along a rule (Arm, Ruler).
//
// A Chart is plain numbers; SVG turns it into a drawing with presentation
// attributes and classes only, because the pages' policy allows no inline style.
// Curves are told apart by their dashes and by their names beside them, not by
// colour. Every drawing carries its title and what it shows in words.
package draw

import (
	"cmp"
	"math"
	"strconv"
	"strings"

	"faultleaf/calc/inorder"
	"faultleaf/calc/quantity"
)

// The drawing's own size; it scales to its place.
const (
	width      = 460.0
	left, foot = 36.0, 46.0
	bare       = 14.0         // right of and above the plot, where nothing is named there
	tall, low  = 220.0, 110.0 // the plot, and the one under it for series with an axis of their own
	row        = 18.0         // of the key under the plot, and of names above it
	pitch      = 13.0         // between two names
	face       = 8.4          // width of a letter that is reckoned with: a wide face at 12
)

// plot is one rectangle of curves.
type plot struct {
	x0, x1, y0, y1           float64 // the axes' ends
	left, right, top, bottom float64 // on the drawing
	names                    float64 // height of what is named above it
	ys                       scale
}

func (p *plot) px(x float64) float64 {
	return p.left + (x-p.x0)/(p.x1-p.x0)*(p.right-p.left)
}

// py is the height on the drawing of a value; what lies outside the axis is drawn
// at its end.
func (p *plot) py(y float64) float64 {
	y = math.Max(p.y0, math.Min(p.y1, y))
	return p.bottom - (y-p.y0)/(p.y1-p.y0)*(p.bottom-p.top)
}

func newPlot(a Axis, series []Series, marks []Mark, n int) *plot {
	p := &plot{left: left}
	p.y0, p.y1 = span(a, series, marks, false)
	p.ys = ticks(p.y0, p.y1, n)
	if a.From == a.To { // let the data end at a tick
		p.y0, p.y1 = math.Min(p.y0, p.ys.from), math.Max(p.y1, p.ys.to)
		p.ys = ticks(p.y0, p.y1, n)
	}
	return p
}

// SVG draws the chart. id becomes the prefix of the ids inside, so that several
// drawings can stand on one page. Points that are no numbers are left out. No name
// lies on a curve: levels are named right of the plot, upright marks above it,
// curves and points in a key under it; series of the right axis have a plot of
// their own under the first, over the same axis.
func (c Chart) SVG(id string) string {
	var onLeft, onRight []Series
	for _, s := range c.Series {
		if s.Right {
			onRight = append(onRight, s)
		} else {
			onLeft = append(onLeft, s)
		}
	}
	x0, x1 := span(c.X, c.Series, c.Marks, true)
	xs := ticks(x0, x1, 6)
	main := newPlot(c.Y, onLeft, c.Marks, 5)
	main.x0, main.x1 = x0, x1
	levels, uprights, dots := c.marks(main)

	main.right = width - bare - face*float64(len([]rune(quantity.Tick(xs.to, xs.step))))/2 // of the last number under the axis
	for _, m := range levels {
		main.right = math.Min(main.right, width-10-face*float64(len([]rune(short(m.Name)))))
	}
	plots := []*plot{main}
	if onRight != nil {
		under := newPlot(c.Right, onRight, nil, 3)
		under.x0, under.x1 = x0, x1
		plots = append(plots, under)
	}
	for _, p := range plots { // room for the longest number beside an axis
		for _, y := range p.ys.at {
			main.left = math.Max(main.left, 12+face*float64(len([]rune(quantity.Tick(y, p.ys.step)))))
		}
	}
	var above []named
	above, main.names = over(uprights, main, row+4)
	main.top = row + 4 + main.names
	main.bottom = main.top + tall
	last := plots[len(plots)-1]
	if last != main {
		last.left, last.right, last.top = main.left, main.right, main.bottom+12+row
		last.bottom = last.top + low
	}
	key, high := c.key(dots, last.bottom+foot)

	var b strings.Builder
	begin(&b, id, c.Title, c.Says, high)
	for i, p := range plots {
		p.grid(&b, xs, p == last, []Axis{c.Y, c.Right}[i])
	}
	b.WriteString(label("draw-label", (last.left+last.right)/2, last.bottom+36, "middle", axisText(c.X)))
	for i, s := range c.Series {
		p := main
		if s.Right {
			p = last
		}
		if path := curve(s, p); path != "" {
			b.WriteString(`<path class="` + s.class(i) + `" d="` + path + `"/>`)
		}
	}
	main.levels(&b, levels)
	for i, m := range uprights {
		x := num(main.px(m.X))
		b.WriteString(line("draw-mark", x, num(main.top), x, num(main.bottom)))
		b.WriteString(label("draw-label", above[i].x, above[i].y, "middle", short(m.Name)))
	}
	for i, m := range dots {
		b.WriteString(dot(i, main.px(m.X), main.py(m.Y)))
	}
	b.WriteString(key)
	b.WriteString(`</svg>`)
	return b.String()
}

// grid draws the lines behind a plot, its axes and the numbers beside them; those under it
// only where it is the lowest.
func (p *plot) grid(b *strings.Builder, xs scale, lowest bool, y Axis) {
	for _, t := range p.ys.at {
		at := num(p.py(t))
		b.WriteString(line("draw-grid", num(p.left), at, num(p.right), at))
		b.WriteString(label("draw-tick", p.left-6, p.py(t)+4, "end", quantity.Tick(t, p.ys.step)))
	}
	free := 0.0
	for _, t := range xs.at {
		x := num(p.px(t))
		b.WriteString(line("draw-grid", x, num(p.top), x, num(p.bottom)))
		if !lowest {
			continue
		}
		text := quantity.Tick(t, xs.step)
		half := face * float64(len(text)) / 2
		if p.px(t)-half < free { // no room beside the last number
			continue
		}
		free = p.px(t) + half + 5
		b.WriteString(label("draw-tick", p.px(t), p.bottom+16, "middle", text))
	}
	b.WriteString(`<path class="draw-axis" d="M` + num(p.left) + ` ` + num(p.top) + `V` + num(p.bottom) + `H` + num(p.right) + `"/>`)
	b.WriteString(label("draw-label", 4, p.top-p.names-10, "start", axisText(y)))
}

// levels draws marks across a plot, their names at the right of it and apart, from the
// lowest up.
func (p *plot) levels(b *strings.Builder, marks []Mark) {
	inorder.By(marks, func(a, b Mark) int { return cmp.Compare(a.Y, b.Y) })
	at := p.bottom + pitch - 2
	for _, m := range marks {
		y := p.py(m.Y)
		b.WriteString(line("draw-mark", num(p.left), num(y), num(p.right), num(y)))
		at = math.Min(y, at-pitch)
		b.WriteString(line("draw-mark", num(p.right), num(y), num(p.right+6), num(at)))
		b.WriteString(label("draw-label", p.right+8, at+4, "start", short(m.Name)))
	}
}

// marks are those of the chart that lie within the plot.
func (c Chart) marks(p *plot) (levels, uprights, dots []Mark) {
	for _, m := range c.Marks {
		switch {
		case !finite(m.X) || !finite(m.Y):
		case m.Level:
			if m.Y >= p.y0 && m.Y <= p.y1 {
				levels = append(levels, m)
			}
		case m.Upright:
			if m.X >= p.x0 && m.X <= p.x1 {
				uprights = append(uprights, m)
			}
		case m.X >= p.x0 && m.X <= p.x1:
			dots = append(dots, m)
		}
	}
	return levels, uprights, dots
}

// short keeps the name of a mark within the room beside a plot.
func short(name string) string {
	if r := []rune(name); len(r) > 14 {
		return string(r[:13]) + "…"
	}
	return name
}

// named is where a name stands.
type named struct{ x, y float64 }

// over finds the places of the names above the plot, each in the lowest row in
// which it stands free, and how high the rows are together.
func over(uprights []Mark, p *plot, top float64) ([]named, float64) {
	if len(uprights) == 0 {
		return nil, 0
	}
	type taken struct{ from, to float64 }
	var rows [][]taken
	var at []named
	var in []int
	for _, m := range uprights {
		wide := face * float64(len([]rune(short(m.Name))))
		x := math.Max(p.left+wide/2, math.Min(p.right-wide/2, p.px(m.X)))
		place := taken{x - wide/2 - 6, x + wide/2 + 6}
		k := 0
		for ; k < len(rows); k++ {
			free := true
			for _, o := range rows[k] {
				free = free && (place.to <= o.from || place.from >= o.to)
			}
			if free {
				break
			}
		}
		if k == len(rows) {
			rows = append(rows, nil)
		}
		rows[k] = append(rows[k], place)
		at, in = append(at, named{x: x}), append(in, k)
	}
	for i := range at {
		at[i].y = top + row*float64(len(rows)-in[i]) - 6
	}
	return at, row * float64(len(rows))
}

// class of a curve: the first is drawn full, the others dashed.
func (s Series) class(i int) string {
	switch {
	case i > 0:
		return "draw-line-" + string(rune('1'+min(i, 3)))
	case s.Dashed:
		return "draw-line-2"
	}
	return "draw-line"
}

// dot draws the mark of a point; the first four differ in shape.
func dot(i int, x, y float64) string {
	switch i % 4 {
	case 1:
		return `<rect class="draw-dot" x="` + num(x-4) + `" y="` + num(y-4) + `" width="8" height="8"/>`
	case 2:
		return `<path class="draw-dot" d="M` + num(x) + ` ` + num(y-6) + `L` + num(x+6) + ` ` + num(y) + `L` + num(x) + ` ` + num(y+6) + `L` + num(x-6) + ` ` + num(y) + `"/>`
	case 3:
		return `<path class="draw-dot" d="M` + num(x) + ` ` + num(y-5) + `L` + num(x+5) + ` ` + num(y+4) + `L` + num(x-5) + ` ` + num(y+4) + `"/>`
	}
	return `<circle class="draw-dot" cx="` + num(x) + `" cy="` + num(y) + `" r="4.5"/>`
}

// key names curves and points under the plot, in rows, and tells how high the
// drawing becomes.
func (c Chart) key(dots []Mark, y float64) (string, float64) {
	var b strings.Builder
	const sample, gap = 30.0, 16.0
	x, high := 8.0, y
	entry := func(name string, draw func(x, y float64) string) {
		if name == "" {
			return
		}
		if r := []rune(name); len(r) > 45 {
			name = string(r[:44]) + "…"
		}
		wide := sample + 6 + face*float64(len([]rune(name)))
		switch {
		case high == y:
			high += row
		case x+wide > width:
			x, high = 8, high+row
		}
		b.WriteString(draw(x, high-4))
		b.WriteString(label("draw-label", x+sample+6, high, "start", name))
		x += wide + gap
	}
	for i, s := range c.Series {
		entry(s.Name, func(x, y float64) string { return line(s.class(i), num(x), num(y), num(x+sample), num(y)) })
	}
	for i, m := range dots {
		entry(m.Name, func(x, y float64) string { return dot(i, x+sample/2, y) })
	}
	return b.String(), high + 8
}

// begin opens a drawing and names it.
func begin(b *strings.Builder, id, title, says string, high float64) {
	id = escape(id)
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" class="draw" role="img" viewBox="0 0 ` + num(width) + ` ` + num(high) +
		`" aria-labelledby="` + id + `-t ` + id + `-d" font-size="12">`)
	b.WriteString(`<title id="` + id + `-t">` + escape(title) + `</title><desc id="` + id + `-d">` + escape(says) + `</desc>`)
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

// curve is the path of a series, broken where a point is no number or lies
// outside the axis.
func curve(s Series, p *plot) string {
	b := make([]byte, 0, 12*len(s.X))
	pen := byte('M')
	for i := range min(len(s.X), len(s.Y)) {
		if !finite(s.X[i]) || !finite(s.Y[i]) || s.X[i] < p.x0 || s.X[i] > p.x1 {
			pen = 'M'
			continue
		}
		b = appendNum(append(b, pen), p.px(s.X[i]))
		b = appendNum(append(b, ' '), p.py(s.Y[i]))
		pen = 'L'
	}
	return string(b)
}

// pen is a drawing in the making.
type pen struct{ b []byte }

// put appends texts as they are, and lengths as num tells them.
func (p *pen) put(parts ...any) {
	if p.b == nil {
		p.b = make([]byte, 0, 1<<10)
	}
	p.b = Put(p.b, appendNum, parts...)
}

// Put appends texts as they are, and lengths, which are of float64 or int, as num
// appends them.
func Put(b []byte, num func([]byte, float64) []byte, parts ...any) []byte {
	for _, x := range parts {
		switch x := x.(type) {
		case string:
			b = append(b, x...)
		case float64:
			b = num(b, x)
		case int:
			b = num(b, float64(x))
		}
	}
	return b
}

func (p *pen) String() string { return string(p.b) }

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
