package load

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestMeterLoad(t *testing.T) { calctest.Run(t, Calculator) }

func number(t *testing.T, r calc.Result, name string) float64 {
	t.Helper()
	o, ok := r.Output(name)
	if !ok {
		t.Fatalf("no %s", name)
	}
	return o.Value.Num
}

// Taking the load off a loaded reading gives the truth back, and the notes' formula
// agrees: V = VM + R1·R2/(Rv·(R1+R2))·VM.
func TestCorrection(t *testing.T) {
	for _, r1 := range []float64{10, 1e3, 1e6, 4.7e6} {
		for _, r2 := range []float64{22, 3.3e3, 1e6} {
			for _, rv := range []float64{667, 20e3, 1e6, 10e6} {
				truth := 10 * r2 / (r1 + r2)
				lower := r2 * rv / (r2 + rv)
				vm := 10 * lower / (r1 + lower) // solved as a circuit, not as a Thevenin source
				share := shownOf(rv, parallel(r1, r2))
				if math.Abs(vm-truth*share) > 1e-12*truth {
					t.Errorf("%v, %v, %v: circuit gives %v, formula %v", r1, r2, rv, vm, truth*share)
				}
				if noted := vm + r1*r2/(rv*(r1+r2))*vm; math.Abs(noted-vm/share) > 1e-9*truth {
					t.Errorf("%v, %v, %v: notes %v, ours %v", r1, r2, rv, noted, vm/share)
				}
			}
		}
	}
}

// The meter never shows more than the truth, more resistance in the voltmeter or less in the ammeter brings it
// nearer, and the stated 1 % meters are just 1 % off.
func TestMonotone(t *testing.T) {
	last := -1.0
	for _, m := range []string{"10 kΩ", "200 kΩ", "1 MΩ", "10 MΩ", "1 GΩ"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "meter", Value: m}})
		if err != nil {
			t.Fatal(err)
		}
		if s := number(t, r, "share"); s <= last || s >= 0 {
			t.Errorf("%s: %v after %v", m, s, last)
		} else {
			last = s
		}
	}
	r, err := Calculator.Run([]calc.Setting{{Name: "series", Value: "47 kΩ"}, {Name: "meter", Value: "4653 kΩ"}})
	if err != nil {
		t.Fatal(err)
	}
	if s := number(t, r, "share"); math.Abs(s+0.01) > 1e-9 || number(t, r, "meter-for-one-percent") != 4653e3 {
		t.Errorf("off by %v", s)
	}
	if r, err = Calculator.Run([]calc.Setting{{Name: "measure", Value: "amps"}, {Name: "series", Value: "9.9 Ω"}, {Name: "shunt", Value: "0.1 Ω"}}); err != nil {
		t.Fatal(err)
	}
	if s := number(t, r, "share"); math.Abs(s+0.01) > 1e-9 || math.Abs(number(t, r, "shunt-for-one-percent")-0.1) > 1e-9 {
		t.Errorf("off by %v", s)
	}
}

func TestPlot(t *testing.T) {
	for _, in := range [][]calc.Setting{nil, {{Name: "series", Value: "0 Ω"}}, {{Name: "measure", Value: "amps"}, {Name: "series", Value: "3 Ω"}}} {
		r, err := Calculator.Run(in)
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%v: %v", in, err)
		}
	}
}
