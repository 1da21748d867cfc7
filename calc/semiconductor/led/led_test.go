package led

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestLED(t *testing.T) { calctest.Run(t, Calculator) }

// The bands hold the published typical values of the colours.
func TestBands(t *testing.T) {
	for _, x := range []struct {
		colour, source string
		volts          []float64
	}{
		{"red", "Vishay TLHR4200 (2 V), a school course (1.7 V), a maker space (1.8 V), a table by colour (1.8 to 2.1 V)", []float64{2, 1.7, 1.8, 2.1}},
		{"yellow", "Vishay TLHY5400 (2.4 V), a table by colour (2.1 to 2.2 V)", []float64{2.4, 2.1, 2.2}},
		{"green", "Vishay TLHG4400 (2.4 V), a table by colour (2.1 V)", []float64{2.4, 2.1}},
		{"orange", "Vishay TLHO4200 (2.4 V), a maker space (1.9 V)", []float64{2.4, 1.9, 2.0}},
		{"pure-green", "a table by colour", []float64{3.0, 3.5}},
		{"blue", "a school course (2.7 V), a table by colour (3.0 to 3.3 V)", []float64{2.7, 3.0, 3.3}},
		{"white", "a school course, a table by colour", []float64{3.0, 3.3}},
		{"infrared", "a table by colour", []float64{1.2}},
		{"ultraviolet", "a table by colour", []float64{3.3, 4.0}},
	} {
		b, ok := bands[x.colour]
		if !ok || !(b[0] <= b[1] && b[1] <= b[2]) {
			t.Fatalf("%s: %v", x.colour, b)
		}
		for _, v := range x.volts {
			if v < b[0] || v > b[2] {
				t.Errorf("%s: %v V (%s) lies outside %v", x.colour, v, x.source, b)
			}
		}
	}
}

// The value of E24 is never smaller, is the next one, and is itself where the need is.
func TestNotSmaller(t *testing.T) {
	for r := 0.05; r < 2e7; r *= 1.013 {
		v := notSmaller(r)
		if v < r*(1-1e-9) || v > r*1.5/1.3*(1+1e-9) { // its widest gap
			t.Errorf("%v Ω: %v", r, v)
		}
		if again := notSmaller(v); again != v {
			t.Errorf("%v is not its own next: %v", v, again)
		}
	}
}

// A resistor computed for a current gives that current back, and more ohms less.
func TestInverse(t *testing.T) {
	for _, in := range calctest.Random(Calculator, 400, 9) {
		var set []calc.Setting
		for _, s := range in {
			if s.Name == "count" {
				s.Value = "2"
			}
			if s.Name != "resistor" {
				set = append(set, s)
			}
		}
		r, err := Calculator.Run(set)
		if err != nil {
			t.Fatal(err)
		}
		o, ok := r.Output("resistor-for")
		if !ok {
			continue
		}
		_, typical, _ := dropOf(r.In())
		if back := through(r.In().Num("supply"), typical, o.Value.Num); math.Abs(back/r.In().Num("current")-1) > 1e-8 {
			t.Fatalf("%v: %v A comes back as %v", set, r.In().Num("current"), back)
		}
	}
}

func TestPlot(t *testing.T) {
	for _, set := range [][]calc.Setting{nil, {{Name: "supply", Value: "2 V"}, {Name: "colour", Value: "blue"}, {Name: "resistor", Value: "100 Ω"}}} {
		r, err := Calculator.Run(set)
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%v: %v", set, err)
		}
	}
}
