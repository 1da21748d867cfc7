package reading

import (
	"errors"
	"math"
	"strings"
	"testing"

	"faultleaf/calc/quantity"
)

const ohms = quantity.Resistance

// auto is a meter that chooses its range by itself, up to 20 MΩ.
var auto = Meter{Over: 20e6, Tone: 30}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text, says string
		meter      Meter
	}{
		{"26", "26.0 Ω", Meter{}}, {"25,9 Ω", "25.9 Ω", Meter{}}, {"4k7", "4.70 kΩ", Meter{}}, {"25 Ω ± 5 %", "23.8–26.3 Ω", Meter{}}, {"1 Ω", "1.000 Ω", Meter{}}, {"1.0", "1.000 Ω", Meter{}}, {"1k", "1.000 kΩ", Meter{}},
		// a range exceeded, as displays and hands write it
		{"OL", "above 20.0 MΩ", auto}, {"ol", "above 20.0 MΩ", auto}, {"0L", "above 20.0 MΩ", auto}, {"O.L", "above 20.0 MΩ", auto}, {"o.l.", "above 20.0 MΩ", auto}, {".0L", "above 20.0 MΩ", auto}, {"0.L", "above 20.0 MΩ", auto},
		{"O L", "above 20.0 MΩ", auto}, {"  Ol MΩ ", "above 20.0 MΩ", auto}, {"OLkΩ", "above 20.0 MΩ", auto}, {"O/L", "above 20.0 MΩ", auto}, {"OFL", "above 20.0 MΩ", auto}, {"overload", "above 20.0 MΩ", auto}, {"Over range", "above 20.0 MΩ", auto},
		{"1 .", "above 20.0 MΩ", auto}, {"1   .", "above 20.0 MΩ", auto}, {"1 . MΩ", "above 20.0 MΩ", auto}, {"inf", "above 20.0 MΩ", auto}, {"Infinite", "above 20.0 MΩ", auto}, {"∞", "above 20.0 MΩ", auto}, {"∞ Ω", "above 20.0 MΩ", auto},
		{"open", "above 20.0 MΩ", auto}, {"Open circuit", "above 20.0 MΩ", auto}, {"over", "above 20.0 MΩ", auto}, {"---", "above 20.0 MΩ", auto}, {"oo", "above 20.0 MΩ", auto},
		// without a word on the meter no more than the lowest range that meters have
		{"OL", "above 200 Ω", Meter{}}, {"open", "above 200 Ω", Meter{}},
		{"OL on 200 Ω", "above 200 Ω", auto}, {"OL on the 200 Ω range", "above 200 Ω", auto}, {"OL (20k range)", "above 20.0 kΩ", auto}, {"0L @ 2 MΩ", "above 2.00 MΩ", Meter{}}, {"OL at 200", "above 200 Ω", auto}, {"over the 2k range", "above 2.00 kΩ", auto},
		{"> 20 MΩ", "above 20.0 MΩ", Meter{}}, {">20M", "above 20.0 MΩ", Meter{}}, {"≥ 20 MΩ", "above 20.0 MΩ", Meter{}}, {"ABOVE 20 MΩ", "above 20.0 MΩ", Meter{}}, {"over 20 MΩ", "above 20.0 MΩ", Meter{}}, {"more than 20 MΩ", "above 20.0 MΩ", Meter{}}, {"20 MΩ or more", "above 20.0 MΩ", Meter{}},
		{"< 0.1 Ω", "below 100.0 mΩ", Meter{}}, {"<0,1", "below 100.0 mΩ", Meter{}}, {"≤ 0.1 Ω", "below 100.0 mΩ", Meter{}}, {"below 0.1 Ω", "below 100.0 mΩ", Meter{}}, {"Under 0.1", "below 100.0 mΩ", Meter{}}, {"0.1 Ω or less", "below 100.0 mΩ", Meter{}},
		{"beep", "below 30.0 Ω", auto}, {"It beeps", "below 30.0 Ω", auto}, {"tone", "below 30.0 Ω", auto}, {"beep", "below 250 Ω", Meter{}}, {"beep below 50 Ω", "below 50.0 Ω", auto}, {"beeps (< 70 Ω)", "below 70.0 Ω", auto},
		{"no beep", "above 30.0 Ω", auto}, {"no tone", "above 10.00 Ω", Meter{}}, {"silent", "above 10.00 Ω", Meter{}},
	} {
		r, err := Parse(ohms, c.text, c.meter)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
		} else if got := r.Says(); got != c.says {
			t.Errorf("%q says %q, want %q", c.text, got, c.says)
		}
	}
}

