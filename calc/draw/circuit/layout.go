package circuit

import (
	"math"
	"slices"
)

// size holds the measures of a drawing.
type size struct {
	class          string
	wide           float64 // of the whole drawing
	columns        int
	cellW, cellH   float64
	gap            float64 // between two blocks
	left           float64 // of the first block
	over           float64 // room above a lane that the words of the reach stand over
	bare           float64 // room above any other, for letters and brackets
	under          float64 // room under a row, for the room's words
	wire           float64 // how far below a block's upper edge the wire runs
	turn           float64 // how far beyond the blocks the wire turns
	low            float64 // how far below a block a way is led past it
	name, small    float64 // letters
	tag            float64 // edge of a letter's square
	meterW, meterH float64
}

var (
	wideSize = size{class: "wide", wide: 1130, columns: 7, cellW: 120, cellH: 92, gap: 26, left: 34, over: 56, bare: 32, under: 14, wire: 24, turn: 20, low: 5,
		name: 17, small: 14, tag: 22, meterW: 124, meterH: 74}
	pocketSize = size{class: "pocket", wide: 300, columns: 4, cellW: 63, cellH: 60, gap: 9, left: 10, over: 28, bare: 13, under: 8, wire: 15, turn: 5, low: 3,
		name: 12, small: 12, tag: 15, meterW: 67, meterH: 42}
)

func (s size) pitch() float64 { return s.cellW + s.gap }

// placed is a block in its place.
type placed struct {
	*Block
	x, y      float64 // upper left corner
	row, lane int     // lane counts over the whole drawing
	in, out   float64 // x of the gaps before and behind it, along the wire
	section   int     // of the circuits that follow each other, which it is in
}

// run is a piece of wire: a polyline.
type run struct {
	class string
	at    []float64 // x, y, x, y ...
}

type layout struct {
	size
	blocks []placed
	runs   []run
	nodes  [][2]float64
	start  [2]float64 // where the line begins
	end    [2]float64 // where the current turns back
	backs  []float64  // y of the conductor back of each circuit
	bottom float64    // y under all rows
	worded int        // the lane over which the words of the reach stand, -1 for none
}

// lay gives every block its place and every wire its way. The lane over which the
// words of the reach stand has more room above it than the others.
func lay(c Chain, s size) *layout {
	l := layLanes(c, s, -1)
	if c.Reach.Step != "" {
		if at := l.stretches(c.Reach.Blocks); len(at) > 0 {
			return layLanes(c, s, at[0].lane)
		}
	}
	if c.Roomy {
		return layLanes(c, s, 0)
	}
	return l
}

// laying lays a chain from the line on: it holds the row at hand, the gap that
// comes next in it, and where the wire has come to.
type laying struct {
	*layout
	row, col  int
	top       float64 // upper edge of the row
	lane      int     // first lane of the row, counted over the whole drawing
	lanes     int     // lanes of the row, as many as its ways need
	at        [2]float64
	class     string   // of the wire: "wire", and "link" where no current runs any more
	separates []placed // blocks in which one circuit ends and the next begins
	ended     bool     // the circuit ended: what follows is beyond it
}

func layLanes(c Chain, s size, worded int) *layout {
	l := laying{layout: &layout{size: s, worded: worded}, lanes: 1, class: "wire"}
	l.start = [2]float64{l.nearEdge(), l.wireAt(0)}
	l.at = l.start
	for _, part := range c.Parts {
		if part.Block != nil {
			l.block(part.Block, c.Back)
		} else {
			l.group(part.Ways)
		}
	}
	l.finish()
	l.bottom = l.top + l.high(l.lanes) + s.under
	l.circuits(c.Back)
	return l.layout
}

// Rows turn about: every other one runs to the left.
func (l *laying) ahead() float64 { // +1 where the row runs to the right
	if l.row%2 == 0 {
		return 1
	}
	return -1
}

func (l *laying) x(col int) float64 { // left edge of a column
	if l.ahead() > 0 {
		return l.left + float64(col)*l.pitch()
	}
	return l.left + float64(l.columns-1-col)*l.pitch()
}

