package circuit

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"faultleaf/calc/draw"
	"faultleaf/calc/inorder"
)

// letter is the width of a letter in em that room is kept for: bold letters of a
// face of normal width.
const letter = .7

// box is what stands somewhere: a test sees that no two labels meet, and none
// lies on a wire.
type box struct {
	kind       string // part, label, tag, meter
	x, y, w, h float64
	text       string
}

// picture is a drawing in the making.
type picture struct {
	b     []byte
	boxes []box
	high  float64
}

// Wide draws the chain for a page of the usual width.
func (c Chain) Wide() string { svg, _ := c.draw(wideSize); return svg }

// Pocket draws the chain for a telephone.
func (c Chain) Pocket() string { svg, _ := c.draw(pocketSize); return svg }

func (c Chain) draw(s size) (string, *picture) {
	l := lay(c, s)
	p := &picture{b: make([]byte, 0, 8<<10)}
	p.wires(c, l)
	if c.Room.Says != "" {
		p.room(c, l)
	}
	for _, b := range l.blocks {
		p.block(b, l)
	}
	p.apart(c, l)
	notes := p.reach(c, l)
	low := l.bottom
	if c.Meter.Shows != "" {
		low = p.meter(c, l, low)
	}
	if c.Room.Says != "" {
		notes = append(notes, "Dashed: "+c.Room.Says)
	}
	if c.Ends != "" {
		notes = append(notes, "The work: "+c.Ends)
	}
	for _, n := range notes {
		lines, _ := wrap(n, int((s.wide-4)/(s.small*letter)))
		for _, line := range lines {
			low += s.small + 4
			p.label("circuit-note", 2, low-3, "start", line, s.small, 0)
		}
	}
	p.high = low + 4
	return p.framed(c, s.class, s.wide), p
}

// framed is the finished drawing; how high it is turns out last.
func (p *picture) framed(c Chain, class string, wide float64) string {
	body, id := len(p.b), escape("circuit-"+c.ID+"-"+class)
	p.put(`<svg class="circuit circuit-`, class, `" xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 `, wide, ` `, p.high, `" width="`, wide, `" height="`, p.high,
		`" aria-labelledby="`, id, `-t `, id, `-d"><title id="`, id, `-t">`, escape(c.Title), `</title><desc id="`, id, `-d">`, escape(c.Says), `</desc>`)
	return string(p.b[body:]) + string(p.b[:body]) + `</svg>`
}

// put appends texts as they are, and lengths as num tells them.
func (p *picture) put(parts ...any) { p.b = draw.Put(p.b, appendNum, parts...) }

// wires draws the wire, the part that hangs dead where the chain is apart, and
// the letters of the pins.
func (p *picture) wires(c Chain, l *layout) {
	for _, r := range l.runs {
		p.put(`<path class="`, r.class, `" fill="none" d="`)
		for i := 0; i < len(r.at); i += 2 {
			to := "L"
			if i == 0 {
				to = "M"
			}
			p.put(to, r.at[i], ` `, r.at[i+1])
		}
		p.put(`"/>`)
	}
	for _, n := range l.nodes {
		p.put(`<circle class="node" cx="`, n[0], `" cy="`, n[1], `" r="`, l.tag/6, `"/>`)
	}
	if c.Back {
		p.label("circuit-note", 0, l.start[1]-6, "start", c.Poles[0], l.small, 0)
		p.label("circuit-note", 0, l.backs[0]+l.small, "start", c.Poles[1], l.small, 0)
	}
}

// look are the classes of a block's box: how hot it is, that it is cleared, or its state.
func (b *Block) look() string {
	heat := "part part-heat" + strconv.Itoa(Heat(b.Share))
	switch {
	case b.Cleared != "":
		return "part part-clear"
	case b.State != Plain:
		return heat + " part-" + string(b.State)
	}
	return heat
}

