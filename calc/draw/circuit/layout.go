package circuit

import "math"

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

func layLanes(c Chain, s size, worded int) *layout {
	l := &layout{size: s, worded: worded}
	col, row := 0, 0
	top, rowHigh := 0.0, 0.0
	// x of column i in the row at hand; rows turn about
	left := func(i int) float64 {
		if row%2 == 0 {
			return s.left + float64(i)*s.pitch()
		}
		return s.left + float64(s.columns-1-i)*s.pitch()
	}
	ahead := func() float64 { // +1 where the row runs to the right
		if row%2 == 0 {
			return 1
		}
		return -1
	}
	before := func(i int) float64 { // middle of the gap before column i
		if ahead() > 0 {
			return left(i) - s.gap/2
		}
		return left(i) + s.cellW + s.gap/2
	}
	lane, laneOfRow := 0, 0
	high := func(k int) float64 { // of the first k lanes of the row
		h := float64(k) * (s.bare + s.cellH)
		if worded >= lane && worded < lane+k {
			h += s.over - s.bare
		}
		return h
	}
	y := func(k int) float64 { return top + high(k+1) - s.cellH } // of the blocks in lane k of the row
	wireAt := func(k int) float64 { return y(k) + s.wire }

	at := [2]float64{0, wireAt(0)}
	at[0] = math.Max(2, s.left-s.turn)
	l.start = at
	class := "wire"
	go_ := func(points ...float64) {
		l.runs = append(l.runs, run{class, append([]float64{at[0], at[1]}, points...)})
		at = [2]float64{points[len(points)-2], points[len(points)-1]}
	}
	newRow := func() {
		edge := s.left + float64(s.columns)*s.pitch() - s.gap + s.turn
		if ahead() < 0 {
			edge = math.Max(2, s.left-s.turn)
		}
		top += rowHigh + s.under
		row, col = row+1, 0
		lane += laneOfRow
		laneOfRow, rowHigh = 1, high(1)
		go_(edge, at[1], edge, wireAt(0))
	}
	laneOfRow, rowHigh = 1, high(1)
	var parting []placed // blocks in which one circuit ends and the next begins
	ended := false       // the circuit ended: what follows is beyond it
	finish := func(x, y float64) {
		if !ended {
			l.end, ended = [2]float64{x, y}, true
		}
	}
	place := func(b *Block, i, k int) placed {
		p := placed{Block: b, x: left(i), y: y(k), row: row, lane: lane + k, in: before(i), out: before(i) + ahead()*s.pitch(), section: len(parting)}
		l.blocks = append(l.blocks, p)
		return p
	}
	for _, part := range c.Parts {
		if part.Block != nil {
			if col == s.columns {
				newRow()
			}
			if part.Block.Beyond && class == "wire" {
				go_(before(col), wireAt(0))
				finish(at[0], at[1])
				class = "link"
			}
			p := place(part.Block, col, 0)
			if part.Block.Separates && c.Back && !ended {
				parting = append(parting, p)
			}
			go_(p.out, wireAt(0))
			col++
			continue
		}
		ways := part.Ways
		longest := 0
		for _, w := range ways {
			longest = max(longest, len(w))
		}
		if longest == 0 {
			continue
		}
		across := min(longest, s.columns)
		if col+across > s.columns {
			newRow()
		}
		from, to := col, col+across
		entry, exit := before(from), before(from)+ahead()*float64(across)*s.pitch()
		go_(entry, wireAt(0))
		l.nodes = append(l.nodes, [2]float64{entry, wireAt(0)}, [2]float64{exit, wireAt(0)})
		k := 0
		for n, w := range ways {
			if len(w) == 0 {
				w = nil
			}
			l.way(way{blocks: w, from: from, across: across, first: k, entry: entry, exit: exit, main: wireAt(0), direct: n == 0},
				place, wireAt, left, before, ahead)
			k += max(1, (len(w)+across-1)/across)
		}
		if k > laneOfRow {
			laneOfRow = k
		}
		rowHigh = math.Max(rowHigh, high(k))
		at = [2]float64{exit, wireAt(0)}
		col = to
	}
	finish(at[0], at[1])
	l.bottom = top + rowHigh + s.under
	if n := len(parting); n > 0 && l.end[0] == parting[n-1].out && l.end[1] == parting[n-1].y+s.wire {
		parting = parting[:n-1] // nothing carries current behind the last of them
		for i := range l.blocks {
			l.blocks[i].section = min(l.blocks[i].section, n-1)
		}
	}
	// each circuit has its own level for the way back, the last one the highest, so
	// that none lies on another
	l.backs = make([]float64, len(parting)+1)
	for i := range l.backs {
		l.backs[i] = l.bottom + float64(len(l.backs)-1-i)*s.small
	}
	if c.Back {
		// leg is the way between a block that parts two circuits and a level: out of
		// its foot and down the gap beside it
		leg := func(p placed, gap float64) (points []float64) {
			x := gap + (p.x+s.cellW/2-gap)/math.Abs(p.x+s.cellW/2-gap)*s.gap*.33
			foot := p.x + s.cellW*.25
			if gap > p.x {
				foot = p.x + s.cellW*.75
			}
			low := p.y + s.cellH + s.low
			return []float64{foot, p.y + s.cellH + 1.2, foot, low, x, low, x}
		}
		for i, y := range l.backs {
			from := []float64{l.end[0], l.end[1], l.end[0]}
			if i < len(parting) {
				from = leg(parting[i], parting[i].in)
			}
			from = append(from, y)
			if i == 0 {
				from = append(from, l.start[0], y)
			} else {
				to := leg(parting[i-1], parting[i-1].out)
				from = append(from, to[6], y, to[4], to[5], to[2], to[3], to[0], to[1])
			}
			l.runs = append(l.runs, run{"wire-back", from})
		}
		l.bottom = l.backs[0] + l.small + 6
	}
	return l
}

