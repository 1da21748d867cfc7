package resistance

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestResistance(t *testing.T) { calctest.Run(t, Calculator) }

// A battery made of volts and ohms comes back, at any pair of loads.
func TestInverse(t *testing.T) {
	for _, r := range []float64{1e-4, 0.0135, 1, 40} {
		for _, v := range []float64{1.2, 12.6, 400} {
			for _, share := range []float64{0, 0.01, 0.1} {
				i1, i2 := share*v/r, 0.3*v/r
				gotR, gotV := twoLoads(v-i1*r, i1, v-i2*r, i2)
				if math.Abs(gotR-r) > 1e-9*r || math.Abs(gotV-v) > 1e-9*v {
					t.Errorf("%v V behind %v Ω comes back as %v V, %v Ω", v, r, gotV, gotR)
				}
			}
		}
	}
}

// A higher reading never gets a milder verdict.
func TestVerdictOrder(t *testing.T) {
	rank := map[string]int{"does-not-fit": 0, "in-order": 1, "doubtful": 2, "cannot-compare": 2, "worn": 3}
	for _, ac := range []bool{false, true} {
		last, seen := 0, map[string]bool{}
		for x := 0.1; x < 5; x += 0.01 {
			w, _ := judge(x, ac)
			n, ok := rank[w]
			if !ok || n < last {
				t.Fatalf("%v times: %s", x, w)
			}
			last, seen[w] = n, true
		}
		if len(seen) != 4 {
			t.Errorf("saw only %v", seen)
		}
	}
}

// The tolerance of two readings close together shows as the wide range it is.
func TestTolerance(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "light-volts", Value: "12.60 V ± 0.03 V"}, {Name: "heavy-volts", Value: "12.42 V ± 0.03 V"}})
	if err != nil {
		t.Fatal(err)
	}
	o, _ := r.Output("resistance")
	if o.Value.Low > 0.13/9.5 || o.Value.High < 0.23/9.5 || !o.Value.Ranged() {
		t.Errorf("%s does not hold 0.12/9.5 to 0.24/9.5 Ω", o.Text)
	}
}

func TestPlot(t *testing.T) {
	r, err := Calculator.Run(nil)
	if err != nil {
		t.Fatal(err)
	}
	if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
		t.Error(err)
	}
}