// block draws a block with what stands in it.
func (p *picture) block(b placed, l *layout) {
	p.put(`<g class="`, b.look(), `"><rect class="part-box" x="`, b.x, `" y="`, b.y, `" width="`, l.cellW, `" height="`, l.cellH, `"/>`)
	p.boxes = append(p.boxes, box{"part", b.x, b.y, l.cellW, l.cellH, b.Name})
	mid := b.x + l.cellW/2
	below := b.y + l.wire + l.cellH*.17 // where the words begin
	if s, ok := symbols[b.Symbol]; ok {
		p.put(`<g class="symbol" transform="translate(`, mid, ` `, b.y+l.wire, `) scale(`, l.cellH/60, `)">`, s, `</g>`)
	}
	room := l.cellW - 8
	name := b.Name
	if b.Short != "" && (l.class == "pocket" || width(name, l.name) > room) {
		name = b.Short
	}
	said := b.Said != "" || b.Cleared != ""
	lines := fit(name, room, l.name, 2)
	step := l.name + 1
	y := below + l.name
	if len(lines) == 1 && l.class == "wide" {
		y += 3
	}
	if len(lines) > 1 && (said || l.class == "pocket") && y+step > b.y+l.cellH-l.name-2 && said {
		lines = fit(name, room, l.name, 1)
	}
	if i := strings.LastIndexAny(name, " -"); i > 0 && len(lines) > 0 && !lines[len(lines)-1].whole() {
		if noun := fit(name[i+1:], room, l.name, 1); len(noun) > 0 && noun[0].whole() {
			lines = noun // “element” says what is drawn, “sheathed…” does not
		}
	}
	for _, line := range lines {
		p.label("part-name", mid, y, "middle", line.text, line.size, line.squeeze)
		y += step
	}
	foot := b.y + l.cellH - 9
	if l.class == "pocket" {
		foot = b.y + l.cellH - 5
	}
	switch {
	case b.Cleared != "":
		p.put(`<path class="part-tick" fill="none" d="M`, b.x+6, ` `, foot-l.small*.45, `l`, l.small*.3, ` `, l.small*.35, `l`, l.small*.55, ` `, -l.small*.75, `"/>`)
		if f := fit(b.Cleared, room-l.small-4, l.small, 1); len(f) > 0 {
			p.label("part-cleared", b.x+l.small+10, foot, "start", f[0].text, f[0].size, f[0].squeeze)
		}
	case b.Said != "":
		if f := fit(b.Said, room, l.name, 1); len(f) > 0 {
			p.label("part-share", mid, foot-2, "middle", f[0].text, f[0].size, f[0].squeeze)
		}
		if share := math.Max(0, math.Min(1, b.Share)); l.class == "wide" {
			p.put(`<rect class="gauge-all" x="`, b.x+7, `" y="`, b.y+l.cellH-8, `" width="`, l.cellW-14, `" height="5"/><rect class="gauge" x="`, b.x+7, `" y="`, b.y+l.cellH-8, `" width="`, (l.cellW-14)*share, `" height="5"/>`)
		} else {
			p.put(`<rect class="gauge" x="`, b.x+1, `" y="`, b.y+l.cellH-4, `" width="`, (l.cellW-2)*share, `" height="3"/>`)
		}
	}
	p.put(`</g>`)
	for i, letter := range b.Letters[:min(3, len(b.Letters))] {
		x, y := b.x-l.tag*.3+float64(i)*(l.tag+2), b.y-l.tag*.5
		if l.class == "pocket" {
			x, y = b.x-2+float64(i)*(l.tag+1), b.y-5
		}
		p.put(`<rect class="tag" x="`, x, `" y="`, y, `" width="`, l.tag, `" height="`, l.tag, `"/>`)
		p.boxes = append(p.boxes, box{"tag", x, y, l.tag, l.tag, letter})
		p.put(`<text class="tag-text" font-size="`, l.small, `" text-anchor="middle" x="`, x+l.tag/2, `" y="`, y+l.tag*.76, `">`, escape(letter), `</text>`)
	}
}

// apart draws the cut where the chain is taken apart.
func (p *picture) apart(c Chain, l *layout) {
	b, ok := l.find(c.Apart)
	if !ok {
		return
	}
	p.put(`<path class="apart" fill="none" d="M`, b.out, ` `, b.y-l.tag*.4, `V`, b.y+l.cellH+l.low, `"/>`)
}

// stretch is a row of neighbours in one lane.
type stretch struct {
	x0, x1, y float64
	lane      int
	lettered  bool // letters stand on its first block
}

// stretches gathers blocks into rows of neighbours, in the order of the lanes.
func (l *layout) stretches(ids []string) []stretch {
	var at []placed
	for _, b := range l.blocks {
		if slices.Contains(ids, b.ID) {
			at = append(at, b)
		}
	}
	inorder.By(at, func(a, b placed) int { return cmp.Or(cmp.Compare(a.y, b.y), cmp.Compare(a.x, b.x)) })
	var out []stretch
	for _, b := range at {
		if n := len(out); n > 0 && out[n-1].y == b.y && math.Abs(b.x-out[n-1].x1-l.gap) < 1 {
			out[n-1].x1 = b.x + l.cellW
			continue
		}
		out = append(out, stretch{b.x, b.x + l.cellW, b.y, b.lane, len(b.Letters) > 0})
	}
	return out
}

