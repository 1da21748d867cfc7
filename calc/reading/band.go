package reading

import (
	"errors"
	"math"
	"strings"

	"faultleaf/calc/quantity"
)

// Op is how a band is bounded.
type Op string

const (
	WordOnly Op = ""        // nothing is measured
	Upward   Op = "above"   // from the value's upper end up
	Downward Op = "below"   // from the value's lower end down
	Within   Op = "between" // the value's own range
	Beneath  Op = "beneath" // everything under the band before it: a bare "below"
)

// Span is a band as a note states it, before its numbers are known.
type Span struct {
	Name    string
	Op      Op
	Address string         // of the calculator that gives the value, "" where it is written
	Value   quantity.Value // where it is written
	Bare    string         // where it is written without a unit, which is then that of the bands before it
	Text    string         // as written, for print; of a computed one Evaluate makes it
}

// Band is a span with its numbers. It includes its lower edge and not its upper
// one. A band that is only a word has neither.
type Band struct {
	Name      string
	Low, High *float64 // base unit; nil is open
	Text      string   // printed: "above 10 kΩ", "24–26 Ω"
}

// Wrong is what is wrong with one span of a list.
type Wrong struct {
	Span int // index
	Err  error
	Do   string // what to do about it; "" where the error is the computing one's
}

func (w *Wrong) Error() string { return w.Err.Error() }
func (w *Wrong) Unwrap() error { return w.Err }

const spanLike = "write it like above 10 kΩ, 24–26 Ω or below 1 V"

// addressSign begins the address of a computed number.
const addressSign = "calc:"

// ParseSpan reads the span of one band: "above 10 kΩ", "below 3 Ω", "below",
// "24–26 Ω", or the address of a computed value, alone or behind above or below.
func ParseSpan(name, text string) (Span, *Wrong) {
	s := Span{Name: name, Op: Within, Text: strings.TrimSpace(text)}
	rest := s.Text
	switch amount, side := bound(rest); {
	case strings.EqualFold(rest, "below"):
		s.Op = Beneath
		return s, nil
	case side == Above:
		s.Op, rest = Upward, amount
	case side == Below:
		s.Op, rest = Downward, amount
	}
	if strings.HasPrefix(rest, addressSign) {
		s.Address = rest
		return s, nil
	}
	k := quantity.KindOf(rest)
	if k == "" {
		s.Bare = rest
		return s, nil
	}
	var wrong *Wrong
	s.Value, wrong = s.written(k, rest)
	return s, wrong
}

// written reads the value of a span that no calculator computes.
func (s Span) written(k quantity.Kind, amount string) (quantity.Value, *Wrong) {
	v, err := quantity.Parse(k, amount)
	switch {
	case err != nil:
		return v, &Wrong{Err: err, Do: spanLike}
	case s.Op == Within && v.Low == v.High:
		return v, &Wrong{Err: errors.New("“" + s.Text + "” is one value, and a reading needs a span"), Do: "write a range like 24–26 Ω, or a tolerance like 25 Ω ± 5 %"}
	}
	return v, nil
}

// Evaluate gives the spans of one test their numbers, highest first, and says
// what is wrong with them. compute gives the value at an address. The kind is
// that of all of them, "" where nothing is measured.
func Evaluate(spans []Span, compute func(address string) (quantity.Value, error)) (bands []Band, kind quantity.Kind, wrong []*Wrong) {
	bands = make([]Band, len(spans))
	last := -1 // the measured band before this one
	for i, s := range spans {
		b := &bands[i]
		b.Name = s.Name
		refuse := func(says, do string) {
			wrong = append(wrong, &Wrong{i, errors.New(says), do})
		}
		switch s.Op {
		case WordOnly:
			continue
		case Beneath:
			if last < 0 || bands[last].Low == nil {
				refuse("“below” stands under no reading with a lower edge", "write below and the value, like below 3 Ω")
				continue
			}
			b.High = at(*bands[last].Low)
			b.Text = "below " + quantity.Of(kind, *b.High).Text()
			last = i
			continue
		}
		v := s.Value
		switch {
		case s.Bare != "" && kind == "":
			refuse("“"+s.Text+"” has no unit", spanLike)
			continue
		case s.Bare != "":
			var w *Wrong
			if v, w = s.written(kind, s.Bare); w != nil {
				refuse(w.Error(), w.Do)
				continue
			}
		case s.Address != "":
			var err error
			if v, err = compute(s.Address); err != nil {
				wrong = append(wrong, &Wrong{Span: i, Err: err})
				continue
			}
			if v.Kind == "" || s.Op == Within && !v.Ranged() {
				refuse("the output “"+s.Address[strings.LastIndexByte(s.Address, '#')+1:]+"” is one value, and a reading needs a span", "name an output that is a range, or write above or below before the address")
				continue
			}
		}
		if kind != "" && v.Kind != kind {
			refuse("this reading is a "+string(v.Kind)+", but the ones above it are a "+string(kind), "use one kind of quantity in a test")
			continue
		}
		kind = v.Kind
		b.Text = s.Text
		switch s.Op {
		case Upward:
			b.Low = at(v.High)
			if s.Address != "" {
				b.Text = "above " + quantity.Of(kind, v.High).Text()
			}
		case Downward:
			b.High = at(v.Low)
			if s.Address != "" {
				b.Text = "below " + quantity.Of(kind, v.Low).Text()
			}
		default:
			b.Low, b.High = at(v.Low), at(v.High)
			if s.Address != "" {
				b.Text = v.Text()
			}
		}
		if last >= 0 {
			if says, do := order(bands[last], *b, kind); says != "" {
				refuse(says, do)
			}
		}
		last = i
	}
	return bands, kind, wrong
}

