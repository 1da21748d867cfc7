package bond

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestEarthBond(t *testing.T) { calctest.Run(t, Calculator) }

func word(t *testing.T, name string, in ...calc.Setting) string {
	t.Helper()
	r, err := Calculator.Run(in)
	if err != nil {
		t.Fatalf("%v: %v", in, err)
	}
	o, _ := r.Output(name)
	return o.Word
}

// The steps of the EN rule: SAFE-004 and the maker's table (manual of the Metratester 5+), which gives its lengths
// as upper ends.
func TestSteps(t *testing.T) {
	for _, c := range []struct{ length, limit float64 }{{5, 0.3}, {12.5, 0.4}, {20, 0.5}, {27.5, 0.6}, {35, 0.7}, {42.5, 0.8}, {50, 0.9}, {57.5, 1.0}, {100, 1.0}} {
		full, begun := stepped(c.length)
		if math.Abs(full-c.limit) > 1e-12 || math.Abs(begun-c.limit) > 1e-12 {
			t.Errorf("%v m: %v and %v, want %v", c.length, full, begun, c.limit)
		}
	}
	if full, begun := stepped(6); full != 0.3 || begun != 0.4 {
		t.Errorf("6 m: %v, %v", full, begun)
	}
}

// A longer cord never has a lower limit, a thicker one never a higher one by the UK code, and no rule
// passes what a stricter one fails by its own number.
func TestLimits(t *testing.T) {
	for _, part := range []string{"attached", "together", "device", "lead"} {
		for _, area := range []float64{0.5, 0.75, 1, 1.25, 1.5, 2.5} {
			last := rules(part, 0, area)
			for l := 1.0; l <= 60; l++ {
				now := rules(part, l, area)
				for i, r := range now {
					if r.Limit < last[i].Limit || r.Lenient < r.Limit || r.Limit > 1 && r.Name == "en" {
						t.Fatalf("%s %v m %v mm²: %+v after %+v", part, l, area, r, last[i])
					}
				}
				last = now
			}
		}
	}
}

// Raising the reading goes from pass to fail once and never back, under each rule.
func TestOnce(t *testing.T) {
	for _, rule := range []string{"strictest", "en", "uk", "maker", "as-nzs", "medical"} {
		rank, last := map[string]int{"passes": 0, "readings-differ": 1, "fails": 2}, 0
		for milli := 20; milli <= 1200; milli += 20 {
			n, ok := rank[word(t, "verdict", calc.Setting{Name: "reading", Value: quantity.Number(float64(milli)/1000) + " Ω"}, calc.Setting{Name: "rule", Value: rule},
				calc.Setting{Name: "length", Value: "8 m"})]
			if !ok || n < last {
				t.Fatalf("%s at %d mΩ", rule, milli)
			}
			last = n
		}
		if last != 2 {
			t.Errorf("%s never fails", rule)
		}
	}
}