// free tells whether nothing stands in a place yet, and no wire runs through it.
func (p *picture) free(l *layout, at box) bool {
	if at.x < 0 || at.x+at.w > l.wide || at.y < 0 {
		return false
	}
	for _, b := range p.boxes {
		if meets(at, b) {
			return false
		}
	}
	for _, r := range l.runs {
		for i := 0; i+3 < len(r.at); i += 2 {
			x, y := math.Min(r.at[i], r.at[i+2]), math.Min(r.at[i+1], r.at[i+3])
			if meets(at, box{x: x - 2, y: y - 2, w: math.Abs(r.at[i]-r.at[i+2]) + 4, h: math.Abs(r.at[i+1]-r.at[i+3]) + 4}) {
				return false
			}
		}
	}
	return true
}

func meets(a, b box) bool {
	const e = .5
	return a.x+e < b.x+b.w && b.x+e < a.x+a.w && a.y+e < b.y+b.h && b.y+e < a.y+a.h
}

// reach draws a bracket over what a test tells about; words that find no room
// beside its number come back as a note.
func (p *picture) reach(c Chain, l *layout) (notes []string) {
	tip := 10.0 // between bracket and block
	high := 22.0
	if l.class == "pocket" {
		tip, high = 2, 16
	}
	for i, s := range l.stretches(c.Reach.Blocks) {
		y := s.y - l.tag*.5 - tip
		if l.class == "pocket" {
			y = s.y - 6
		}
		leg := s.y - 2
		if s.lettered { // the bracket ends above the letters on the block's corner
			leg = math.Max(y, s.y-l.tag*.5-1)
		}
		p.put(`<path class="reach" fill="none" d="M`, s.x0, ` `, leg, `V`, y, `H`, s.x1, `V`, s.y-2, `"/>`)
		if i > 0 || c.Reach.Step == "" {
			continue
		}
		w := math.Max(high, float64(utf8.RuneCountInString(c.Reach.Step))*l.small*letter+8)
		x := s.x0
		p.put(`<rect class="reach-box" x="`, x, `" y="`, y-high, `" width="`, w, `" height="`, high, `"/>`)
		p.boxes = append(p.boxes, box{"label", x, y - high, w, high - 1, c.Reach.Step})
		p.put(`<text class="reach-step" font-size="`, l.small+1, `" text-anchor="middle" x="`, x+w/2, `" y="`, y-high*.27, `">`, escape(c.Reach.Step), `</text>`)
		if c.Reach.Says == "" {
			continue
		}
		base, long := y-high*.27, width(c.Reach.Says, l.small)
		at := box{y: base - l.small*.75, w: long, h: l.small * .8}
		right, left := at, at
		right.x, left.x = x+w+6, x-6-long
		switch {
		case p.free(l, right):
			p.label("reach-says", right.x, base, "start", c.Reach.Says, l.small, 0)
		case p.free(l, left):
			p.label("reach-says", x-6, base, "end", c.Reach.Says, l.small, 0)
		default:
			notes = append(notes, c.Reach.Step+" "+c.Reach.Says)
		}
	}
	return notes
}

// room frames what one cover hides.
func (p *picture) room(c Chain, l *layout) {
	d := l.gap * .25
	for _, s := range l.stretches(c.Room.Blocks) {
		p.put(`<rect class="room" fill="none" x="`, s.x0-d, `" y="`, s.y-d, `" width="`, s.x1-s.x0+2*d, `" height="`, l.cellH+2*d, `"/>`)
	}
}

// probe is one of the meter's two, and where it touches.
type probe struct {
	class string
	Point
	x, y float64
	ok   bool // it touches the chain itself; metal and the earth pin stand beside it
}

// beside tells whether it touches what stands beside the chain: metal, or the earth pin.
func (q *probe) beside() bool { return q.Side == Metal || q.Side == Earth }

