package circuit

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Unsound lists what lies on something else in the drawings of a chain, or
// outside of them: nothing ever should. It is for tests, here and where chains of
// a shop are drawn.
func (c Chain) Unsound() []string {
	return append(c.unsound(wideSize), c.unsound(pocketSize)...)
}

// Cut lists the labels that have no room for the whole of their words: what they
// are of wants a shorter name.
func (c Chain) Cut() (out []string) {
	for _, s := range []size{wideSize, pocketSize} {
		_, p := c.draw(s)
		for _, b := range p.boxes {
			if b.kind == "label" && strings.HasSuffix(b.text, cut) {
				out = append(out, s.class+": “"+b.text+"”")
			}
		}
	}
	return out
}

func (c Chain) unsound(s size) (wrong []string) {
	_, p := c.draw(s)
	say := func(what string) { wrong = append(wrong, s.class+": "+what) }
	whole := func(v float64) string { return strconv.FormatFloat(v, 'f', 0, 64) }
	for i, a := range p.boxes {
		if a.x < -4 || a.y < 0 || a.x+a.w > s.wide+.5 || a.y+a.h > p.high+.5 {
			say("“" + a.text + "” stands outside: " + whole(a.x) + "," + whole(a.y) + " " + whole(a.w) + " by " + whole(a.h) + " of " + whole(s.wide) + " by " + whole(p.high))
		}
		for _, b := range p.boxes[i+1:] {
			if !meets(a, b) {
				continue
			}
			if a.kind == "part" && b.kind != "part" && b.x >= a.x-s.tag && b.x+b.w <= a.x+a.w+s.tag && (b.kind == "tag" || b.y+b.h <= a.y+a.h+1) {
				continue // what stands in a block, and the letters on its edge
			}
			say("“" + a.text + "” (" + a.kind + ") lies on “" + b.text + "” (" + b.kind + ")")
		}
	}
	for _, r := range lay(c, s).runs {
		for i := 0; i+3 < len(r.at); i += 2 {
			down := r.at[i] == r.at[i+2]
			for _, b := range p.boxes {
				if b.kind == "label" && !slices.ContainsFunc(p.boxes, func(in box) bool { return in.kind == "part" && meets(in, b) }) && through(r.at[i:i+4], b) {
					say("a wire runs through “" + b.text + "” at " + whole(b.x) + "," + whole(b.y))
				}
				// a wire passes through a block only along its own lane
				if b.kind == "part" && down && through(r.at[i:i+4], b) {
					say("a wire runs down through “" + b.text + "”")
				}
			}
			if !down && r.at[i+1] != r.at[i+3] {
				say("a wire runs aslant")
			}
		}
	}
	return wrong
}

// through: a piece of a wire runs through a box.
func through(at []float64, b box) bool {
	return meets(box{x: math.Min(at[0], at[2]) - .6, y: math.Min(at[1], at[3]) - .6, w: math.Abs(at[2]-at[0]) + 1.2, h: math.Abs(at[3]-at[1]) + 1.2}, b)
}
