package runcap

import (
	"math"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestRunCapacitor(t *testing.T) { calctest.Run(t, Calculator) }

// Amperes and capacitance are inverse at every frequency.
func TestInverse(t *testing.T) {
	for _, hertz := range []float64{50, 60, 400} {
		for _, c := range []float64{0.5e-6, 16e-6, 70e-6, 300e-6} {
			for _, volts := range []float64{24, 230, 440} {
				if back := inCircuit(drawn(c, volts, hertz), volts, hertz); math.Abs(back-c) > 1e-12*c {
					t.Errorf("%v F comes back as %v", c, back)
				}
			}
		}
	}
}

// MOTR-003: the constant of 60 Hz at 50 Hz reads 17 % low.
func TestWrongConstant(t *testing.T) {
	if low := 1 - inCircuit(2.1, 410, 60)/inCircuit(2.1, 410, 50); math.Abs(low-0.17) > 0.005 {
		t.Errorf("low by %v", low)
	}
	r, err := Calculator.Run([]calc.Setting{{Name: "frequency", Value: "60 Hz"}, {Name: "volts", Value: "410 V"}, {Name: "amps", Value: "2.1 A"}})
	if err != nil {
		t.Fatal(err)
	}
	if notes := strings.Join(r.Notes, " "); !strings.Contains(notes, "50.0 Hz") {
		t.Error(notes)
	}
}

// From nothing to twice the mark the verdict passes open, weak, low, within, high,
// each once.
func TestOrder(t *testing.T) {
	order, at := []string{"open", "weak", "low", "within", "high"}, 0
	for c := 0.0; c <= 32e-6; c += 0.01e-6 {
		word, sentence := judge(c, 16e-6, 0.05)
		for at < len(order) && order[at] != word {
			at++
		}
		if at == len(order) || sentence == "" {
			t.Fatalf("%v F: %s after the rest", c, word)
		}
	}
	if at != len(order)-1 {
		t.Errorf("ended at %s", order[at])
	}
	for _, edge := range []float64{15.2e-6, 16.8e-6} {
		if word, _ := judge(edge, 16e-6, 0.05); word != "within" {
			t.Errorf("%v: %s", edge, word)
		}
	}
}

// The meter's error makes a reading at the edge undecided; the range from the
// inputs holds the middle of every corner.
func TestTolerance(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "marked", Value: "16 µF"}, {Name: "measured", Value: "15.2 µF ± 3 %"}})
	if err != nil {
		t.Fatal(err)
	}
	if o, _ := r.Output("verdict"); o.Word != calc.CannotTell {
		t.Error(o.Word)
	}
	if r, err = Calculator.Run([]calc.Setting{{Name: "volts", Value: "410 V ± 2 %"}, {Name: "amps", Value: "2.1 A ± 3 %"}}); err != nil {
		t.Fatal(err)
	}
	o, _ := r.Output("in-circuit")
	for amps := 2.037; amps <= 2.163; amps += 0.007 {
		for volts := 401.8; volts <= 418.2; volts += 1 {
			if c := inCircuit(amps, volts, 50); c < o.Value.Low*(1-1e-9) || c > o.Value.High*(1+1e-9) {
				t.Errorf("%v A, %v V: %v F outside %v", amps, volts, c, o.Value)
			}
		}
	}
	if o.Value.Kind != quantity.Capacitance {
		t.Error(o.Value.Kind)
	}
}
