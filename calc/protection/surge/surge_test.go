package surge

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestSurge(t *testing.T) { calctest.Run(t, Calculator) }

// A rating below what the line may stay at never fits, and with the rest as marked only the
// mark itself does.
func TestOrder(t *testing.T) {
	rank := map[string]int{"volts-too-low": 0, "not-equal": 1, "fits": 2}
	fits := 0
	for v := 200; v <= 400; v += 5 {
		r, err := Calculator.Run([]calc.Setting{{Name: "marked", Value: "275 V"}, {Name: "part", Value: quantity.Number(float64(v)) + " V"}, {Name: "old-disc", Value: "14 mm"}, {Name: "part-disc", Value: "20 mm"}})
		if err != nil {
			t.Fatal(err)
		}
		o, _ := r.Output("verdict")
		if _, ok := rank[o.Word]; !ok || (v < 253) != (o.Word == "volts-too-low") || (v == 275) != (o.Word == "fits") {
			t.Errorf("%d V: %s", v, o.Word)
		}
		if o.Word == "fits" {
			fits++
		}
	}
	if fits != 1 {
		t.Errorf("%d fit", fits)
	}
}

// The rating from the volts at 1 mA and back is the same, and every part of the list of
// usual values comes near its neighbour in the other list.
func TestRated(t *testing.T) {
	for _, supply := range []string{"ac", "dc"} {
		for _, v := range usual[supply] {
			if back := ratedOf(supply, atOneOf(supply, v)); math.Abs(back-v) > 1e-9*v {
				t.Errorf("%s %v V comes back as %v", supply, v, back)
			}
		}
	}
	if len(usual["ac"]) != len(usual["dc"]) {
		t.Fatal("the lists are not of the same parts")
	}
	for i, ac := range usual["ac"] {
		if dc := usual["dc"][i]; i > 0 && (ac <= usual["ac"][i-1] || dc <= usual["dc"][i-1]) || dc < 1.2*ac || dc > 1.5*ac {
			t.Errorf("%v V AC with %v V DC", ac, dc)
		}
	}
}

// The factors are the means of the shapes, summed here.
func TestShapes(t *testing.T) {
	for name, f := range map[string]func(x float64) float64{"rectangle": func(float64) float64 { return 1 }, "triangle": func(x float64) float64 { return x },
		"half-sine": func(x float64) float64 { return math.Sin(math.Pi * x) }, "exponential": func(x float64) float64 { return 40 * math.Exp2(-40*x) }} {
		const n = 200000
		sum := 0.0
		for i := range n {
			sum += f((float64(i)+.5)/n) / n
		}
		if math.Abs(sum-shapes[name]) > 1e-5 {
			t.Errorf("%s: %v, the factor is %v", name, sum, shapes[name])
		}
	}
}

func TestPlot(t *testing.T) {
	for _, set := range [][]calc.Setting{nil, {{Name: "coil", Value: "1 H"}, {Name: "coil-current", Value: "1 A"}}, {{Name: "shape", Value: "half-sine"}, {Name: "surge", Value: "1 kA"}}} {
		r, err := Calculator.Run(set)
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%v: %v", set, err)
		}
	}
}
