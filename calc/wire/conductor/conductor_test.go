package conductor

import (
	"math"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
	"faultleaf/calc/wire"
)

func TestConductor(t *testing.T) { calctest.Run(t, Calculator) }

// Gauge to diameter and back; calc/quantity reads the same gauge; thicker wire of every
// metal has fewer ohms.
func TestGauge(t *testing.T) {
	last := math.Inf(1)
	for n := -3.0; n <= 50; n++ {
		d := diameterOf(n)
		if back := gaugeOf(d); math.Abs(back-n) > 1e-9 {
			t.Errorf("gauge %v comes back as %v", n, back)
		}
		if d >= last {
			t.Errorf("gauge %v is not thinner than the one before", n)
		}
		last = d
		name := quantity.Number(n)
		if n <= 0 {
			name = strings.Repeat("0", int(1-n))
		}
		v, err := quantity.Parse(quantity.Area, name+" AWG")
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(v.Num/(math.Pi*d*d/4)-1) > 1e-9 {
			t.Errorf("%s AWG is read as %v m², computed as %v", name, v.Num, math.Pi*d*d/4)
		}
		word, _ := gauge(d * 1.01)
		if want, _ := gauge(d); word != want {
			t.Errorf("%v: one per cent more is called %s, not %s", n, word, want)
		}
	}
}

// A reading of the computed ohms gives the length back, at any two temperatures.
func TestLengthComesBack(t *testing.T) {
	for _, m := range wire.Metals {
		for _, at := range []string{"-40 °C", "20 °C", "75 °C", "200 °C"} {
			ohms := func(set ...calc.Setting) calc.Result {
				r, err := Calculator.Run(append(set, calc.Setting{Name: "metal", Value: m.Name}, calc.Setting{Name: "length", Value: "37 m"}))
				if err != nil {
					t.Fatal(err)
				}
				return r
			}
			o, _ := ohms(calc.Setting{Name: "temperature", Value: at}).Output("resistance")
			l, _ := ohms(calc.Setting{Name: "reading", Value: quantity.Number(o.Value.Num) + " Ω"}, calc.Setting{Name: "reading-at", Value: at}, calc.Setting{Name: "temperature", Value: "50 °C"}).Output("reading-length")
			if math.Abs(l.Value.Num-37) > 1e-6 {
				t.Errorf("%s at %s: 37 m comes back as %v", m.Name, at, l.Value.Num)
			}
		}
	}
}

// The range of a toleranced diameter holds every wire within it.
func TestRange(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "size", Value: "0.5 mm ± 2 %"}})
	if err != nil {
		t.Fatal(err)
	}
	o, _ := r.Output("resistance")
	for d := 0.49; d <= 0.51; d += 0.001 {
		x := 0.017241e-6 * 10 / (math.Pi * d * d * 1e-6 / 4)
		if x < o.Value.Low*(1-1e-9) || x > o.Value.High*(1+1e-9) {
			t.Errorf("%v mm: %v Ω outside %s", d, x, o.Text)
		}
	}
}

// Hotter metal has more ohms, and a flexible conductor may have more than its nominal
// copper.
func TestShelf(t *testing.T) {
	for _, m := range wire.Metals {
		for c := -60.0; c < 250; c++ {
			if m.Factor(c) >= m.Factor(c+1) || m.Factor(c) <= 0 {
				t.Fatalf("%s at %v °C", m.Name, c)
			}
		}
		if math.Abs(m.Factor(20)-1) > 1e-12 {
			t.Errorf("%s at 20 °C: %v", m.Name, m.Factor(20))
		}
	}
	for _, c := range wire.Stranded {
		if nominal := 17.241 / c.Square; c.Class2 < nominal || c.Class5 < c.Class2 || c.Class5 > 1.2*nominal || c.Tinned2 <= c.Class2 || c.Tinned5 <= c.Class5 || c.Tinned5 > 1.05*c.Class5 {
			t.Errorf("%v mm²: %+v against %v nominal", c.Square, c, nominal)
		}
	}
}
