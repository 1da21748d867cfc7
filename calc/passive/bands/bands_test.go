package bands

import (
	"math"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/passive"
)

func TestBands(t *testing.T) { calctest.Run(t, Calculator) }

// Every preferred value in every decade that has a multiplier comes back from its
// own bands.
func TestRoundTrip(t *testing.T) {
	for _, try := range []struct {
		size      int
		tolerance float64
	}{{24, 0.05}, {12, 0.1}, {96, 0.01}, {192, 0.005}, {24, 0.02}} {
		low := -2
		if try.tolerance < 0.05 {
			low = -1
		}
		for decade := low; decade <= 10; decade++ {
			for _, digits := range passive.Series(try.size) {
				want := passive.Amount(digits, decade)
				row, rounded, ok := encode(want, try.tolerance)
				if !ok || rounded != want {
					t.Fatalf("%v: bands %q for %v", want, names(row), rounded)
				}
				r, why := decode(row)
				if why != "" || r.ohms != want || r.tolerance != try.tolerance {
					t.Fatalf("%v: %q reads as %v ±%v %s", want, names(row), r.ohms, r.tolerance, why)
				}
			}
		}
	}
}

// Turning the row round never changes the pair of values that it may be.
func TestEitherEnd(t *testing.T) {
	pair := func(text string) (a, b float64, ok bool) {
		r, err := Calculator.Run([]calc.Setting{{Name: "colours", Value: text}})
		if err != nil {
			return 0, 0, false
		}
		here, _ := r.Output("resistance")
		there, both := r.Output("other-resistance")
		if !both {
			there = here
		}
		return math.Min(here.Value.Num, there.Value.Num), math.Max(here.Value.Num, there.Value.Num), true
	}
	count := 0
	for _, a := range colours {
		for _, b := range colours {
			for _, d := range colours {
				row := []string{"brown", a.name, b.name, d.name, "red"}
				turned := []string{"red", d.name, b.name, a.name, "brown"}
				low, high, ok := pair(strings.Join(row, " "))
				low2, high2, ok2 := pair(strings.Join(turned, "-"))
				if ok != ok2 || low != low2 || high != high2 {
					t.Fatalf("%v: %v to %v, turned %v to %v", row, low, high, low2, high2)
				}
				if ok {
					count++
				}
			}
		}
	}
	if count < 1000 {
		t.Errorf("only %d rows could be read", count)
	}
}

// A value in no series points to the other end; where both are or none is, the
// calculator does not choose.
func TestLikelier(t *testing.T) {
	for row, want := range map[string]string{
		"brown black black red brown":  "both",        // 10 kΩ or 120 Ω
		"red red black black brown":    "both",        // 220 Ω or 10 kΩ
		"brown orange white black red": "neither",     // 139 Ω or 209 Ω
		"brown blue brown red red":     "likelier",    // 16.1 kΩ is in no series, 221 MΩ is
		"red red brown blue brown":     "less-likely", // the same row turned
		"brown black brown":            "same",
	} {
		r, err := Calculator.Run([]calc.Setting{{Name: "colours", Value: row}})
		if err != nil {
			t.Fatal(err)
		}
		if o, _ := r.Output("other-end"); o.Word != want {
			t.Errorf("%s: %s: %s", row, o.Word, o.Text)
		}
	}
}

func FuzzColours(f *testing.F) {
	for _, s := range []string{"brown black red gold", "BN-BK/OG", "gold", "", "black black black", "pink pink pink pink pink pink pink", "ſilver"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := Calculator.Run([]calc.Setting{{Name: "colours", Value: text}})
		if err != nil {
			if bad, ok := err.(*calc.InputError); !ok || bad.Says == "" {
				t.Fatalf("%q: %v", text, err)
			}
			return
		}
		o, _ := r.Output("resistance")
		if !o.Value.Finite() || o.Value.Num < 0 {
			t.Fatalf("%q: %v", text, o.Value)
		}
	})
}
