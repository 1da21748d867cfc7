package cord

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestCord(t *testing.T) { calctest.Run(t, Calculator) }

// Longer, thinner, hotter or more loaded cords lose more, and tinned ones too.
func TestMonotone(t *testing.T) {
	at := func(name, value string) float64 {
		r, err := Calculator.Run([]calc.Setting{{Name: name, Value: value}})
		if err != nil {
			t.Fatal(err)
		}
		o, _ := r.Output("drop")
		return o.Value.Num
	}
	for _, up := range [][]string{{"length", "5 m", "25 m", "50 m"}, {"load", "1 A", "10 A", "13 A"}, {"conductor", "0 °C", "20 °C", "60 °C"},
		{"size", "6mm2", "4mm2", "2.5mm2", "1.5mm2", "1.25mm2", "1mm2", "0.75mm2"}, {"size", "12-awg", "14-awg", "16-awg", "18-awg"}, {"tinned", "plain", "tinned"}} {
		for i := 2; i < len(up); i++ {
			if at(up[0], up[i]) <= at(up[0], up[i-1]) {
				t.Errorf("%s: %s loses no more than %s", up[0], up[i], up[i-1])
			}
		}
	}
}

// Volts lost, left, heat and ohms agree with each other; watts and amperes give the same.
func TestAgree(t *testing.T) {
	for _, set := range calctest.Random(Calculator, 200, 3) {
		r, err := Calculator.Run(set)
		if err != nil {
			continue
		}
		get := func(n string) float64 { o, _ := r.Output(n); return o.Value.Num }
		var mains float64
		for _, g := range r.Inputs {
			if g.Name == "mains" {
				mains = g.Value.Num
			}
		}
		if math.Abs(get("drop")+get("left")-mains) > 1e-9*mains || math.Abs(get("loop")*get("current")*get("current")-get("heat")) > 1e-9*get("heat") {
			t.Fatalf("%v: %v lost, %v left, %v heat", set, get("drop"), get("left"), get("heat"))
		}
	}
	a, err := Calculator.Run([]calc.Setting{{Name: "load", Value: "2300 W"}})
	if err != nil {
		t.Fatal(err)
	}
	b, err := Calculator.Run([]calc.Setting{{Name: "load", Value: "10 A"}})
	if err != nil {
		t.Fatal(err)
	}
	for i := range a.Outputs {
		if a.Outputs[i].Text != b.Outputs[i].Text {
			t.Errorf("%s: %s against %s", a.Outputs[i].Name, a.Outputs[i].Text, b.Outputs[i].Text)
		}
	}
}

// The areas of the gauges are those that calc/quantity reads.
func TestGauges(t *testing.T) {
	for _, s := range table {
		v, err := quantity.Parse(quantity.Area, s.label)
		if err != nil || math.Abs(v.Num*1e6-s.square) > 1e-4*s.square {
			t.Errorf("%s: %v mm² in the table, read as %v, %v", s.label, s.square, v.Num*1e6, err)
		}
	}
}

// A wound cord is never "within" without the drum's figure, whatever the load.
func TestWound(t *testing.T) {
	for _, s := range table {
		for _, load := range []string{"10 mA", "1 A", "3 A", "13 A"} {
			r, err := Calculator.Run([]calc.Setting{{Name: "size", Value: s.name}, {Name: "load", Value: load}, {Name: "laid", Value: "wound"}, {Name: "length", Value: "10 m"}})
			if err != nil {
				t.Fatal(err)
			}
			if v, _ := r.Output("verdict"); v.Word == "within" {
				t.Errorf("%s, %s: %s", s.label, load, v.Text)
			}
		}
	}
	r, err := Calculator.Run([]calc.Setting{{Name: "load", Value: "400 W"}, {Name: "laid", Value: "wound"}, {Name: "wound-rating", Value: "500 W"}})
	if err != nil {
		t.Fatal(err)
	}
	if v, _ := r.Output("verdict"); v.Word != "within" {
		t.Errorf("400 W on a drum of 500 W: %s", v.Text)
	}
}

func TestPlot(t *testing.T) {
	for _, s := range table {
		r, err := Calculator.Run([]calc.Setting{{Name: "size", Value: s.name}})
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%s: %v", s.label, err)
		}
	}
}