func TestOtherKinds(t *testing.T) {
	for _, c := range []struct {
		kind       quantity.Kind
		text, says string
	}{
		{quantity.Voltage, "12", "12.00 V"}, {quantity.Voltage, "-5 V", "-5.00 V"}, {quantity.Voltage, "> 600 V", "above 600 V"}, {quantity.Voltage, "OL on 20 V", "above 20.0 V"}, {quantity.Voltage, "OL", "above 200 mV"}, {quantity.Voltage, "1", "1.000 V"},
		{quantity.Duration, "5 min", "5.00 min"}, {quantity.Duration, "over 5 min", "above 5.0 min"}, {quantity.Duration, "1", "1.000 s"}, {quantity.Temperature, "-5 °C", "-5.0 °C"}, {quantity.Temperature, "under 40 °C", "below 40.0 °C"},
		{quantity.Capacitance, "OL on 20 µF", "above 20.0 µF"}, {quantity.Count, "3 or more", "above 3"}, {quantity.Current, "< 3.5 mA", "below 3.50 mA"},
	} {
		r, err := Parse(c.kind, c.text, Meter{})
		if err != nil {
			t.Errorf("%s %q: %v", c.kind, c.text, err)
		} else if got := r.Says(); got != c.says {
			t.Errorf("%s %q says %q, want %q", c.kind, c.text, got, c.says)
		}
	}
	if r, err := Parse(quantity.Voltage, "open", Meter{Diode: true}); err != nil || r.Shows != Over {
		t.Errorf("open on a diode range: %v %v", r, err)
	}
}

// What is not a reading gets a sentence that says so.
func TestRefused(t *testing.T) {
	for _, c := range []struct {
		kind           quantity.Kind
		text, sentence string
	}{
		{ohms, "", "missing"}, {ohms, "banana", "is not a resistance"}, {ohms, "-5 Ω", "less than no resistance"}, {ohms, "< -5", "less than no resistance"}, {ohms, "< 0 Ω", "less than nothing"}, {ohms, "3 V", "is a voltage"}, {ohms, "old", "is no reading"}, {ohms, "OL on the moon", "is no reading"},
		{ohms, "1e20", "more than any meter"}, {ohms, strings.Repeat("9", 90), "too long"}, {ohms, "beep banana", "is no reading"}, {ohms, "NaN", "is not a"}, {ohms, "OL on -3 Ω", "is no reading"},
		{quantity.Duration, "OL", "says nothing of a time"}, {quantity.Temperature, "OL", "sensor"}, {quantity.Voltage, "beep", "said of ohms"}, {quantity.Voltage, "open", "is not a voltage"}, {quantity.Duration, "-3 min", "below zero"}, {quantity.Temperature, "-400 °C", "absolute zero"},
	} {
		if r, err := Parse(c.kind, c.text, Meter{}); err == nil {
			t.Errorf("%s %q was read as %s", c.kind, c.text, r.Says())
		} else if !strings.Contains(err.Error(), c.sentence) {
			t.Errorf("%s %q: %q does not say %q", c.kind, c.text, err, c.sentence)
		}
	}
}

// A lone 1 is asked about; each answer offered can be read.
func TestAmbiguous(t *testing.T) {
	for _, text := range []string{"1", "1.", " 1. ", "1. kΩ", "1.Ω"} {
		_, err := Parse(ohms, text, auto)
		var a *Ambiguous
		if !errors.As(err, &a) || len(a.Means) < 2 {
			t.Errorf("%q: %v", text, err)
			continue
		}
		for _, m := range a.Means {
			if _, err := Parse(ohms, m, auto); err != nil {
				t.Errorf("%q offers %q: %v", text, m, err)
			}
		}
	}
	for _, text := range []string{"1 Ω", "1.0", "1k", "1M", "1.5", "1R5", "10", "1 V"} {
		var a *Ambiguous
		if _, err := Parse(ohms, text, auto); errors.As(err, &a) {
			t.Errorf("%q needs no question", text)
		}
	}
}

