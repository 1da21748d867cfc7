package draw

import (
	"math"
	"strings"
	"unicode/utf8"

	"faultleaf/calc/quantity"
)

// Tree is a plan drawn against a ruler of minutes: what is done first, what each
// outcome leads to, and when on the ruler each step begins and ends. Every step
// has a row of its own, so that no two texts meet.
type Tree struct {
	Title string
	Says  string // the picture in words
	First *Step  // nil draws the ruler alone
}

// Step is one thing done: a bar from At, Minutes long.
type Step struct {
	Label       string
	Note        string  // smaller, after the label; "" for none
	At, Minutes float64 // minutes from the start
	Ways        []Way
}

// Way leads from a step to the next by what came of it.
type Way struct {
	Label string // what came of it, e.g. "open"
	Then  *Step  // nil where the plan ends
}

// A row holds one line of text and the bar below it. The letters' width is an
// estimate: it only decides where a text starts and how much of it is shown.
const (
	row, bar       = 34.0, 7.0
	treeLeft       = 12.0
	letter         = 6.3
	deepest, drawn = 60, 400 // levels and rows; what is beyond is counted, not drawn
)

// SVG draws the tree. id becomes the prefix of the ids inside.
func (t Tree) SVG(id string) string {
	d := treeDrawing{}
	d.lay(t.First, "", -1, 0)
	end := 0.0
	for _, r := range d.rows {
		end = math.Max(end, r.at+r.long)
	}
	if end <= 0 {
		end = 1
	}
	ruler := ticks(0, end, 6)
	end = math.Max(end, ruler.to)
	ruler = ticks(0, end, 6)
	px := func(minutes float64) float64 { return treeLeft + minutes/end*(width-2*treeLeft) }
	const head = 34.0
	high := head + row*float64(len(d.rows)) + 8
	if d.left > 0 {
		high += 18
	}

	var b strings.Builder
	begin(&b, id, t.Title, t.Says, high)
	for _, at := range ruler.at {
		x := num(px(at))
		b.WriteString(line("draw-grid", x, "22", x, num(high-4)))
		b.WriteString(label("draw-tick", px(at), 16, "middle", quantity.Tick(at, ruler.step)))
	}
	b.WriteString(label("draw-label", width-treeLeft, 31, "end", "minutes"))
	b.WriteString(`<path class="draw-axis" fill="none" stroke="currentColor" d="M` + num(px(0)) + ` 22H` + num(px(end)) + `"/>`)
	for n, r := range d.rows {
		y := head + row*float64(n) // top of the row
		from, to := px(r.at), px(r.at+r.long)
		if r.parent >= 0 {
			p := d.rows[r.parent]
			x := px(p.at + p.long)
			below := head + row*float64(r.parent) + row - 8
			b.WriteString(`<path class="draw-axis" fill="none" stroke="currentColor" d="M` + num(x) + ` ` + num(below) + `V` + num(y+row-8-bar/2) + `H` + num(from) + `"/>`)
		}
		b.WriteString(`<g><title>` + escape(strings.TrimSpace(r.text+" "+r.note)) + `</title>`)
		b.WriteString(`<rect class="draw-step" fill="currentColor" fill-opacity=".55" x="` + num(from) + `" y="` + num(y+row-8-bar) + `" width="` + num(math.Max(to-from, 2)) + `" height="` + num(bar) + `"/>`)
		full := r.text
		if r.note != "" {
			full += "  " + r.note
		}
		x, anchor := from, "start"
		if room := width - 4 - from; wide(full) > room {
			// from the right edge there is more room
			x, anchor = width-4, "end"
			full = shorten(full, width-8)
		}
		b.WriteString(label("draw-label", x, y+row-8-bar-4, anchor, full))
		b.WriteString(`</g>`)
	}
	if d.left > 0 {
		b.WriteString(label("draw-label", treeLeft, high-6, "start", "and "+quantity.Number(float64(d.left))+" more steps"))
	}
	b.WriteString(`</svg>`)
	return b.String()
}

type treeRow struct {
	text, note string
	at, long   float64
	parent     int
}

type treeDrawing struct {
	rows []treeRow
	left int // steps that were not drawn
}

// lay gives a step and all after it their rows, depth first.
func (d *treeDrawing) lay(s *Step, came string, parent, depth int) {
	if s == nil {
		return
	}
	if len(d.rows) >= drawn || depth >= deepest {
		d.left++
		return // what comes after it is not counted
	}
	r := treeRow{text: s.Label, note: s.Note, at: minutes(s.At), long: minutes(s.Minutes), parent: parent}
	if came != "" {
		r.text = came + ": " + r.text
	}
	d.rows = append(d.rows, r)
	me := len(d.rows) - 1
	for _, w := range s.Ways {
		d.lay(w.Then, w.Label, me, depth+1)
	}
}

// minutes that can be drawn: finite and not before the start.
func minutes(m float64) float64 {
	if !finite(m) || m < 0 {
		return 0
	}
	return m
}

// wide estimates the width of a text.
func wide(s string) float64 { return letter * float64(utf8.RuneCountInString(s)) }

// shorten cuts a text to a width and says so with an ellipsis.
func shorten(s string, room float64) string {
	if wide(s) <= room {
		return s
	}
	n := max(int(room/letter)-1, 0)
	return strings.TrimSpace(string([]rune(s)[:n])) + "…"
}
