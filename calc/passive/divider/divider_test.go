package divider

import (
	"math"
	"math/rand/v2"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestDivider(t *testing.T) { calctest.Run(t, Calculator) }

func get(t *testing.T, r calc.Result, name string) float64 {
	t.Helper()
	o, ok := r.Output(name)
	if !ok {
		t.Fatalf("no output %s", name)
	}
	return o.Value.Num
}

// Currents meet at the tap, the watts are those of the supply, and a load in ohms
// is the same as the current that it draws.
func TestKirchhoff(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	for range 500 {
		ohm := func() string { return quantity.Number(quantity.Round(math.Pow(10, 5*rnd.Float64()), 6)) + " Ω" }
		upper, lower, load := ohm(), ohm(), ohm()
		run := func(load string) calc.Result {
			r, err := Calculator.Run([]calc.Setting{{Name: "supply", Value: "48 V"}, {Name: "upper", Value: upper}, {Name: "lower", Value: lower}, {Name: "load", Value: load}})
			if err != nil {
				t.Fatal(err)
			}
			return r
		}
		r := run(load)
		tap, total, taken := get(t, r, "loaded"), get(t, r, "supply-current"), get(t, r, "load-current")
		low, _ := quantity.Parse(quantity.Resistance, lower)
		if math.Abs(total-taken-tap/low.Num) > 1e-6*total {
			t.Fatalf("%s %s %s: %v A in, %v A to the load", upper, lower, load, total, taken)
		}
		if p := get(t, r, "upper-power") + get(t, r, "lower-power") + tap*taken; math.Abs(p-48*total) > 1e-6*p {
			t.Fatalf("%s %s %s: %v W against %v W", upper, lower, load, p, 48*total)
		}
		if again := run(quantity.Number(taken) + " A"); math.Abs(get(t, again, "loaded")-tap) > 1e-6*48 {
			t.Fatalf("%s %s %s: %v by amperes, %v by ohms", upper, lower, load, get(t, again, "loaded"), tap)
		}
	}
}

// A lighter load, a larger lower or a smaller upper resistor never lowers the tap.
func TestMonotone(t *testing.T) {
	last := 0.0
	for load := 1.0; load < 1e9; load *= 3 {
		v := loaded(unloaded(10, 1e3, 1e4), inner(1e3, 1e4), load)
		if v <= last || v >= unloaded(10, 1e3, 1e4) {
			t.Errorf("%v Ω: %v V after %v", load, v, last)
		}
		last = v
	}
	for r := 1.0; r < 1e6; r *= 3 {
		if unloaded(10, 1e3, 3*r) <= unloaded(10, 1e3, r) || unloaded(10, 3*r, 1e3) >= unloaded(10, r, 1e3) {
			t.Errorf("%v Ω", r)
		}
	}
}

// Two of 5 % in a divider by ten: the tap moves by 9 %, as the page says.
func TestTolerance(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "supply", Value: "10 V"}, {Name: "upper", Value: "9 kΩ ± 5 %"}, {Name: "lower", Value: "1 kΩ ± 5 %"}})
	if err != nil {
		t.Fatal(err)
	}
	o, _ := r.Output("unloaded")
	for upper := 8550.0; upper <= 9450; upper += 90 {
		for lower := 950.0; lower <= 1050; lower += 10 {
			if v := unloaded(10, upper, lower); v < o.Value.Low-1e-9 || v > o.Value.High+1e-9 {
				t.Errorf("%v and %v: %v V outside %v", upper, lower, v, o.Value)
			}
		}
	}
	if up := o.Value.High - 1; math.Abs(up-0.094) > 0.001 {
		t.Errorf("up by %v", up)
	}
}

func TestPlot(t *testing.T) {
	for _, load := range []string{"", "10 Ω", "1 MΩ", "1 µA"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "load", Value: load}})
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%s: %v", load, err)
		}
	}
}
