package fuse

import (
	"math"
	"strconv"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestFuse(t *testing.T) { calctest.Run(t, Calculator) }

// A part above the mark is refused whatever else is entered.
func TestNeverRaises(t *testing.T) {
	full := []calc.Setting{{Name: "marked-speed", Value: "t"}, {Name: "part-speed", Value: "t"}, {Name: "marked-breaking", Value: "h"}, {Name: "part-breaking", Value: "h"}, {Name: "part-volts", Value: "250 V"}}
	verdict := func(part string, more []calc.Setting) string {
		r, err := Calculator.Run(append(more[:len(more):len(more)], calc.Setting{Name: "marked", Value: "2 A"}, calc.Setting{Name: "part", Value: part}))
		if err != nil {
			return err.Error()
		}
		v, _ := r.Output("verdict")
		return v.Word
	}
	if v := verdict("2 A", full); v != "fits" {
		t.Fatalf("as marked: %s", v)
	}
	if v := verdict("1.6 A", full); v != "below-mark" {
		t.Fatalf("below the mark: %s", v)
	}
	for _, set := range append(calctest.Random(Calculator, 500, 11), full) {
		kept := set[:0:0]
		for _, s := range set {
			if s.Name != "marked" && s.Name != "part" {
				kept = append(kept, s)
			}
		}
		if verdict("2 A", kept) == "above-mark" {
			t.Fatalf("%v: as marked is above the mark", kept)
		}
		for _, part := range []string{"2.01 A", "2.5 A", "10 A"} {
			if v := verdict(part, kept); v != "above-mark" {
				t.Fatalf("%s in place of 2 A, %v: %s", part, kept, v)
			}
		}
	}
}

// The share falls with every further pulse, has no step, and passes the chart's points.
func TestShare(t *testing.T) {
	last := 1.0
	for n := 100.0; n <= 100000; n *= 1.05 {
		s := pulseShare(n)
		if s >= last && n > 100 || s < 0.22 || s > 0.48 || n > 105 && last-s > 0.01 {
			t.Fatalf("%v pulses: %v after %v", n, s, last)
		}
		last = s
	}
	for _, p := range withstand {
		if math.Abs(pulseShare(p.pulses)-p.share) > 1e-12 {
			t.Errorf("%v pulses: %v", p.pulses, pulseShare(p.pulses))
		}
	}
}

// The factors are the integrals of the squared shapes, taken here by sums.
func TestFactors(t *testing.T) {
	shapes := map[string]func(x float64) float64{
		"rectangle": func(float64) float64 { return 1 }, "triangle": func(x float64) float64 { return x },
		"parabola": func(x float64) float64 { return x * x }, "half-sine": func(x float64) float64 { return math.Sin(math.Pi * x) },
		"exponential": func(x float64) float64 { return math.Exp(-x) }}
	for name, f := range shapes {
		end := 1.0
		if name == "exponential" {
			end = 30 // time constants
		}
		const n = 300000
		sum := 0.0
		for i := range n {
			y := f(end * (float64(i) + .5) / n)
			sum += y * y * end / n
		}
		if math.Abs(sum-factors[name]) > 1e-6 {
			t.Errorf("%s: %v, the catalogue's factor is %v", name, sum, factors[name])
		}
	}
}

// Heat, pulses and a higher current only ever ask for more.
func TestMonotone(t *testing.T) {
	at := func(input, value, output string) float64 {
		r, err := Calculator.Run([]calc.Setting{{Name: "amps", Value: "1 A"}, {Name: "peak", Value: "10 A"}, {Name: input, Value: value}}[b2i(input == "amps"):])
		if err != nil {
			t.Fatal(err)
		}
		o, _ := r.Output(output)
		return o.Value.Num
	}
	for _, up := range []struct{ input, low, high, output string }{{"ambient", "25 °C", "85 °C", "least"}, {"amps", "1 A", "1.1 A", "least"},
		{"lasts", "5 ms", "6 ms", "needs"}, {"pulses", "1000", "1001", "needs"}, {"derating", "0.5 %", "0.6 %", "carries"}} {
		low, high := at(up.input, up.low, up.output), at(up.input, up.high, up.output)
		if up.output == "carries" {
			if high > low {
				t.Errorf("%s: carries more", up.input)
			}
		} else if high <= low {
			t.Errorf("%s: %s needs %v, %s needs %v", up.input, up.low, low, up.high, high)
		}
	}
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Where the tolerance of the current straddles what it carries the verdict is "cannot tell".
func TestTolerance(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "marked", Value: "2 A"}, {Name: "part-standard", Value: "iec"}, {Name: "amps", Value: "1.95 A ± 5 %"}})
	if err != nil {
		t.Fatal(err)
	}
	if v, _ := r.Output("verdict"); v.Word != calc.CannotTell {
		t.Errorf("%s: %s", v.Word, v.Text)
	}
	least, _ := r.Output("least")
	for _, x := range []float64{1.86, 1.9, 2.04} {
		if y := x / carried("iec", 0.005, 25); y < least.Value.Low || y > least.Value.High {
			t.Errorf("%v A needs %v, outside %s", x, y, least.Text)
		}
	}
}

func TestPlot(t *testing.T) {
	for _, m := range []float64{0.001, 9.7, 1000} {
		r, err := Calculator.Run([]calc.Setting{{Name: "inrush", Value: "1 A²s"}, {Name: "melting", Value: strconv.FormatFloat(m, 'f', -1, 64) + " " + quantity.Melting.Unit()}})
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%v: %v", m, err)
		}
	}
}
