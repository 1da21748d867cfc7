package path

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestPath(t *testing.T) { calctest.Run(t, Calculator) }

// The sink needed and the junction are inverse: with just that sink the junction is at its highest.
func TestInverse(t *testing.T) {
	for p := 0.1; p < 30; p *= 1.7 {
		for _, air := range []float64{-20, 25, 60} {
			for _, highest := range []float64{100, 125, 175} {
				r := sinkNeeded(p, air, highest, 1.5, 0.5)
				if tj := air + above(p, 1.5, 0.5, r); math.Abs(tj-highest) > 1e-9*highest {
					t.Errorf("%v W in %v °C: junction at %v, want %v", p, air, tj, highest)
				}
			}
		}
	}
}

// A worse sink, warmer air and more heat make the junction hotter.
func TestMonotone(t *testing.T) {
	at := func(name, value string) float64 {
		r, err := Calculator.Run([]calc.Setting{{Name: name, Value: value}})
		if err != nil {
			t.Fatal(err)
		}
		o, _ := r.Output("junction")
		return o.Value.Num
	}
	for _, up := range [][]string{{"power", "1 W", "2 W", "5 W"}, {"sink-air", "1 K/W", "5 K/W", "20 K/W"}, {"case-sink", "0 K/W", "1 K/W", "5 K/W"},
		{"junction-case", "1 K/W", "3 K/W", "5 K/W"}, {"air", "0 °C", "25 °C", "60 °C"}} {
		for i := 2; i < len(up); i++ {
			if at(up[0], up[i]) <= at(up[0], up[i-1]) {
				t.Errorf("%s: %s is not hotter than %s", up[0], up[i], up[i-1])
			}
		}
	}
}

func TestPlot(t *testing.T) {
	for _, in := range [][]calc.Setting{nil, {{Name: "path", Value: "free"}, {Name: "power", Value: "100 W"}}, {{Name: "power", Value: "1 mW"}}} {
		r, err := Calculator.Run(in)
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%v: %v", in, err)
		}
	}
}
