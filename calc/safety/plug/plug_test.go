package plug

import (
	"math"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/passive"
	"faultleaf/calc/quantity"
)

func TestPlugPins(t *testing.T) { calctest.Run(t, Calculator) }

func run1(t *testing.T, in ...calc.Setting) calc.Result {
	t.Helper()
	r, err := Calculator.Run(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A bleeder just at the largest passes the household rule, one a hundredth above fails it.
func TestLargestBleeder(t *testing.T) {
	for _, c := range []float64{0.15e-6, 0.47e-6, 2.2e-6} {
		for _, v0 := range []float64{170, 325, 373} {
			most, ok := largestBleeder(c, v0, householdVolts, 1)
			if !ok || math.Abs(passive.Remaining(v0, most*c, 1)-34) > 1e-9 {
				t.Errorf("%v F from %v V: %v", c, v0, most)
			}
			for k, want := range map[float64]string{0.99: "passes", 1.01: "fails"} {
				if f := findings(c, v0, k*most*c)[0]; f.name != "household" || f.word != want {
					t.Errorf("%v times the largest: %+v", k, f)
				}
			}
		}
	}
	if _, ok := largestBleeder(1e-6, 30, 34, 1); ok {
		t.Error("30 V need no bleeder")
	}
}

// A larger capacitor above the exemptions, or a larger bleeder, never makes any verdict better, and the strictest is the
// worst of all that may be chosen.
func TestWorse(t *testing.T) {
	last := make([]int, 6)
	for nano := 200.0; nano <= 5000; nano += 100 {
		for i, f := range findings(nano*1e-9, 325, nano*1e-9*1e6) {
			if f.rank < last[i] {
				t.Fatalf("%v nF: %+v", nano, f)
			}
			last[i] = f.rank
		}
	}
	for _, in := range calctest.Random(Calculator, 300, 9) {
		in[3] = calc.Setting{Name: "rule", Value: "strictest"}
		r, err := Calculator.Run(in)
		if err != nil {
			continue // a beep on the bleeder is no amount
		}
		v, _ := r.Output("verdict")
		failed := false
		for _, name := range []string{"household", "it-new", "machinery", "laboratory"} { // the withdrawn one decides nothing by itself
			o, _ := r.Output(name)
			failed = failed || o.Word == "fails" || o.Word == "passes-behind-covers"
		}
		if failed != (v.Word == "fails") {
			t.Fatalf("%v: %s, one of the rules fails: %v", in, v.Word, failed)
		}
		if strings.Contains(v.Text, "::") || strings.Contains(v.Text, "  ") {
			t.Fatal(v.Text)
		}
	}
}

// A tolerance that straddles a limit gives "cannot tell", never a pass.
func TestTolerance(t *testing.T) {
	r := run1(t, calc.Setting{Name: "capacitor", Value: "0.47 µF ± 20 %"}, calc.Setting{Name: "resistor", Value: "1 MΩ"})
	if w, _ := r.Output("household"); w.Word != calc.CannotTell {
		t.Errorf("%s: %s", w.Word, w.Text)
	}
}

func TestPlot(t *testing.T) {
	for _, c := range []float64{1e-12, 0.47e-6, 1e-3} {
		r := run1(t, calc.Setting{Name: "capacitor", Value: quantity.Number(c) + " F"}, calc.Setting{Name: "resistor", Value: "1 MΩ"})
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%v F: %v", c, err)
		}
	}
}
