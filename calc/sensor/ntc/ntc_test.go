package ntc

import (
	"math"
	"testing"

	"faultleaf/calc/calctest"
)

func TestNTC(t *testing.T) { calctest.Run(t, Calculator) }

// Ohms and temperature are inverse under both laws, and ohms only fall.
func TestInverse(t *testing.T) {
	for _, l := range []law{{r25: 1e4, b: 3950}, {r25: 5, b: 3000}, {steinhart: true, r25: 1e4}, {steinhart: true, r25: 2252}, {steinhart: true, own: &[3]float64{1.009249522e-3, 2.378405444e-4, 2.019202697e-7}}} {
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
	b, s := law{r25: 1e4, b: 3977}, law{steinhart: true, r25: 1e4}
	for _, r := range []float64{5e3, 8e3, 1e4, 2e4} {
		if d := math.Abs(b.temperature(r) - s.temperature(r)); d > 1 {
			t.Errorf("%v Ω: %v K apart", r, d)
		}
	}
	// 10 kΩ parts of B 3435 and 3950 differ by about 5 K at 60 °C
	if d := (law{r25: 1e4, b: 3435}).temperature((law{r25: 1e4, b: 3950}).ohms(60)) - 60; d < 4 || d > 7 {
		t.Errorf("%v K", d)
	}
}

func FuzzCoefficients(f *testing.F) {
	for _, s := range []string{"1.129241e-3 2.341077e-4 8.775468e-8", "1e-3; 2e-4; 0", "1,1e-3, 2e-4, 1e-7", "", "a b c", "1 2 3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		abc, err := coefficients(s)
		if err != nil {
			return
		}
		l := law{steinhart: true, own: abc}
		if x := l.ohms(25); x > 1e-3 && x < 1e9 && math.Abs(l.temperature(x)-25) > 1e-6 {
			t.Errorf("%q: 25 °C comes back as %v", s, l.temperature(x))
		}
	})
}