func bandsOf(t *testing.T, written ...string) []Band {
	t.Helper()
	var spans []Span
	for _, w := range written {
		name, text, _ := strings.Cut(w, ": ")
		if text == "" {
			spans = append(spans, Span{Name: name})
			continue
		}
		s, wrong := ParseSpan(name, text)
		if wrong != nil {
			t.Fatal(wrong)
		}
		spans = append(spans, s)
	}
	bands, _, wrong := Evaluate(spans, func(string) (quantity.Value, error) { return quantity.Between(ohms, 24, 26), nil })
	if len(wrong) > 0 {
		t.Fatal(wrong[0])
	}
	return bands
}

func TestFits(t *testing.T) {
	element := bandsOf(t, "open: above 10 kΩ", "one-open: 45–55 Ω", "as-rated: 22–28 Ω", "unsteady", "low: below")
	lamp := bandsOf(t, "open: above 100 kΩ", "as-rated: 300–500 Ω", "low: below 20 Ω")
	for _, c := range []struct {
		bands []Band
		text  string
		meter Meter
		want  string // bands, likeliest first; "" for none, "+gap" where it may fit none too
	}{
		{element, "26 Ω", Meter{}, "as-rated"}, {element, "28.1 Ω", Meter{}, "as-rated"}, {element, "22.02 Ω", Meter{}, "as-rated low"}, {element, "500 Ω", Meter{}, ""}, {element, "22–27 Ω", Meter{}, "as-rated"},
		{element, "OL", auto, "open"}, {element, "> 20 MΩ", Meter{}, "open"}, {element, "12k", Meter{}, "open"},
		// on the 200 Ω range it may be the gap below 10 kΩ too
		{element, "OL on 200 Ω", auto, "open gap"}, {element, "OL", Meter{}, "open gap"},
		// a healthy element may beep
		{element, "beep", auto, "as-rated low gap"}, {element, "beep", Meter{}, "as-rated one-open low gap"}, {element, "beep below 20 Ω", auto, "low"}, {element, "no beep", auto, "open one-open gap"},
		// a healthy lamp of 400 Ω is OL on the 200 Ω range
		{lamp, "OL on 200 Ω", auto, "open as-rated gap"}, {lamp, "OL", auto, "open"}, {lamp, "< 10 Ω", Meter{}, "low"}, {lamp, "> 400 Ω", Meter{}, "open as-rated gap"}, {lamp, "OL on 100 kΩ", Meter{}, "open"},
	} {
		r, err := Parse(ohms, c.text, c.meter)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		got := map[string]bool{}
		total := 0.0
		for _, f := range r.Fits(c.bands) {
			name := "gap"
			if f.Band >= 0 {
				name = c.bands[f.Band].Name
				if alone := len(r.Fits(c.bands)) == 1; alone && !r.Bounded() && !r.Settles(c.bands[f.Band]) {
					t.Errorf("%q is settled as %s, but does not lie wholly in it", c.text, name)
				}
			}
			got[name] = true
			total += f.Weight
		}
		want := strings.Fields(c.want)
		ok := len(got) == len(want) && (len(want) == 0 || math.Abs(total-1) < 1e-12)
		for _, w := range want {
			ok = ok && got[w]
		}
		if !ok {
			t.Errorf("%q fits %v, want %q", c.text, r.Fits(c.bands), c.want)
		}
		if len(got) > 1 && !r.Bounded() && r.Ask() == "" {
			t.Errorf("%q settles nothing and asks nothing", c.text)
		}
	}
}

// The operator of a band decides which end of a computed range counts.
func TestEvaluate(t *testing.T) {
	bands := bandsOf(t, "open: above calc:element?power=2kW#cold-range", "as-rated: calc:element?power=2kW#cold-range", "low: below")
	for i, want := range []string{"above 26.0 Ω", "24.0–26.0 Ω", "below 24.0 Ω"} {
		if bands[i].Text != want {
			t.Errorf("band %d is %q, want %q", i, bands[i].Text, want)
		}
	}
	if *bands[0].Low != 26 || bands[0].High != nil || *bands[2].High != 24 || bands[2].Low != nil {
		t.Errorf("edges: %v %v", bands[0], bands[2])
	}
	below := bandsOf(t, "good: above calc:x#y", "bad: below calc:x#y")
	if *below[1].High != 24 || below[1].Text != "below 24.0 Ω" {
		t.Errorf("below an address: %+v", below[1])
	}
}