// order says what is wrong with two bands of which the second stands below the
// first, "" if nothing is.
func order(above, b Band, kind quantity.Kind) (says, do string) {
	const hair = 1e-9 // edges computed in two ways may differ by rounding
	switch {
	case b.High == nil:
		return "the reading “" + b.Name + "” has no upper edge, but stands below another", "put the highest reading first"
	case above.Low == nil:
		return "the reading above this one reaches down without end", "put the lowest reading last"
	case b.Low != nil && above.High != nil && *b.Low >= *above.High:
		return "the reading “" + b.Name + "” lies above “" + above.Name + "”, and stands below it", "put the highest reading first"
	case *b.High > *above.Low+float64(hair*math.Abs(*above.Low)):
		return "the readings “" + above.Name + "” and “" + b.Name + "” overlap: " + quantity.Of(kind, *b.High).Text() + " is above " + quantity.Of(kind, *above.Low).Text(),
			"put the highest reading first and let each end where the one above begins, or lower"
	}
	return "", ""
}

func at(x float64) *float64 { return &x }

func (b Band) measured() bool { return b.Low != nil || b.High != nil }

func (b Band) edges() (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	if b.Low != nil {
		low = *b.Low
	}
	if b.High != nil {
		high = *b.High
	}
	return low, high
}

// Fit is a band that a reading may belong to. Band is its index, -1 for none of
// them; the weights of all fits sum to 1.
type Fit struct {
	Band   int
	Weight float64
}

// Fits places the reading among the bands of a test, likeliest first. An amount
// within the meter's error of an edge belongs to both bands in part; one that
// fits no band gives an empty list. A reading that only lies above or below a
// limit belongs to every band that it does not exclude, each by the share of the
// band on that side, and to none of them where it leaves a gap.
func (r Reading) Fits(bands []Band) []Fit {
	var fits []Fit
	total := 0.0
	add := func(i int, w float64) {
		if w > 0 {
			fits = append(fits, Fit{i, w})
			total += w
		}
	}
	low, high := r.Low, r.High
	if r.Bounded() {
		if low == high {
			d := math.Abs(low) * r.error
			low, high = low-d, high+d
		}
		for i, b := range bands {
			if b.measured() {
				from, to := b.edges()
				add(i, share(low, high, from, to))
			}
		}
	} else {
		gap := 1.0
		for i, b := range bands {
			if !b.measured() {
				continue
			}
			from, to := b.edges()
			if r.Low >= 0 { // what cannot be below nothing has no band there
				from = math.Max(from, 0)
			}
			if low >= to || high <= from {
				continue
			}
			part := r.part(math.Max(from, low), math.Min(to, high))
			if w := share(from, to, low, high); math.IsInf(to-from, 0) && !math.IsInf(high-low, 0) {
				add(i, math.Min(w, part)) // of a band without end the reading holds next to nothing
			} else {
				add(i, w)
			}
			gap -= part
		}
		if gap > 1e-6 {
			add(-1, gap)
		}
	}
	if len(fits) == 1 && fits[0].Band < 0 {
		return nil
	}
	for i := range fits {
		fits[i].Weight /= total
	}
	for i := range fits {
		for j := i; j > 0 && fits[j].Weight > fits[j-1].Weight; j-- {
			fits[j], fits[j-1] = fits[j-1], fits[j]
		}
	}
	return fits
}

// share is how much of low..high lies within from..to; the part of a span without
// end that counts is the end that has one.
func share(low, high, from, to float64) float64 {
	if low >= high {
		if low >= from && (low < to || math.IsInf(to, 1)) {
			return 1
		}
		return 0
	}
	a, z := math.Max(low, from), math.Min(high, to)
	if z <= a {
		return 0
	}
	if math.IsInf(high-low, 0) {
		return 1
	}
	return (z - a) / (high - low)
}

// decades that a reading of "more than so much" is spread over.
const decades = 6

// part is how much of a reading that is only above or below a limit lies within
// from..to: upward by decades, downward evenly.
func (r Reading) part(from, to float64) float64 {
	if r.IsBelow() {
		if math.IsInf(from, -1) {
			return 1
		}
		low := r.Low
		if math.IsInf(low, -1) {
			low = math.Min(0, from)
		}
		return (to - from) / (r.High - low)
	}
	if !(r.Low > 0) || math.IsInf(to, 1) && from <= r.Low {
		return 1
	}
	start := math.Log10(math.Max(from, r.Low) / r.Low)
	end := float64(decades)
	if !math.IsInf(to, 1) {
		end = math.Min(end, math.Log10(to/r.Low))
	}
	return math.Max(0, end-math.Min(start, decades)) / decades
}

// Settles tells whether the reading lies wholly in the band.
func (r Reading) Settles(b Band) bool {
	if !b.measured() {
		return false
	}
	low, high := b.edges()
	return r.Low >= low && (r.High < high || r.High <= high && !r.Bounded())
}