// meter draws the meter below the circuit, with a lead down from each probe in
// the gap where its point lies. It gives the lower edge.
func (p *picture) meter(c Chain, l *layout, low float64) float64 {
	probes := []probe{{class: "red", Point: c.Meter.Red}, {class: "black", Point: c.Meter.Black}}
	for i := range probes {
		q := &probes[i]
		q.x, q.y, q.ok = l.spot(q.Point, c.Back)
	}
	x, top, inside := p.meterAt(l, probes, low+20)
	step := 7.0 // between the two leads
	if l.class == "pocket" {
		step = 4
	}
	stood := 0
	for i := range probes {
		q := &probes[i]
		jack := x + l.meterW*(.26+.48*float64(i))
		turn := top - 2*step - 1 + step*float64(i)
		d := ""
		switch {
		case q.beside():
			if i == 1 && c.Meter.Red.Side == q.Side {
				continue // both probes on one piece of metal read nothing
			}
			d = "M" + num(jack) + " " + num(top) + "V" + num(turn) + p.metal(l, q, stood, top+l.meterH*.5)
			stood++
		case q.ok:
			at := q.x - 3 + 6*float64(i)
			d = "M" + num(q.x) + " " + num(q.y) + "L" + num(at) + " " + num(q.y+math.Copysign(6, turn-q.y)) + "V" + num(turn) + "H" + num(jack) + "V" + num(top)
			p.put(`<circle class="post" cx="`, q.x, `" cy="`, q.y, `" r="`, l.tag/4, `"/>`)
		default:
			continue
		}
		p.put(`<path class="lead-`, q.class, `" fill="none" d="`, d, `"/>`)
	}
	p.meterBox(l, x, top, c.Meter.Shows)
	if inside {
		return low
	}
	return top + l.meterH + 4
}

// meterAt is where the meter stands: among the blocks where there is room, else below
// them, under the middle of what its probes touch, clear of what stands at its sides.
func (p *picture) meterAt(l *layout, probes []probe, below float64) (x, top float64, inside bool) {
	sum, n := 0.0, 0.0
	beside := 0 // what stands at the left of the meter, and at its right
	for i := range probes {
		q := &probes[i]
		if q.ok {
			sum, n = sum+q.x, n+1
		}
		if q.beside() {
			beside++
		}
	}
	if beside == 0 && n > 0 {
		if at, ok := p.freeCell(l, sum/n); ok {
			return at.x, at.y, true
		}
	}
	x = l.wide / 2
	if n > 0 {
		x = sum / n
	}
	least, most := 4.0, l.wide-l.meterW-4
	if beside > 0 {
		least = l.left + l.cellW + 24
	}
	if beside > 1 {
		most = l.wide - l.cellW - 24 - l.meterW - l.gap
	}
	return math.Max(least, math.Min(x-l.meterW/2, most)), below, false
}

// metal draws the piece of metal, or the earth pin, that a probe touches at a height, the
// first at the left and the second at the right, and gives the end of the lead to it.
func (p *picture) metal(l *layout, q *probe, stood int, y float64) (lead string) {
	left := l.left
	near, by := left+l.cellW, left+l.cellW+10 // where the lead touches it, and turns
	if stood > 0 {
		left = l.wide - l.cellW - l.gap
		near, by = left, left-10
	}
	says := "metal"
	if q.Side == Earth {
		says = "earth"
	}
	p.put(`<rect class="metal" x="`, left, `" y="`, y-l.small, `" width="`, l.cellW, `" height="`, l.small*2, `"/>`)
	p.label("circuit-note", left+l.cellW/2, y+l.small*.35, "middle", says, l.small, 0)
	return "H" + num(by) + "V" + num(y) + "H" + num(near)
}

// meterBox draws the meter and what it shows.
func (p *picture) meterBox(l *layout, x, top float64, shows string) {
	s := l.small
	p.put(`<rect class="meter-box" x="`, x, `" y="`, top, `" width="`, l.meterW, `" height="`, l.meterH, `" rx="`, s*.4, `"/><rect class="meter-glass" x="`, x+8, `" y="`, top+8, `" width="`, l.meterW-16, `" height="`, l.meterH*.46, `"/>`)
	p.boxes = append(p.boxes, box{"meter", x, top, l.meterW, l.meterH, shows})
	// a reading that does not go into the glass whole stays out of it: half of "never
	// opens" says something else
	if f := fit(shows, l.meterW-24, s, 1); len(f) > 0 && f[0].whole() {
		extra := ""
		if f[0].squeeze > 0 {
			extra = ` textLength="` + num(f[0].squeeze) + `" lengthAdjust="spacingAndGlyphs"`
		}
		p.put(`<text class="meter-shows" font-size="`, f[0].size, `" text-anchor="end" x="`, x+l.meterW-12, `" y="`, top+8+l.meterH*.34, `"`, extra, `>`, escape(f[0].text), `</text>`)
	}
}

