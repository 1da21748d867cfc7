package zener

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestZener(t *testing.T) { calctest.Run(t, Calculator) }

func run1(t *testing.T, pairs ...string) calc.Result {
	t.Helper()
	var set []calc.Setting
	for n := 0; n < len(pairs); n += 2 {
		set = append(set, calc.Setting{Name: pairs[n], Value: pairs[n+1]})
	}
	r, err := Calculator.Run(set)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func num(t *testing.T, r calc.Result, name string) float64 {
	t.Helper()
	o, ok := r.Output(name)
	if !ok {
		t.Fatalf("no %s", name)
	}
	return o.Value.Num
}

func word(r calc.Result, name string) string {
	o, _ := r.Output(name)
	return o.Word
}

// A resistor between the two limits holds; a little outside it does not, and says how.
func TestLimitsAreLimits(t *testing.T) {
	for _, source := range []string{"7 V", "12 V", "30 V", "48 V"} {
		for _, load := range []string{"1 mA", "10 mA", "40 mA"} {
			r := run1(t, "source", source, "load", load)
			lo, hi := num(t, r, "resistor-least"), num(t, r, "resistor-most")
			if word(r, "verdict") != "possible" || lo >= hi {
				t.Fatalf("%s, %s: %v to %v Ω, %s", source, load, lo, hi, word(r, "verdict"))
			}
			for _, x := range []struct {
				ohms float64
				want string
			}{{lo * 1.001, "holds"}, {hi * .999, "holds"}, {math.Sqrt(lo * hi), "holds"}, {lo * .999, "too-hot-unloaded"}, {hi * 1.001, "starved"}, {hi * 30, "drops-out"}} {
				got := run1(t, "source", source, "load", load, "resistor", quantity.Number(x.ohms)+" Ω")
				if word(got, "verdict") != x.want {
					t.Errorf("%s, %s, %v Ω: %s, want %s", source, load, x.ohms, word(got, "verdict"), x.want)
				}
			}
		}
	}
}

// What the source gives is what diode, load and resistor take.
func TestPowerBalance(t *testing.T) {
	for _, in := range calctest.Random(Calculator, 500, 3) {
		r, err := Calculator.Run(in)
		if err != nil {
			continue
		}
		v, ok := r.Output("volts-out")
		l := r.In().Value("load")
		if !ok || !r.In().Has("load") || l.Kind != quantity.Current {
			continue
		}
		source, ohms := r.In().Num("source"), r.In().Num("resistor")
		if v.Value.Num == 0 {
			continue // such a load cannot be drawn
		}
		i := (source - v.Value.Num) / ohms
		zi, _ := r.Output("zener-current")
		rp, _ := r.Output("resistor-power")
		if took := rp.Value.Num + v.Value.Num*(zi.Value.Num+l.Num); math.Abs(took/(source*i)-1) > 1e-6 {
			t.Fatalf("%v: source gives %v W, taken %v W", in, source*i, took)
		}
	}
}

// A source that moves widens the diode's current and may leave the verdict open.
func TestTolerance(t *testing.T) {
	if r := run1(t, "source", "12 V ± 10 %", "load", "27 mA", "resistor", "220 Ω"); word(r, "verdict") != calc.CannotTell {
		t.Errorf("verdict %s", word(r, "verdict"))
	}
}

// Over a wide source no one resistor may do although one does at each of its ends.
func TestOneResistorForTheRange(t *testing.T) {
	if r := run1(t, "source", "12 V", "load", "40 mA"); word(r, "verdict") != "possible" {
		t.Errorf("at 12 V: %s", word(r, "verdict"))
	}
	if r := run1(t, "source", "8 to 16 V", "load", "40 mA"); word(r, "verdict") != "not-over-range" {
		t.Errorf("from 8 to 16 V: %s", word(r, "verdict"))
	}
}

func TestPlot(t *testing.T) {
	for _, p := range [][]string{{"source", "12 V"}, {"source", "300 V", "resistor", "10 kΩ", "load", "3 kΩ"}} {
		if svg, err := Calculator.Draw(Calculator.Plots[0], run1(t, p...).In()); err != nil || len(svg) < 500 {
			t.Errorf("%v: %v", p, err)
		}
	}
	if _, err := Calculator.Draw(Calculator.Plots[0], run1(t, "source", "3 V").In()); err == nil {
		t.Error("a curve for a source below the Zener voltage")
	}
}
