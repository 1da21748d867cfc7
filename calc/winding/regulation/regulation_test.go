package regulation

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/supply"
)

func TestRegulation(t *testing.T) { calctest.Run(t, Calculator) }

func num(t *testing.T, name string, pairs ...string) float64 {
	t.Helper()
	var set []calc.Setting
	for n := 0; n < len(pairs); n += 2 {
		set = append(set, calc.Setting{Name: pairs[n], Value: pairs[n+1]})
	}
	r, err := Calculator.Run(set)
	if err != nil {
		t.Fatal(err)
	}
	o, ok := r.Output(name)
	if !ok {
		t.Fatalf("no output %s", name)
	}
	return o.Value.Num
}

// Any point of a known source gives its resistance back, with the load in amperes
// or in ohms.
func TestInverse(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	for range 100 {
		u0, ohms := 5+300*rnd.Float64(), .05+5*rnd.Float64()
		amps := u0 / ohms * (.02 + .4*rnd.Float64())
		u := u0 - ohms*amps
		volts := []string{"no-load", fmt.Sprintf("%.12g V", u0), "loaded", fmt.Sprintf("%.12g V", u)}
		for _, load := range []string{fmt.Sprintf("%.12g A", amps), fmt.Sprintf("%.12g Ω", u/amps)} {
			if got := num(t, "source-resistance", append(volts, "load", load)...); math.Abs(got/ohms-1) > 1e-6 {
				t.Errorf("%v V, %v Ω, %s: %v Ω comes back", u0, ohms, load, got)
			}
		}
		r, s := num(t, "regulation", append(volts, "load", fmt.Sprintf("%.12g A", amps))...), num(t, "of-no-load", append(volts, "load", fmt.Sprintf("%.12g A", amps))...)
		if math.Abs((1+r)*(1-s)-1) > 1e-6 {
			t.Errorf("%v of the loaded and %v of the volts off load do not go together", r, s)
		}
	}
}

// Two published resistances, 2.5 Ω and 0.04 Ω at 10:1, are 0.065 Ω at the secondary:
// the textbook's drop with 100 A at a resistive load comes back as that.
func TestReferred(t *testing.T) {
	if got := num(t, "source-resistance", "no-load", "200 V", "loaded", "193.5 V", "load", "100 A"); math.Abs(got-(2.5/100+.04)) > 1e-9 {
		t.Errorf("%v Ω", got)
	}
}

// The bigger the transformer the less its volts fall.
func TestMonotone(t *testing.T) {
	was := math.Inf(1)
	for va := 1.0; va < 5000; va *= 1.7 {
		got := num(t, "regulation", "from", "size", "size", fmt.Sprint(va, " VA"), "loaded", "12 V")
		if got >= was {
			t.Errorf("%v VA: %v after %v", va, got, was)
		}
		was = got
		low, _, high := supply.Regulation(va)
		if got < low || got > high {
			t.Errorf("%v VA: %v outside %v to %v", va, got, low, high)
		}
	}
}

func TestPlot(t *testing.T) {
	for _, set := range calctest.Random(Calculator, 100, 4) {
		r, err := Calculator.Run(set)
		if err != nil {
			continue
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 400 || strings.Contains(svg, "NaN") {
			t.Errorf("%v: %v", set, err)
		}
	}
}
