package regulator

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestRegulator(t *testing.T) { calctest.Run(t, Calculator) }

func number(t *testing.T, name string, in ...calc.Setting) (float64, string) {
	t.Helper()
	r, err := Calculator.Run(in)
	if err != nil {
		t.Fatal(err)
	}
	o, _ := r.Output(name)
	return o.Value.Num, o.Text
}

// At the most current the junction is at its highest: an inverse pair.
func TestMostCurrent(t *testing.T) {
	for _, v := range []string{"7 V", "9 V", "12 V", "24 V"} {
		_, most := number(t, "most-current", calc.Setting{Name: "in", Value: v})
		j, _ := number(t, "junction", calc.Setting{Name: "in", Value: v}, calc.Setting{Name: "current", Value: most})
		if math.Abs(j-125) > 0.5 {
			t.Errorf("%s at %s: junction %v °C", v, most, j)
		}
	}
}

// What goes in comes out, as load and as heat.
func TestBalance(t *testing.T) {
	for _, v := range []float64{6, 9, 24, 40} {
		for _, i := range []float64{0, 0.1, 3} {
			if d := heat(v, 5, i, 0.005) + 5*i - v*(i+0.005); math.Abs(d) > 1e-12*v {
				t.Errorf("%v V, %v A: off by %v W", v, i, d)
			}
		}
	}
}

func TestPlot(t *testing.T) {
	for _, i := range []string{"0 A", "0.5 A", "10 A"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "current", Value: i}})
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%s: %v", i, err)
		}
	}
}
