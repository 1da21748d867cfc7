package element

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestElement(t *testing.T) { calctest.Run(t, Calculator) }

// LAMP-014: nichrome 79/21, ratio 1.0074 from 20 to 100 °C within 0.2 % (CRC
// Handbook wire table, course copy).
func TestWireRatio(t *testing.T) {
	if got := wireRatio(100); math.Abs(got/1.0074-1) > 0.002 {
		t.Errorf("100 °C: %v", got)
	}
	if wireRatio(20) != 1 {
		t.Error("20 °C is not the reference")
	}
	if got := wireRatio(1100); got > 1.11 {
		t.Errorf("1100 °C: %v", got)
	}
}

// LAMP-013: tungsten, R(100 °C)/R(20 °C) = 1.360 within 0.5 % (CRC Handbook wire
// table, course copy); LAMP-007: a 40 W, 120 V lamp of 28 Ω would take 514 W if it
// stayed cold (reference computation, V²/R), where the published answer says 379.
func TestTungsten(t *testing.T) {
	if got := tungsten100 / tungsten20; math.Abs(got/1.360-1) > 0.005 {
		t.Errorf("at 100 °C: %v", got)
	}
	if got := hotOhms(120, 28); math.Abs(got/514-1) > 0.01 { // volts squared over ohms are watts
		t.Errorf("stayed cold: %v W", got)
	}
}

func output(t *testing.T, name string, in ...calc.Setting) calc.Computed {
	t.Helper()
	r, err := Calculator.Run(in)
	if err != nil {
		t.Fatal(err)
	}
	c, ok := r.Output(name)
	if !ok {
		t.Fatalf("%v: no %s", in, name)
	}
	return c
}

// The healthy band and the band of one open half must leave a gap, as a device
// uses both; and the cold middle lies in the healthy one.
func TestBandsDoNotOverlap(t *testing.T) {
	n := 0
	for _, in := range calctest.Random(Calculator, 500, 3) {
		r, err := Calculator.Run(in)
		if err != nil {
			continue
		}
		whole, ok := r.Output("cold-range")
		if !ok {
			continue
		}
		cold, _ := r.Output("cold")
		if cold.Value.Num < whole.Value.Low || cold.Value.Num > whole.Value.High {
			t.Fatalf("%v: %s outside %s", in, cold.Text, whole.Text)
		}
		half, ok := r.Output("half-cold-range")
		if ok && half.Value.Low <= whole.Value.High {
			t.Fatalf("%v: %s meets %s", in, whole.Text, half.Text)
		}
		if ok {
			n++
		}
	}
	if n < 100 {
		t.Errorf("only %d pairs of bands", n)
	}
	band := output(t, "cold-range").Value
	if band.Low > 25.9 || band.High < 26.45 {
		t.Errorf("the band of 2 kW at 230 V is %v", band)
	}
}

// LAMP-007: a 40 W 120 V lamp was read as 28 Ω cold (published exercise).
func TestFilamentCold(t *testing.T) {
	band := output(t, "cold-range", calc.Setting{Name: "power", Value: "40 W"}, calc.Setting{Name: "mains", Value: "120 V"},
		calc.Setting{Name: "material", Value: "tungsten"}).Value
	if band.Low > 28 || band.High < 28 {
		t.Errorf("28 Ω lies outside %v", band)
	}
}

func TestMonotone(t *testing.T) {
	last := math.Inf(1)
	for _, p := range []string{"100 W", "500 W", "1 kW", "2 kW", "3 kW"} {
		r := output(t, "cold", calc.Setting{Name: "power", Value: p}).Value.Num
		if r >= last {
			t.Errorf("%s reads %v, more than a weaker one", p, r)
		}
		last = r
	}
	last = 0
	for _, v := range []string{"200 V", "220 V", "230 V", "240 V"} {
		for _, m := range []string{"resistance-wire", "tungsten"} {
			_ = output(t, "power-at-supply", calc.Setting{Name: "supply", Value: v}, calc.Setting{Name: "material", Value: m})
		}
		p := output(t, "power-at-supply", calc.Setting{Name: "supply", Value: v}).Value.Num
		if p <= last {
			t.Errorf("%s gives %v, less than a lower mains", v, p)
		}
		last = p
	}
}

// A PTC heater gets no cold number at all.
func TestCeramicSaysNothing(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "material", Value: "ptc"}})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"cold", "cold-range", "half-cold-range"} {
		if c, ok := r.Output(name); ok {
			t.Errorf("%s is %s", name, c.Text)
		}
	}
	if _, err := Calculator.Draw(Calculator.Plots[0], r.In()); err == nil {
		t.Error("a curve was drawn")
	}
}

func TestPlot(t *testing.T) {
	r, err := Calculator.Run(nil)
	if err != nil {
		t.Fatal(err)
	}
	if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
		t.Errorf("%q, %v", svg, err)
	}
}