func (l *laying) before(col int) float64 { // middle of the gap before a column
	if l.ahead() > 0 {
		return l.x(col) - l.gap/2
	}
	return l.x(col) + l.cellW + l.gap/2
}

func (l *laying) high(lanes int) float64 { // of so many first lanes of the row
	h := float64(lanes) * (l.bare + l.cellH)
	if l.worded >= l.lane && l.worded < l.lane+lanes {
		h += l.over - l.bare
	}
	return h
}

func (l *laying) y(lane int) float64      { return l.top + l.high(lane+1) - l.cellH } // of the blocks in a lane of the row
func (l *laying) wireAt(lane int) float64 { return l.y(lane) + l.wire }

func (l *laying) nearEdge() float64 { return math.Max(2, l.left-l.turn) }

// to leads the wire on over some points: x, y, x, y ...
func (l *laying) to(points ...float64) {
	l.runs = append(l.runs, run{l.class, append([]float64{l.at[0], l.at[1]}, points...)})
	l.at = [2]float64{points[len(points)-2], points[len(points)-1]}
}

func (l *laying) newRow() {
	edge := l.left + float64(l.columns)*l.pitch() - l.gap + l.turn
	if l.ahead() < 0 {
		edge = l.nearEdge()
	}
	l.top += l.high(l.lanes) + l.under
	l.row, l.col = l.row+1, 0
	l.lane += l.lanes
	l.lanes = 1
	l.to(edge, l.at[1], edge, l.wireAt(0))
}

// finish says that the current turns back where the wire has come to.
func (l *laying) finish() {
	if !l.ended {
		l.end, l.ended = l.at, true
	}
}

func (l *laying) place(b *Block, col, lane int) placed {
	p := placed{Block: b, x: l.x(col), y: l.y(lane), row: l.row, lane: l.lane + lane,
		in: l.before(col), out: l.before(col) + l.ahead()*l.pitch(), section: len(l.separates)}
	l.blocks = append(l.blocks, p)
	return p
}

// block lays a block of the line itself.
func (l *laying) block(b *Block, back bool) {
	if l.col == l.columns {
		l.newRow()
	}
	if b.Beyond && l.class == "wire" {
		l.to(l.before(l.col), l.wireAt(0))
		l.finish()
		l.class = "link"
	}
	p := l.place(b, l.col, 0)
	if b.Separates && back && !l.ended {
		l.separates = append(l.separates, p)
	}
	l.to(p.out, l.wireAt(0))
	l.col++
}

// group lays ways side by side, one under another.
func (l *laying) group(ways [][]Block) {
	longest := 0
	for _, w := range ways {
		longest = max(longest, len(w))
	}
	if longest == 0 {
		return
	}
	across := min(longest, l.columns)
	if l.col+across > l.columns {
		l.newRow()
	}
	entry := l.before(l.col)
	exit := entry + l.ahead()*float64(across)*l.pitch()
	main := l.wireAt(0)
	l.to(entry, main)
	l.nodes = append(l.nodes, [2]float64{entry, main}, [2]float64{exit, main})
	lane := 0
	for n, w := range ways {
		l.way(way{blocks: w, from: l.col, across: across, first: lane, entry: entry, exit: exit, main: main, direct: n == 0})
		lane += max(1, (len(w)+across-1)/across)
	}
	l.lanes = max(l.lanes, lane)
	l.at = [2]float64{exit, main}
	l.col += across
}

// way is one of several side by side.
type way struct {
	blocks              []Block
	from, across, first int // column, columns, and the first lane of the row
	entry, exit, main   float64
	direct              bool // it goes on with the line itself
}

