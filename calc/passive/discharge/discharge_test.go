package discharge

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/passive"
)

func TestDischarge(t *testing.T) { calctest.Run(t, Calculator) }

// The time to a voltage and the voltage after that time are inverse.
func TestInverse(t *testing.T) {
	for _, tau := range []float64{1e-4, 0.47, 4.7, 3600} {
		for _, v := range []float64{1, 34, 60, 120, 324} {
			if back := passive.Remaining(325, tau, timeTo(325, v, tau)); math.Abs(back-v) > 1e-9*v {
				t.Errorf("τ %v: %v V comes back as %v", tau, v, back)
			}
		}
	}
	if timeTo(12, 34, 5) != 0 {
		t.Error("a capacitor below the safe volts must not need a time")
	}
}

// More farads, ohms or volts take longer; a higher safe voltage does not.
func TestMonotone(t *testing.T) {
	at := func(name, value string) float64 {
		r, err := Calculator.Run([]calc.Setting{{Name: name, Value: value}})
		if err != nil {
			t.Fatal(err)
		}
		o, _ := r.Output("time")
		return o.Value.Num
	}
	for _, up := range [][]string{{"capacitor", "100 µF", "470 µF", "1 mF"}, {"resistor", "1 kΩ", "10 kΩ", "1 MΩ"}, {"volts", "40 V", "325 V", "400 V"},
		{"safe", "200 V", "60 V", "34 V"}} {
		for i := 2; i < len(up); i++ {
			if at(up[0], up[i]) <= at(up[0], up[i-1]) {
				t.Errorf("%s: %s is not slower than %s", up[0], up[i], up[i-1])
			}
		}
	}
}

func TestPlot(t *testing.T) {
	for _, c := range []string{"1 pF", "0.47 µF", "470 µF", "1 F"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "capacitor", Value: c}})
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%s: %v", c, err)
		}
	}
}
