package charge

import (
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestCharge(t *testing.T) { calctest.Run(t, Calculator) }

// More current or a fuller battery never takes longer; a larger one is never quicker.
func TestMonotone(t *testing.T) {
	for _, ch := range Calculator.Inputs[0].Choices {
		for _, m := range []float64{1, 3600, 36000} {
			lastLow, lastHigh := 1e18, 1e18
			for i := 0.05; i < 3; i += 0.05 {
				// within one rule: the rule of NiMH changes with the rate
				low, high := ruleFor(ch.Name, 0.05).times(m, i)
				if low > high || low >= lastLow || high > lastHigh {
					t.Fatalf("%s, %v C at %v A: %v to %v s", ch.Name, m, i, low, high)
				}
				lastLow, lastHigh = low, high
				if l2, h2 := ruleFor(ch.Name, 0.05).times(2*m, i); l2 <= low || h2 <= high {
					t.Fatalf("%s: twice the charge is not slower", ch.Name)
				}
			}
		}
	}
}

// What the shortest time and the current give back is the charge to put back.
func TestRoundTrip(t *testing.T) {
	for _, in := range calctest.Random(Calculator, 300, 3) {
		r, err := Calculator.Run(in)
		if err != nil {
			continue
		}
		time, ok := r.Output("time")
		if !ok {
			continue
		}
		back, _ := r.Output("put-back")
		var i float64
		for _, g := range r.Inputs {
			if g.Name == "current" {
				i = g.Value.Num
			}
		}
		if d := time.Value.Low*i - back.Value.Num; d > 1e-6*back.Value.Num || d < -1e-6*back.Value.Num {
			t.Fatalf("%v: %v s at %v A is not %v", in, time.Value.Low, i, back.Text)
		}
	}
}

// A tolerance of the temperature that reaches the frost gives "cannot tell".
func TestTolerance(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "chemistry", Value: "li-ion"}, {Name: "temperature", Value: "2 °C ± 3 K"}})
	if err != nil {
		t.Fatal(err)
	}
	if w, _ := r.Output("verdict"); w.Word != calc.CannotTell {
		t.Errorf("%s: %s", w.Word, w.Text)
	}
}

func TestPlot(t *testing.T) {
	for _, ch := range Calculator.Inputs[0].Choices {
		r, err := Calculator.Run([]calc.Setting{{Name: "chemistry", Value: ch.Name}})
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%s: %v", ch.Name, err)
		}
	}
}