func TestEvaluateRefuses(t *testing.T) {
	span := func(text string) Span {
		s, wrong := ParseSpan("x", text)
		if wrong != nil {
			t.Fatal(wrong)
		}
		return s
	}
	for _, c := range []struct {
		spans    []Span
		sentence string
	}{
		{[]Span{span("below")}, "under no reading"},
		{[]Span{span("above 3 V"), span("below 2 Ω")}, "is a resistance"},
		{[]Span{span("above 3 V"), span("below 4 V")}, "overlap"},
		{[]Span{span("below 4 V"), span("1–2 V")}, "reaches down without end"},
		{[]Span{span("1–2 V"), span("above 4 V")}, "no upper edge"},
		{[]Span{span("above 3")}, "has no unit"}, {[]Span{span("above 3 V"), span("two")}, "is not a voltage"},
		{[]Span{span("calc:x#one")}, "“one” is one value"},
		{[]Span{span("above calc:broken#y")}, "cannot compute"},
	} {
		_, _, wrong := Evaluate(c.spans, func(a string) (quantity.Value, error) {
			if strings.Contains(a, "broken") {
				return quantity.Value{}, errors.New("cannot compute")
			}
			return quantity.Of(quantity.Voltage, 3), nil
		})
		if len(wrong) == 0 || !strings.Contains(wrong[0].Error(), c.sentence) {
			t.Errorf("%v: %v, want %q", c.spans, wrong, c.sentence)
		}
	}
	for _, c := range []struct{ text, sentence string }{{"26 Ω", "is one value"}, {"24–23 Ω", "larger"}} {
		if _, wrong := ParseSpan("x", c.text); wrong == nil || !strings.Contains(wrong.Error(), c.sentence) {
			t.Errorf("%q: %v", c.text, wrong)
		}
	}
}

// No text panics, no reading lies outside itself, and whatever settles a band
// lies wholly in it.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"26", "OL on 200 Ω", "1 .", "1.", "> 20 MΩ", "< 0.1 Ω", "beep below 30", "∞ kΩ", "0.L", "over the 2k range", "-5 Ω", "25 Ω ± 5 %", "no beep", "\xff1 .", "≥≥3", "0.1 or less"} {
		f.Add(s, 0.0)
		f.Add(s, 2000.0)
	}
	kinds := quantity.Kinds()
	rows := [][]quantity.Kind{{ohms}, {ohms, quantity.Voltage}}
	f.Fuzz(func(t *testing.T, text string, over float64) {
		bands := []Band{{Name: "a", Low: at(1e4)}, {Name: "b", Low: at(22), High: at(28)}, {Name: "word"}, {Name: "c", High: at(22)}}
		for _, ks := range rows {
			if row, err := ParseRow(ks, text, Meter{}); err == nil && len(row) == 0 || err != nil && err.Error() == "" {
				t.Fatalf("%q as a row: %v, %v", text, row, err)
			}
		}
		for _, k := range kinds {
			for _, m := range []Meter{{Over: over}, {Diode: true, Tone: over}} {
				r, err := Parse(k, text, m)
				if err != nil {
					if err.Error() == "" {
						t.Fatalf("%q: an error without a sentence", text)
					}
					continue
				}
				if !(r.Low <= r.High) || math.IsNaN(r.Limit()) || math.IsInf(r.Limit(), 0) {
					t.Fatalf("%q as %s: %+v", text, k, r)
				}
				if r.Says() == "" || strings.Contains(r.Says(), "no value") {
					t.Fatalf("%q as %s says %q", text, k, r.Says())
				}
				total := 0.0
				fits := r.Fits(bands)
				for _, g := range fits {
					if !(g.Weight > 0) {
						t.Fatalf("%q as %s: weights %v", text, k, fits)
					}
					total += g.Weight
				}
				if len(fits) > 0 && math.Abs(total-1) > 1e-9 {
					t.Fatalf("%q as %s: weights %v", text, k, fits)
				}
				for i, b := range bands {
					if r.Settles(b) && !r.Bounded() && (len(fits) != 1 || fits[0].Band != i) {
						t.Fatalf("%q as %s settles %s but fits %v", text, k, b.Name, fits)
					}
				}
			}
		}
	})
}
