package draw

import (
	"math"
	"strings"
	"unicode/utf8"
)

// Bars are shares of a whole, one under the other: chances, or counts over the
// highest count.
type Bars struct {
	Title string
	Says  string // the picture in words
	Bars  []Bar
}

// Bar is one of them; Value lies between 0 and 1, and Text is what it says.
type Bar struct {
	Label string
	Value float64
	Text  string
}

// SVG draws the bars, each below its label, its text at the right. id becomes the
// prefix of the ids inside.
func (c Bars) SVG(id string) string {
	const pitch, thick = 36.0, 10.0
	var b strings.Builder
	begin(&b, id, c.Title, c.Says, 4+pitch*float64(len(c.Bars)))
	for n, bar := range c.Bars {
		y := 4 + pitch*float64(n)
		v := bar.Value
		if math.IsNaN(v) {
			v = 0
		}
		v = math.Max(0, math.Min(1, v))
		text := shorten(bar.Text, width/2)
		b.WriteString(`<g><title>` + escape(strings.TrimSpace(bar.Label+" "+bar.Text)) + `</title>`)
		b.WriteString(label("draw-label", 2, y+12, "start", shorten(bar.Label, width-wide(text)-16)))
		b.WriteString(label("draw-label", width-2, y+12, "end", text))
		b.WriteString(`<rect class="draw-trough" fill="none" stroke="currentColor" stroke-opacity=".4" x="2" y="` + num(y+18) + `" width="` + num(width-4) + `" height="` + num(thick) + `"/>`)
		b.WriteString(`<rect class="draw-bar" fill="currentColor" fill-opacity=".7" x="2" y="` + num(y+18) + `" width="` + num((width-4)*v) + `" height="` + num(thick) + `"/></g>`)
	}
	b.WriteString(`</svg>`)
	return b.String()
}

// letter is an estimate of a letter's width; it only decides how much is shown.
const letter = 6.3

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
