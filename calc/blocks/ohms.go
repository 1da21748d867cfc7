package blocks

import (
	"errors"
	"math"
	"slices"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

// Compute is the door to the calculators: what an address gives, its values
// from the rating plate filled in.
type Compute func(calc.Link) (calc.Computed, error)

// span is a resistance between two values in ohms; infinite where no direct
// current passes.
type span struct{ low, high float64 }

var (
	through = span{}
	unseen  = span{math.Inf(1), math.Inf(1)}
)

func (s span) plus(t span) span     { return span{s.low + t.low, s.high + t.high} }
func (s span) times(x float64) span { return span{s.low * x, s.high * x} }
func (s span) overlaps(t span) bool { return s.low <= t.high && t.low <= s.high }
func (s span) around(t span) span   { return span{min(s.low, t.low), max(s.high, t.high)} }
func beside(a, b float64) float64 { // two resistances side by side
	switch {
	case math.IsInf(a, 1):
		return b
	case math.IsInf(b, 1):
		return a
	case a == 0 || b == 0:
		return 0
	}
	return 1 / (1/a + 1/b)
}

// spanOf reads what a note says of a block's ohms, unless it is computed.
func spanOf(text string) (span, error) {
	switch text {
	case "", "through":
		return through, nil
	case "unseen":
		return unseen, nil
	}
	v, err := quantity.Parse(quantity.Resistance, text)
	switch {
	case err != nil:
		return through, err
	case !v.Ranged() || v.Low < 0:
		return through, errors.New("“" + text + "” is no range of ohms")
	}
	return span{v.Low, v.High}, nil
}

// spanOf is the resistance of one entry at rest.
func (d *device) spanOf(e *Entry) span {
	if e.ohms == "" || !strings.HasPrefix(e.ohms, calc.Scheme) {
		s, err := spanOf(e.ohms)
		if err != nil {
			d.wrong(d.ohmsAt(e), err.Error(), "write through, unseen, a range like 100 Ω to 20 kΩ, or the address of a computed range")
		}
		return s
	}
	if s, ok := d.spans[e]; ok {
		return s
	}
	s, err := d.computed(e)
	if err != nil {
		d.wrong(d.ohmsAt(e), err.Error(), "")
		s = unseen
	}
	d.spans[e] = s
	return s
}

func (d *device) computed(e *Entry) (span, error) {
	l, err := calc.ParseLink(d.fill(e, e.ohms, d.ohmsAt(e)))
	if err != nil {
		return unseen, err
	}
	if l, err = l.Fill(e.Plate); err != nil {
		return unseen, err
	}
	got, err := d.compute(l)
	if err != nil {
		return unseen, err
	}
	if got.Value.Kind != quantity.Resistance || !got.Value.Ranged() || got.Value.Low < 0 {
		return unseen, errors.New("the output “" + l.Output + "” of " + l.Calculator + " is no range of ohms")
	}
	return span{got.Value.Low, got.Value.High}, nil
}

// ohmsAt is where an entry's ohms are said.
func (d *device) ohmsAt(e *Entry) Place {
	if v, ok := e.own.Get("ohms"); ok {
		return v.At
	}
	if e.Kind != nil {
		if v, ok := e.Kind.Note.Get("ohms"); ok {
			return v.At
		}
	}
	return e.At
}

// rowOhms is the resistance of a row of the chain from end to end, of what a
// test covers, with one block open (nil for none): a row adds, ways side by side
// add as conductances, and one of several alike ways leaves the others.
func (d *device) rowOhms(row []node, covers []string, open *Entry) span {
	sum := through
	for _, n := range row {
		if e := n.entry; e != nil {
			if !e.current() || e.source() || !slices.Contains(covers, e.ID) {
				continue
			}
			s := d.spanOf(e)
			if e == open {
				if e.Ways < 2 {
					return unseen
				}
				s = s.times(float64(e.Ways) / float64(e.Ways-1))
			}
			sum = sum.plus(s)
			continue
		}
		if !slices.ContainsFunc(within([]node{n}), func(e *Entry) bool { return slices.Contains(covers, e.ID) }) {
			continue
		}
		all := unseen
		for _, w := range n.ways {
			s := unseen
			if slices.ContainsFunc(within(w), (*Entry).current) {
				// a way beside a covered one is measured with it, covered or not
				s = d.rowOhms(w, ids(within(w)), open)
			}
			all = span{beside(all.low, s.low), beside(all.high, s.high)}
		}
		sum = sum.plus(all)
	}
	return sum
}

// Names of the bands of ohms from end to end.
const (
	openOrHigh = "open-or-high"
	asRated    = "as-rated"
	partOpen   = "part-open"
	lowOhms    = "low"
)

// band is a band that tells a lost way.
type band struct {
	id string
	span
	of []*Entry
}

// measureOhms fills in the readings of a test that measures ohms from end to
// end, and what an open block makes it read. It tells false where there is
// nothing to measure.
func (d *device) measureOhms(t *test) bool {
	healthy := d.rowOhms(d.tree, t.covers, nil)
	if math.IsInf(healthy.high, 1) {
		var why []string
		for _, id := range t.covers {
			if e := d.entry(id); e != nil && d.spanOf(e) == unseen {
				why = append(why, e.says)
			}
		}
		d.hint(t.at, "the test “"+t.id+"” is left out: no direct current passes "+strings.Join(why, " and "), "")
		return false
	}
	t.open = map[*Entry]string{}
	var lost []band
	for _, id := range t.covers {
		e := d.entry(id)
		if e == nil || !e.current() || e.source() {
			continue
		}
		without := d.rowOhms(d.tree, t.covers, e)
		switch {
		case math.IsInf(without.low, 1):
			t.open[e] = openOrHigh
		case without.low < healthy.high*1.1:
			t.open[e] = ""
			if e.Kind != nil && e.Kind.opens() {
				d.hint(e.At, "the test “"+t.id+"” cannot tell an open “"+e.ID+"” from a whole device", "")
			}
		default:
			lost = d.addBand(lost, e, without)
		}
	}
	slices.SortStableFunc(lost, func(a, b band) int { // highest first
		switch {
		case a.low > b.low:
			return -1
		case a.low < b.low:
			return 1
		}
		return 0
	})
	top, link := healthy.high, d.linkOf(t.covers)
	reads := Tree{List: []Tree{}}
	add := func(id, text string, good bool) {
		b := Tree{Fields: []Field{{Name: id, Value: Text(text)}}}
		if good {
			b.Set("healthy", Text("true"))
		}
		reads.List = append(reads.List, b)
	}
	above := ohmText(top)
	switch {
	case len(lost) > 0:
		above = ohmText(max(lost[0].high*1.05, 1e4))
	case top == 0:
		above = ohmText(1e4)
	case link != "":
		above = link
	}
	add(openOrHigh, "above "+above, false)
	for _, b := range lost {
		add(b.id, ohmText(b.low)+" to "+ohmText(b.high), false)
		for _, e := range b.of {
			t.open[e] = b.id
		}
	}
	switch {
	case top == 0:
		add(asRated, "below 1 Ω", true)
	case link != "":
		add(asRated, link, true)
	default:
		add(asRated, ohmText(healthy.low)+" to "+ohmText(top), true)
	}
	if healthy.low > 0 {
		add(lowOhms, "below", false)
		reads.List[len(reads.List)-1].Set("forbids", Text("Too few ohms for its plate: no power until it is known why"))
	}
	t.note.Set("reads", reads)
	return true
}

// opens tells whether a block can fail by passing nothing.
func (k *Kind) opens() bool {
	return slices.ContainsFunc(k.Faults(), func(f Field) bool { return f.Value.Str("does") == Open })
}

// addBand adds what is left without a way; ways whose bands would overlap share
// one.
func (d *device) addBand(lost []band, e *Entry, without span) []band {
	id := partOpen
	if e.Ways < 2 {
		id = "without-" + d.wayName(e)
	}
	b := band{id, without, []*Entry{e}}
	var out []band
	for _, x := range lost {
		if !x.overlaps(b.span) {
			out = append(out, x)
			continue
		}
		if x.id != b.id {
			b.id = partOpen
		}
		b.span = b.around(x.span)
		b.of = append(x.of, b.of...)
	}
	return append(out, b)
}

// wayName is the name of the way that an entry stands in: that of its first
// block that a meter sees.
func (d *device) wayName(e *Entry) string {
	rows := d.rows(e)
	way := within(rows[len(rows)-1])
	for _, x := range way {
		if s := d.spanOf(x); x.current() && s != through && s != unseen {
			return x.ID
		}
	}
	return e.ID
}

// linkOf is the address of the ohms where one computed block is all that a test
// sees, "" elsewhere.
func (d *device) linkOf(covers []string) string {
	link := ""
	for _, id := range covers {
		e := d.entry(id)
		if e == nil || !e.current() || e.source() {
			continue
		}
		switch s := d.spanOf(e); {
		case s == through || s == unseen:
		case link != "" || !strings.HasPrefix(e.ohms, calc.Scheme):
			return ""
		default:
			link = d.fill(e, e.ohms, d.ohmsAt(e))
		}
	}
	return link
}

// ohmText prints ohms with the digits that a band needs.
func ohmText(x float64) string { return quantity.Of(quantity.Resistance, quantity.Round(x, 4)).Text() }