// way is one of several side by side.
type way struct {
	blocks              []Block
	from, across, first int
	entry, exit, main   float64
	direct              bool // it goes on with the line itself
}

// way lays the lanes of one way. A way longer than the group is wide turns and
// runs back; what ends on the side of the entry is led to the exit below.
func (l *layout) way(w way, place func(*Block, int, int) placed, wireAt func(int) float64, left, before func(int) float64, ahead func() float64) {
	k := w.first
	points := []float64{w.entry, w.main}
	if !w.direct {
		points = append(points, w.entry, wireAt(k))
	}
	turned := false
	class := "wire"
	low := 0.0 // the level by which the way is led to the exit
	for i := range w.blocks {
		b := &w.blocks[i]
		at := i % w.across
		if i > 0 && at == 0 { // the next lane, the other way about
			k++
			edge := w.exit - ahead()*l.gap/4
			if turned {
				edge = w.entry + ahead()*l.gap/4
			}
			points = append(points, edge, wireAt(k-1), edge, wireAt(k))
			turned = !turned
		}
		col := w.from + at
		if turned {
			col = w.from + w.across - 1 - at
		}
		if b.Beyond && class == "wire" {
			// the current leaves before this block, by the level under the lane
			x := before(col)
			if turned {
				x += ahead() * l.pitch()
			}
			low = wireAt(k) - l.wire + l.cellH + l.low
			l.runs = append(l.runs, run{class, append(append([]float64(nil), points...), x, wireAt(k), x, low, w.exit, low, w.exit, w.main)})
			points, class = []float64{x, wireAt(k)}, "link"
		}
		p := place(b, col, k)
		if turned {
			p.in, p.out = p.out, p.in
			l.blocks[len(l.blocks)-1] = p
		}
		points = append(points, p.out, wireAt(k))
	}
	switch {
	case class == "link":
		l.runs = append(l.runs, run{class, points})
		return
	case turned:
		low = wireAt(k) - l.wire + l.cellH + l.low
		x := w.entry + ahead()*l.gap/4
		points = append(points, x, wireAt(k), x, low, w.exit, low)
	default:
		points = append(points, w.exit, wireAt(k))
	}
	points = append(points, w.exit, w.main)
	l.runs = append(l.runs, run{class, points})
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
