package serieslamp

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestSeriesLamp(t *testing.T) { calctest.Run(t, Calculator) }

// RECT-020 to RECT-023: a resistance, ideal diodes and an endless capacitor, by closed form. The rectifier part has to
// agree at the same ratio of resistances (0.5 %, as those rows ask).
func TestClosedForm(t *testing.T) {
	b := bench{supply: 230, rated: 230, amps: 100.0 / 230}
	for _, c := range []struct{ ratio, level, degrees, rms float64 }{
		{0.005, 0.9601, 16.25, 2.579}, {0.02, 0.9035, 25.37, 2.065}, {0.05, 0.8322, 33.67, 1.794}, {0.1, 0.7518, 41.25, 1.622},
	} {
		angle := c.degrees * math.Pi / 180
		p, load := b.rectified(angle)
		if r := p.lamp / p.amps / load; math.Abs(r/c.ratio-1) > 0.005 {
			t.Errorf("%v°: resistances are as %v, want %v", c.degrees, r, c.ratio)
		}
		if l := p.bus / (math.Sqrt2 * b.supply); math.Abs(l/c.level-1) > 0.005 {
			t.Errorf("%v°: level %v, want %v", c.degrees, l, c.level)
		}
		if r := p.amps / (p.bus / load); math.Abs(r/c.rms-1) > 0.005 {
			t.Errorf("%v°: RMS over DC %v, want %v", c.degrees, r, c.rms)
		}
	}
}

// Power is conserved: what comes from the mains is what lamp and load take. The mains power of the pulses is
// integrated here on its own.
func TestPowerBalance(t *testing.T) {
	b := bench{supply: 230, rated: 230, amps: 100.0 / 230}
	for _, angle := range []float64{0.05, 0.2, 0.5, 0.9, 1.3, 1.5} {
		p, _ := b.rectified(angle)
		ohms := p.lamp / p.amps
		const n = 200000
		sum := 0.0
		for k := range n {
			x := angle * (float64(k) + 0.5) / n
			v := math.Sqrt2 * b.supply * math.Cos(x)
			sum += v * (v - p.bus) / ohms
		}
		mains := sum * angle / n * 2 / math.Pi
		if got := p.lamp*p.amps + p.watts; math.Abs(got/mains-1) > 1e-6 {
			t.Errorf("angle %v: %v W in, %v W out", angle, mains, got)
		}
	}
}

// Series and formula of the cancelling terms agree where they meet.
func TestSeries(t *testing.T) {
	for _, a := range []float64{0.0999, 0.05, 0.0499} {
		s, c := math.Sincos(a)
		if f := float64(a*(1+2*c*c)) - 3*s*c; math.Abs(pulse(a)/f-1) > 1e-8 {
			t.Errorf("pulse(%v) = %v, formula %v", a, pulse(a), f)
		}
		if f := s - a*c; math.Abs(gap(a)/f-1) > 1e-9 {
			t.Errorf("gap(%v) = %v, formula %v", a, gap(a), f)
		}
	}
}

// A heavier load lights the lamp more, whatever its kind, and never more than a short.
func TestMonotone(t *testing.T) {
	b := bench{supply: 230, rated: 230, amps: 60.0 / 230}
	for name, at := range map[string]func(watts float64) float64{
		"resistor":  func(w float64) float64 { return b.impedance(230*230/w, 1).lamp },
		"motor":     func(w float64) float64 { return b.impedance(230*230/w*0.6, 0.6).lamp },
		"lamp":      func(w float64) float64 { return b.second(w).lamp },
		"rectifier": func(w float64) float64 { return b.rectifier(2 * 230 * 230 / w).lamp },
	} {
		last := 0.0
		for w := 0.01; w < 20000; w *= 1.3 {
			v := at(w)
			if v <= last || v > 230 {
				t.Errorf("%s of %v W: %v V across the lamp after %v", name, w, v, last)
			}
			last = v
		}
	}
	_, most := b.mostRectified()
	last := 0.0
	for w := 0.1; w < most.watts; w *= 1.1 {
		p, ok := b.constantPower(w)
		if !ok || p.lamp <= last || math.Abs(p.watts/w-1) > 1e-9 {
			t.Errorf("%v W: %+v, %v", w, p, ok)
		}
		last = p.lamp
	}
	if _, ok := b.constantPower(most.watts * 1.001); ok {
		t.Error("more than the most passes")
	}
}

func BenchmarkSwitchMode(b *testing.B) {
	for b.Loop() {
		if _, err := Calculator.Run([]calc.Setting{{Name: "load", Value: "switch-mode"}}); err != nil {
			b.Fatal(err)
		}
	}
}

func TestPlot(t *testing.T) {
	for _, in := range [][]calc.Setting{nil, {{Name: "load", Value: "short"}}, {{Name: "load", Value: "switch-mode"}, {Name: "size", Value: "500 W"}}} {
		r, err := Calculator.Run(in)
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%v: %v", in, err)
		}
	}
}
