package trace

import (
	"errors"
	"math"
	"strings"

	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
)

// Fit is a band that a reading may belong to, with its weight; the band "" is
// none of them.
type Fit struct {
	Reading ReadingID
	Weight  float64
}

// ParseReading reads the outcome of a test as typed: a reading's word, or
// anything that a meter shows (reading.Parse). A value that lies within the
// meter's error of an edge belongs to both bands in part, and so does one that
// only lies above or below a limit. An empty list means that it fits no band.
// The error is one sentence; it is a *reading.Ambiguous where the display can be
// read in two ways.
func ParseReading(t *Test, text string) ([]Fit, error) {
	text = strings.TrimSpace(text)
	if b := t.named(text); b != nil {
		return []Fit{{b.ID, 1}}, nil
	}
	if t.Kind == "" {
		// words alone: a meter's sign for no end is the band "open"
		if r, err := reading.Parse(quantity.Resistance, text, reading.Meter{}); err == nil && r.Shows == reading.Over && t.named("open") != nil {
			return []Fit{{"open", 1}}, nil
		}
		return nil, errors.New("“" + clip(text) + "” is no reading of this test; it is one of " + words(t.Reads))
	}
	r, err := t.parse(text)
	if err != nil {
		if ambiguous := (*reading.Ambiguous)(nil); errors.As(err, &ambiguous) {
			return nil, err
		}
		return nil, errors.New(err.Error() + "; or take one of " + words(t.Reads))
	}
	var fits []Fit
	for _, f := range r.Fits(t.bands()) {
		if f.Band < 0 {
			fits = append(fits, Fit{"", f.Weight})
			continue
		}
		fits = append(fits, Fit{t.Reads[f.Band].ID, f.Weight})
	}
	if !r.Bounded() { // a beep that a healthy part may give is not held against it
		for i := range fits {
			if fits[i].Reading == healthy(t) {
				fits[0], fits[i] = fits[i], fits[0]
			}
		}
	}
	return fits, nil
}

// parse reads what the meter of the test shows.
func (t *Test) parse(text string) (reading.Reading, error) {
	m := t.Meter
	m.Error = t.MeterError
	if t.Kind != quantity.Resistance {
		m.Over = 0 // the limit of its ohms says nothing of its other ranges
	}
	return reading.Parse(t.Kind, text, m)
}

// named finds the band whose name was typed, whatever the case and with blanks
// or hyphens; nil for none.
func (t *Test) named(text string) *Band {
	word := strings.ToLower(strings.Join(strings.Fields(text), "-"))
	for i := range t.Reads {
		if word == string(t.Reads[i].ID) {
			return &t.Reads[i]
		}
	}
	return nil
}

// limitOnly says what to do about a reading that only lies above or below a limit
// and settles no band; "" for any other.
func limitOnly(t *Test, text string) string {
	if t.Kind == "" || t.named(text) != nil {
		return ""
	}
	r, err := t.parse(text)
	if err != nil {
		return ""
	}
	return r.Ask()
}

func (t *Test) bands() []reading.Band {
	out := make([]reading.Band, len(t.Reads))
	for i, b := range t.Reads {
		out[i] = reading.Band{Name: string(b.ID), Low: b.Low, High: b.High, Text: b.Text}
	}
	return out
}

// Rebase computes the test's bands again where they come from a calculator, as
// for another rating plate; compute gives the value at an address. The test
// stays as it was where the error is not nil; it is one sentence.
func (t *Test) Rebase(compute func(address string) (quantity.Value, error)) error {
	spans := make([]reading.Span, len(t.Reads))
	for i, b := range t.Reads {
		s := reading.Span{Name: string(b.ID), Op: b.Op, Address: b.Link, Text: b.Text}
		switch {
		case b.Op == reading.WordOnly && (b.Low != nil || b.High != nil):
			return errors.New("the band “" + string(b.ID) + "” does not say how it is bounded; publish the notes again")
		case b.Link != "", b.Op == reading.WordOnly, b.Op == reading.Beneath:
		case b.Low != nil && b.High != nil:
			s.Value = quantity.Between(t.Kind, *b.Low, *b.High)
		case b.Low != nil:
			s.Value = quantity.Of(t.Kind, *b.Low)
		case b.High != nil:
			s.Value = quantity.Of(t.Kind, *b.High)
		}
		spans[i] = s
	}
	bands, _, wrong := reading.Evaluate(spans, compute)
	if len(wrong) > 0 {
		return errors.New(t.Ask + ": " + wrong[0].Error())
	}
	reads := append([]Band(nil), t.Reads...)
	for i, b := range bands {
		reads[i].Low, reads[i].High, reads[i].Text = b.Low, b.High, b.Text
	}
	t.Reads = reads
	return nil
}

// Meter is what is known of the meter that the shop takes for a test: one of the
// instruments that the test needs, else the instrument called “meter”.
func (s *Shop) Meter(with []string) reading.Meter {
	for _, id := range append(append([]string(nil), with...), "meter") {
		for _, i := range s.Instruments {
			if i.ID == id && (i.Over > 0 || i.Beeps > 0) {
				return reading.Meter{Over: i.Over, Tone: i.Beeps}
			}
		}
	}
	return reading.Meter{}
}

// edge is the edge between two bands that a reading lies on, in the base unit,
// and the share of the reading that a meter may be wrong by to part them; 0 where
// that cannot be said.
func (t *Test) edge(r readOnce) (edge, needs float64) {
	v, err := quantity.Parse(t.Kind, r.typed)
	if err != nil || v.Num == 0 {
		return 0, 0
	}
	edge, found := math.Inf(1), false
	for _, b := range t.Reads {
		for _, e := range []*float64{b.Low, b.High} {
			if e != nil && math.Abs(*e-v.Num) < math.Abs(edge-v.Num) && (b.ID == r.fits[0].Reading || b.ID == r.fits[1].Reading) {
				edge, found = *e, true
			}
		}
	}
	if !found {
		return 0, 0
	}
	return edge, math.Abs(edge-v.Num) / math.Abs(v.Num)
}

func words(bands []Band) string {
	var names []string
	for _, b := range bands {
		names = append(names, string(b.ID))
	}
	return strings.Join(names, ", ")
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
