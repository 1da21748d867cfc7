package circuit

import (
	"math"
	"slices"
	"unicode/utf8"
)

// The chain as it stands above a question on a low or narrow screen: its symbols in
// squares, with what is suspected, what is cleared and what the test tells about. Names,
// shares and probes are in the whole drawing, a tap away.
const (
	slimPitch  = 36.0
	slimTop    = 8.0  // from the row's upper edge to its squares; the reach lies there
	slimLetter = 12.0 // under them
	slimHigh   = 24.0 // the number and words of the reach, under all rows
)

// SlimWide draws it for a low screen, and SlimPocket for a telephone: so many in a row.
func (c Chain) SlimWide() string   { svg, _ := c.slim("slim-wide", 16); return svg }
func (c Chain) SlimPocket() string { svg, _ := c.slim("slim-pocket", 8); return svg }

func (c Chain) slim(class string, most int) (string, *picture) {
	var blocks []Block
	for _, part := range c.Parts {
		if part.Block != nil {
			blocks = append(blocks, *part.Block)
		}
		for _, way := range part.Ways {
			blocks = append(blocks, way...)
		}
	}
	const row = slimTop + miniHigh + slimLetter + 6
	rows := (len(blocks) + most - 1) / most
	wide := float64(most)*slimPitch + 2
	p := &picture{b: make([]byte, 0, 4<<10)}
	at := func(i int) (x, y float64) {
		return 2 + float64(i%most)*slimPitch, float64(i/most)*row + slimTop
	}
	for r := range rows {
		n := min(most, len(blocks)-r*most)
		y, from, to := float64(r)*row+slimTop+miniHigh/2, 0.0, 2+float64(n-1)*slimPitch+miniWide/2
		if r == 0 {
			from = 2
		}
		if r < rows-1 {
			to = wide
		}
		p.put(`<path class="wire" fill="none" d="M`, from, ` `, y, `H`, to, `"/>`)
	}
	for i, b := range blocks {
		x, y := at(i)
		p.put(`<g class="`, b.look(), `"><rect class="part-box" x="`, x, `" y="`, y, `" width="`, float64(miniWide), `" height="`, float64(miniHigh), `"/>`)
		p.boxes = append(p.boxes, box{"part", x, y, miniWide, miniHigh, b.Name})
		if s, ok := symbols[b.Symbol]; ok {
			p.put(`<g class="symbol" transform="translate(`, x+miniWide/2, ` `, y+miniHigh/2, `)">`, s, `</g>`)
		}
		p.put(`</g>`)
		switch {
		case b.Cleared != "":
			p.put(`<path class="part-tick" fill="none" d="M`, x+miniWide/2-6, ` `, y+miniHigh+8, `l4 4l7 -9"/>`)
		case len(b.Letters) > 0:
			text := ""
			for _, l := range b.Letters[:min(3, len(b.Letters))] {
				text += l
			}
			p.label("slim-letters", x+miniWide/2, y+miniHigh+slimLetter+1, "middle", text, slimLetter, 0)
		}
	}
	begun := -1.0 // of the stretch that is being gathered
	for i, b := range blocks {
		if !slices.Contains(c.Reach.Blocks, b.ID) {
			continue
		}
		x, y := at(i)
		if begun < 0 {
			begun = x
		}
		if i+1 < len(blocks) && (i+1)%most != 0 && slices.Contains(c.Reach.Blocks, blocks[i+1].ID) {
			continue
		}
		p.put(`<path class="reach" fill="none" d="M`, begun, ` `, y-2, `V`, y-5, `H`, x+miniWide, `V`, y-2, `"/>`)
		begun = -1
	}
	p.high = float64(rows) * row
	if c.Reach.Step != "" {
		w := math.Max(18, float64(utf8.RuneCountInString(c.Reach.Step))*13*letter+8)
		y := p.high + 2
		p.put(`<rect class="reach-box" x="2" y="`, y, `" width="`, w, `" height="18"/><text class="reach-step" font-size="13" text-anchor="middle" x="`, 2+w/2, `" y="`, y+14, `">`, escape(c.Reach.Step), `</text>`)
		if f := fit(c.Reach.Says, wide-w-12, 13, 1); len(f) > 0 {
			p.label("reach-says", 2+w+6, y+14, "start", f[0].text, f[0].size, f[0].squeeze)
		}
		p.high += slimHigh
	}
	return p.framed(c, class, wide), p
}