// freeCell is a place among the blocks where the meter fits, in a lane below the
// first over which no words stand: of these the nearest to an x. The leads come to
// it between the lanes.
func (p *picture) freeCell(l *layout, near float64) (at box, ok bool) {
	best := math.Inf(1)
	for _, b := range l.blocks {
		if b.lane == 0 || b.lane == l.worded {
			continue
		}
		for i := range l.columns {
			cell := box{x: l.left + float64(i)*l.pitch() - (l.meterW-l.cellW)/2, y: b.y, w: l.meterW, h: l.meterH}
			around := box{x: cell.x, y: cell.y - 2, w: cell.w, h: cell.h + 4}
			if far := math.Abs(cell.x + cell.w/2 - near); far < best && p.free(l, around) {
				best, at, ok = far, cell, true
			}
		}
	}
	return at, ok
}

// label writes words and notes where they stand.
func (p *picture) label(class string, x, y float64, anchor, text string, size, squeeze float64) {
	w := width(text, size)
	if squeeze > 0 {
		w = squeeze
	}
	left := x
	switch anchor {
	case "middle":
		left -= w / 2
	case "end":
		left -= w
	}
	p.boxes = append(p.boxes, box{"label", left, y - size*.75, w, size * .8, text})
	p.put(`<text class="`, class, `" font-size="`, size, `" text-anchor="`, anchor, `" x="`, x, `" y="`, y, `"`)
	if squeeze > 0 {
		p.put(` textLength="`, squeeze, `" lengthAdjust="spacingAndGlyphs"`)
	}
	p.put(`>`, escape(text), `</text>`)
}

func width(text string, size float64) float64 {
	return float64(utf8.RuneCountInString(text)) * size * letter
}

// words of a label that fit: at their size, and where even that is too wide drawn
// into squeeze, 0 for their own width.
type words struct {
	text          string
	size, squeeze float64
}

// whole tells that nothing of a text was cut.
func (w words) whole() bool { return !strings.HasSuffix(w.text, cut) }

const cut = "…" // stands where a text was cut

// fit lays a name into a width: as it is, on two lines, smaller, drawn closer (down
// to .45 em a letter), or cut.
func fit(text string, room, size float64, lines int) []words {
	text = strings.Join(strings.Fields(text), " ")
	if text == "" {
		return nil
	}
	least := math.Max(11, size*.78)
	into := func(text string) words {
		w := words{text: text, size: size}
		if long := width(text, size); long > room {
			if w.size = math.Max(least, size*room/long); width(text, w.size) > room+.01 {
				w.squeeze = room
			}
		}
		return w
	}
	if width(text, size) <= room {
		return []words{into(text)}
	}
	close := int(room / (least * .45)) // letters drawn closer
	if lines > 1 {
		most := int(room / (size * letter))
		for _, n := range []int{most, close} {
			if parts, whole := wrap(text, n); whole && len(parts) <= 2 {
				var out []words
				for _, part := range parts {
					out = append(out, into(part))
				}
				return out
			}
		}
	}
	if r := []rune(text); len(r) > close {
		r = r[:max(1, close-1)]
		if n := len(r); n > 2 && strings.ContainsRune(" -", r[n-2]) { // one letter of a word says nothing
			r = r[:n-2]
		}
		if n := strings.LastIndexAny(string(r), " -"); n >= 4 { // a whole word says more than a half
			r = []rune(string(r)[:n])
		}
		text = strings.TrimRight(string(r), " -") + cut
	}
	return []words{into(text)}
}

// wrap parts a text into lines of at most n letters, at spaces and behind
// hyphens; whole is false where a word is longer than that and stands alone.
func wrap(text string, n int) (lines []string, whole bool) {
	whole = true
	line := ""
	for _, word := range strings.Fields(strings.ReplaceAll(text, "-", "- ")) {
		glue := " "
		if line == "" || strings.HasSuffix(line, "-") {
			glue = ""
		}
		if line != "" && utf8.RuneCountInString(line+glue+word) > n {
			lines, line, glue = append(lines, line), "", ""
		}
		line += glue + word
		whole = whole && utf8.RuneCountInString(word) <= n
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines, whole
}

// num is a length with at most two decimals.
func num(x float64) string { return string(appendNum(nil, x)) }

func appendNum(b []byte, x float64) []byte {
	if !(math.Abs(x) < 1e12) {
		x = 0
	}
	n := int64(math.Round(x * 100))
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	b = strconv.AppendInt(b, n/100, 10)
	if tenths, rest := byte(n/10%10), byte(n%10); rest != 0 {
		b = append(b, '.', '0'+tenths, '0'+rest)
	} else if tenths != 0 {
		b = append(b, '.', '0'+tenths)
	}
	return b
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&#34;", "'", "&#39;")

func escape(s string) string { return escaper.Replace(s) }
