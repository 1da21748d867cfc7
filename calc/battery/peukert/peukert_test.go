package peukert

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestPeukert(t *testing.T) { calctest.Run(t, Calculator) }

// At the rated current it lasts the rated time for any exponent; two ratings give back the exponent
// they were made with.
func TestInverse(t *testing.T) {
	for k := 1.01; k < 2; k += 0.07 {
		for _, h := range []float64{hour, 5 * hour, 20 * hour} {
			c := 100 * hour
			if got := lasts(c, h, c/h, k); math.Abs(got-h) > 1e-9*h {
				t.Errorf("k %v: the rating of %v s lasts %v s", k, h, got)
			}
			i2 := 3 * c / h
			t2 := lasts(c, h, i2, k)
			if got := exponentOf(c, h, i2*t2, t2); math.Abs(got-k) > 1e-9 {
				t.Errorf("k %v comes back as %v", k, got)
			}
		}
	}
}

// A larger load never lasts longer nor delivers more; a larger battery lasts longer.
func TestMonotone(t *testing.T) {
	for k := 1.0; k <= 2; k += 0.1 {
		last, lastCharge := math.Inf(1), math.Inf(1)
		for i := 1.0; i < 200; i *= 1.1 {
			now := lasts(100*hour, 20*hour, i, k)
			if now >= last || now*i > lastCharge*(1+1e-12) {
				t.Fatalf("k %v: %v A lasts %v s", k, i, now)
			}
			if lasts(110*hour, 20*hour, i, k) <= now {
				t.Fatalf("k %v: more capacity does not last longer", k)
			}
			last, lastCharge = now, now*i
		}
	}
}

// The same load in watts and amperes lasts as long, and a tolerance holds every sample.
func TestUnitsAndRange(t *testing.T) {
	at := func(load string) quantity.Value {
		r, err := Calculator.Run([]calc.Setting{{Name: "load", Value: load}})
		if err != nil {
			t.Fatal(err)
		}
		o, _ := r.Output("time")
		return o.Value
	}
	if a, w := at("25 A"), at("300 W"); math.Abs(a.Num-w.Num) > 1e-6*a.Num {
		t.Errorf("25 A lasts %v s, 300 W at 12 V %v s", a.Num, w.Num)
	}
	whole := at("25 A ± 10 %")
	for _, x := range []string{"22.5 A", "24 A", "25 A", "26.1 A", "27.5 A"} {
		if v := at(x).Num; v < whole.Low || v > whole.High {
			t.Errorf("%s lasts %v s, outside %v to %v", x, v, whole.Low, whole.High)
		}
	}
}

func TestPlot(t *testing.T) {
	for _, load := range []string{"1 A", "25 A", "400 W"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "load", Value: load}})
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%s: %v", load, err)
		}
	}
}