// way lays the lanes of one way. A way longer than the group is wide turns and
// runs back; what ends on the side of the entry is led to the exit below.
func (l *laying) way(w way) {
	lane := w.first
	points := []float64{w.entry, w.main}
	if !w.direct {
		points = append(points, w.entry, l.wireAt(lane))
	}
	turned := false
	class := "wire"
	below := func() float64 { return l.wireAt(lane) - l.wire + l.cellH + l.low } // the level by which it is led to the exit
	for i := range w.blocks {
		b := &w.blocks[i]
		at := i % w.across
		if i > 0 && at == 0 { // the next lane, the other way about
			edge := w.exit - l.ahead()*l.gap/4
			if turned {
				edge = w.entry + l.ahead()*l.gap/4
			}
			points = append(points, edge, l.wireAt(lane), edge, l.wireAt(lane+1))
			lane++
			turned = !turned
		}
		col := w.from + at
		if turned {
			col = w.from + w.across - 1 - at
		}
		if b.Beyond && class == "wire" {
			// the current leaves before this block, by the level under the lane
			x := l.before(col)
			if turned {
				x += l.ahead() * l.pitch()
			}
			l.runs = append(l.runs, run{class, append(slices.Clone(points), x, l.wireAt(lane), x, below(), w.exit, below(), w.exit, w.main)})
			points, class = []float64{x, l.wireAt(lane)}, "link"
		}
		p := l.place(b, col, lane)
		if turned {
			p.in, p.out = p.out, p.in
			l.blocks[len(l.blocks)-1] = p
		}
		points = append(points, p.out, l.wireAt(lane))
	}
	switch {
	case class == "link":
	case turned:
		x := w.entry + l.ahead()*l.gap/4
		points = append(points, x, l.wireAt(lane), x, below(), w.exit, below(), w.exit, w.main)
	default:
		points = append(points, w.exit, l.wireAt(lane), w.exit, w.main)
	}
	l.runs = append(l.runs, run{class, points})
}

// circuits gives each circuit its own level for the way back, the last one the
// highest, so that none lies on another; back is whether they are drawn.
func (l *laying) circuits(back bool) {
	if n := len(l.separates); n > 0 && l.end[0] == l.separates[n-1].out && l.end[1] == l.separates[n-1].y+l.wire {
		l.separates = l.separates[:n-1] // nothing carries current behind the last of them
		for i := range l.blocks {
			l.blocks[i].section = min(l.blocks[i].section, n-1)
		}
	}
	l.backs = make([]float64, len(l.separates)+1)
	for i := range l.backs {
		l.backs[i] = l.bottom + float64(len(l.backs)-1-i)*l.small
	}
	if !back {
		return
	}
	for i, y := range l.backs {
		from := []float64{l.end[0], l.end[1], l.end[0]}
		if i < len(l.separates) {
			from = l.leg(l.separates[i], l.separates[i].in)
		}
		from = append(from, y)
		if i == 0 {
			from = append(from, l.start[0], y)
		} else {
			to := l.leg(l.separates[i-1], l.separates[i-1].out)
			from = append(from, to[6], y, to[4], to[5], to[2], to[3], to[0], to[1])
		}
		l.runs = append(l.runs, run{"wire-back", from})
	}
	l.bottom = l.backs[0] + l.small + 6
}

// leg is the way from a block that separates two circuits to a level: out of its
// foot and down beside the gap at x. It ends with that x; the level comes from the caller.
func (l *laying) leg(p placed, gap float64) (points []float64) {
	toward, foot := 1.0, p.x+l.cellW*.25
	if gap > p.x {
		toward, foot = -1, p.x+l.cellW*.75
	}
	x := gap + toward*l.gap*.33
	low := p.y + l.cellH + l.low
	return []float64{foot, p.y + l.cellH + 1.2, foot, low, x, low, x}
}

// find gives the place of a block.
func (l *layout) find(id string) (placed, bool) {
	for _, p := range l.blocks {
		if p.ID == id {
			return p, true
		}
	}
	return placed{}, false
}

// spot is where a point lies; ok is false where it lies nowhere on the wire.
func (l *layout) spot(p Point, back bool) (x, y float64, ok bool) {
	switch p.Side {
	case Line:
		return l.start[0], l.start[1], true
	case Neutral:
		return l.start[0], l.backs[0], back
	}
	b, ok := l.find(p.Block)
	if !ok {
		return 0, 0, false
	}
	switch p.Side {
	case Before:
		return b.in, b.y + l.wire, true
	case After:
		return b.out, b.y + l.wire, true
	case Return:
		return b.out, l.backs[b.section], back
	}
	return 0, 0, false
}
