package size

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
	"faultleaf/calc/supply/rectifier"
)

func TestSize(t *testing.T) { calctest.Run(t, Calculator) }

func value(t testing.TB, r calc.Result, name string) float64 {
	t.Helper()
	o, ok := r.Output(name)
	if !ok {
		t.Fatalf("no %s", name)
	}
	return o.Value.Num
}

// What it chooses gives what was wanted, by the page of the rectifier.
func TestComesBack(t *testing.T) {
	n := 0
	for _, set := range calctest.Random(Calculator, 120, 3) {
		r, err := Calculator.Run(set)
		if err != nil {
			continue
		}
		circuit, diode, filter, regulated := "", "", "", false
		low, high, dropout := 0.0, 0.0, 0.0
		var hertz, amps, volts, ripple float64
		for _, g := range r.Inputs {
			switch g.Name {
			case "circuit":
				circuit = g.Word
			case "diode":
				diode = g.Word
			case "filter":
				filter = g.Word
			case "output":
				regulated = g.Word == "regulated"
			case "mains-low":
				low = g.Value.Num
			case "mains-high":
				high = g.Value.Num
			case "dropout":
				dropout = g.Value.Num
			case "frequency":
				hertz = g.Value.Num
			case "amps":
				amps = g.Value.Num
			case "volts":
				volts = g.Value.Num
			case "ripple":
				ripple = g.Value.Num
			}
		}
		if filter == "none" {
			continue
		}
		n++
		ac := value(t, r, "ac-off-load")
		if regulated {
			ac *= 1 - low
		}
		text := func(x float64, unit string) string { return quantity.Number(x) + " " + unit }
		back, err := rectifier.Calculator.Run([]calc.Setting{{Name: "circuit", Value: circuit}, {Name: "diode", Value: diode}, {Name: "ac", Value: text(ac, "V")}, {Name: "frequency", Value: text(hertz, "Hz")},
			{Name: "source-resistance", Value: text(value(t, r, "source-resistance"), "Ω")}, {Name: "capacitor", Value: text(value(t, r, "capacitor"), "F")}, {Name: "load", Value: text(amps, "A")}})
		if err != nil {
			t.Errorf("%v: %v", set, err)
			continue
		}
		if v := value(t, r, "capacitor-volts"); math.Abs(v/(math.Sqrt2*value(t, r, "ac-off-load")*(1+high))-1) > 1e-6 {
			t.Errorf("%v: the capacitor must stand %v V", set, v)
		}
		if heat, given := r.Output("heat"); given != regulated || regulated && math.Abs(heat.Value.Num/((value(t, r, "mean")-volts)*amps)-1) > 1e-6 {
			t.Errorf("%v: %v W in the regulator", set, heat.Value.Num)
		}
		want, got := volts, value(t, back, "mean")
		if regulated {
			want, got = volts+dropout, value(t, back, "lowest")
		}
		if math.Abs(got/want-1) > 1e-5 {
			t.Errorf("%v: %v V wanted, %v V come back", set, want, got)
		}
		if got := value(t, back, "ripple"); math.Abs(got/(ripple*want)-1) > 1e-4 {
			t.Errorf("%v: ripple %v V, wanted %v V", set, got, ripple*want)
		}
		if got := value(t, back, "source-rms"); !regulated && math.Abs(got/value(t, r, "rms")-1) > 1e-4 {
			t.Errorf("%v: %v A in the winding, %v A on the label", set, got, value(t, r, "rms"))
		}
	}
	if n < 30 {
		t.Errorf("only %d supplies tried", n)
	}
}

// More volts and more amperes need a larger one.
func TestMonotone(t *testing.T) {
	for name, up := range map[string][]string{"volts": {"5 V", "12 V", "24 V", "48 V"}, "amps": {"0.1 A", "0.5 A", "2 A", "5 A"}, "dropout": {"1 V", "2 V", "4 V"}} {
		last := 0.0
		for _, v := range up {
			r, err := Calculator.Run([]calc.Setting{{Name: name, Value: v}, {Name: "output", Value: "regulated"}})
			if err != nil {
				t.Fatal(err)
			}
			if va := value(t, r, "size"); va <= last {
				t.Errorf("%s = %s: %v VA after %v", name, v, va, last)
			} else {
				last = va
			}
		}
	}
}

func BenchmarkSize(b *testing.B) {
	for b.Loop() {
		if _, err := Calculator.Run([]calc.Setting{{Name: "output", Value: "regulated"}}); err != nil {
			b.Fatal(err)
		}
	}
}
