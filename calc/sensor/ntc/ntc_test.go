package ntc

import (
	"math"
	"testing"

	"faultleaf/calc/calctest"
)

func TestNTC(t *testing.T) { calctest.Run(t, Calculator) }

// Ohms and temperature are inverse under both laws, and ohms only fall.
func TestInverse(t *testing.T) {
	for _, l := range []law{{false, 1e4, 3950}, {false, 5, 3000}, {true, 1e4, 0}, {true, 2252, 0}} {
		before := math.Inf(1)
		for x := -60.0; x <= 200; x += 6.7 {
			r := l.ohms(x)
			if r >= before {
				t.Fatalf("%+v: no fewer ohms at %v °C", l, x)
			}
			before = r
			if back := l.temperature(r); math.Abs(back-x) > 1e-6 {
				t.Errorf("%+v: %v °C comes back as %v", l, x, back)
			}
		}
	}
}

// The two laws of one part agree near room temperature, as the page says.
func TestLawsAgree(t *testing.T) {
	b, s := law{false, 1e4, 3977}, law{true, 1e4, 0}
	for _, r := range []float64{5e3, 8e3, 1e4, 2e4} {
		if d := math.Abs(b.temperature(r) - s.temperature(r)); d > 1 {
			t.Errorf("%v Ω: %v K apart", r, d)
		}
	}
	// 10 kΩ parts of B 3435 and 3950 differ by about 5 K at 60 °C
	if d := (law{false, 1e4, 3435}).temperature((law{false, 1e4, 3950}).ohms(60)) - 60; d < 4 || d > 7 {
		t.Errorf("%v K", d)
	}
}
