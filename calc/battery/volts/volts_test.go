package volts

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/battery"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestVolts(t *testing.T) { calctest.Run(t, Calculator) }

// No lithium chemistry gets a voltage without its board, nor outside its temperatures, nor
// below its lowest volts; whatever else is entered.
func TestLithiumRefused(t *testing.T) {
	for _, in := range calctest.Random(Calculator, 3000, 9) {
		r, err := Calculator.Run(in)
		if err != nil {
			continue
		}
		word := map[string]string{}
		num := map[string]float64{}
		for _, g := range r.Inputs {
			word[g.Name], num[g.Name] = g.Word, g.Value.Num
		}
		if _, charged := r.Output("charge"); !charged || !battery.Find(word["chemistry"]).Lithium {
			continue
		}
		if word["protection"] != "works" || num["temperature"] < 0 || num["temperature"] > 45 {
			t.Fatalf("%v is charged", in)
		}
	}
}

// Warmer never asks for more volts, the float never lies above the charging volts, and the
// number lies in its published band.
func TestMonotone(t *testing.T) {
	for name, r := range rules {
		if r.charge.volts == 0 {
			continue
		}
		last := math.Inf(1)
		for k := r.from; k <= r.to; k++ {
			c, f := r.charge.at(k), r.float.at(k)
			if c.volts > last || c.volts < c.low-1e-12 || c.volts > c.high+1e-12 {
				t.Errorf("%s at %v °C: %+v", name, k, c)
			}
			if r.float.volts > 0 && (f.volts >= c.volts || f.volts < f.low-1e-12 || f.volts > f.high+1e-12) {
				t.Errorf("%s at %v °C: float %+v", name, k, f)
			}
			last = c.volts
		}
	}
}

// The correction ends at the maker's temperatures, and the result says so.
func TestEndIsSaid(t *testing.T) {
	for _, c := range []struct {
		temperature float64
		said        bool
	}{{5, false}, {40, false}, {4.9, true}, {41, true}} {
		r, err := Calculator.Run([]calc.Setting{{Name: "temperature", Value: quantity.Number(c.temperature) + " °C"}})
		if err != nil {
			t.Fatal(err)
		}
		if (len(r.Notes) > 0) != c.said {
			t.Errorf("%v °C: notes %v", c.temperature, r.Notes)
		}
	}
}

func TestPlot(t *testing.T) {
	for _, ch := range Calculator.Inputs[0].Choices {
		r, err := Calculator.Run([]calc.Setting{{Name: "chemistry", Value: ch.Name}, {Name: "protection", Value: "works"}})
		if err != nil {
			t.Fatal(err)
		}
		svg, err := Calculator.Draw(Calculator.Plots[0], r.In())
		if ch.Name == "nimh" {
			if err == nil {
				t.Error("NiMH has no volts to draw")
			}
		} else if err != nil || len(svg) < 500 {
			t.Errorf("%s: %v", ch.Name, err)
		}
	}
}
