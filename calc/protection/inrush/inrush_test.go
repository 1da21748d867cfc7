package inrush

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestInrush(t *testing.T) { calctest.Run(t, Calculator) }

func amount(t *testing.T, output string, set ...string) float64 {
	t.Helper()
	var in []calc.Setting
	for i := 0; i+1 < len(set); i += 2 {
		in = append(in, calc.Setting{Name: set[i], Value: set[i+1]})
	}
	r, err := Calculator.Run(in)
	if err != nil {
		t.Fatalf("%v: %v", set, err)
	}
	o, ok := r.Output(output)
	if !ok {
		t.Fatalf("%v: no %s", set, output)
	}
	return o.Value.Num
}

// stepped integrates the circuit in small steps, knowing nothing of the closed form.
func stepped(c charging, start float64, halves int) float64 {
	const n = 40000
	v, sum := 0.0, 0.0
	for h := range halves {
		from := 0.0
		if h == 0 {
			from = start
		}
		dx := (math.Pi - from) / n
		slope := func(x, v float64) float64 {
			return math.Max(0, c.crest*math.Sin(x)-v) / (c.omega * c.ohms * c.farads)
		}
		for j := range n {
			x := from + dx*float64(j)
			a := slope(x, v)
			b := slope(x+dx/2, v+a*dx/2)
			d := slope(x+dx/2, v+b*dx/2)
			e := slope(x+dx, v+d*dx)
			i := c.farads * c.omega * b
			sum += i * i * dx / c.omega
			v += (a + 2*b + 2*d + e) * dx / 6
		}
	}
	return sum
}

// The closed form agrees with stepping, for short and long time constants and several
// instants of switching.
func TestAgainstSteps(t *testing.T) {
	for _, c := range []charging{{325, 10, 220e-6, 314.159}, {325, 1, 220e-6, 314.159}, {170, 100, 1e-3, 377}, {17, 0.5, 2.2e-3, 314.159}} {
		for _, start := range []float64{0.1, 0.8, math.Pi / 2, 2.5} {
			_, got := c.pulses(start, 5)
			if want := stepped(c, start, 5); math.Abs(got-want) > 1e-3*want {
				t.Errorf("%v from %v: %v A²s, stepped %v", c, start, got, want)
			}
		}
	}
}

// The worst is worse than any instant tried, and never above C·V²/R, which it reaches
// where the time constant is short.
func TestWorst(t *testing.T) {
	for _, c := range []charging{{325, 1, 1e-6, 314.159}, {325, 1, 100e-6, 314.159}, {325, 11, 220e-6, 314.159}, {325, 50, 1e-3, 314.159}, {170, 1000, 1e-3, 377}} {
		worst, bound := c.worst(), c.farads*c.crest*c.crest/2/c.ohms
		if worst > bound*(1+1e-9) {
			t.Errorf("%v: %v A²s is above the bound %v", c, worst, bound)
		}
		if c.ohms*c.farads*c.omega < 1e-3 && worst < 0.998*bound {
			t.Errorf("%v: %v A²s falls short of %v", c, worst, bound)
		}
		for x := 0.0; x < math.Pi; x += 0.05 {
			if _, at := c.pulses(x, 500); at > worst*1.002 {
				t.Errorf("%v at %v: %v A²s is above the worst, %v", c, x, at, worst)
			}
		}
	}
}

// The core's integral is the sum over its half wave, and from zero it is that of a half sine.
func TestCore(t *testing.T) {
	for _, from := range []float64{0, 0.5, 1.5, 2.5} {
		sum := 0.0
		const n = 20000
		for j := range n {
			x := from + (math.Pi-from)*(float64(j)+.5)/n
			sum += math.Pow(325*math.Sin(x)/4, 2) * (math.Pi - from) / n / 314.159
		}
		if got := coreIntegral(325, 4, 314.159, from); math.Abs(got-sum) > 1e-6*sum {
			t.Errorf("from %v: %v, summed %v", from, got, sum)
		}
	}
	if _, full := fullFrom(0.4, 0); full {
		t.Error("a core with flux to spare does not fill: twice 0.4 is below 1")
	}
}

// A toroid's inrush lies where its makers say, 30 to 90 times the rated current
// (Powertronix, design resources; primary resistances from memory).
func TestToroid(t *testing.T) {
	for _, x := range [][2]string{{"300 W", "3 Ω"}, {"500 W", "1.6 Ω"}, {"1000 W", "0.6 Ω"}} {
		times := amount(t, "peak", "load", "transformer", "power", x[0], "winding", x[1], "loop", "0.5 Ω", "remanence", "80 %") / amount(t, "steady", "power", x[0])
		if times < 30 || times > 90 {
			t.Errorf("%s with %s: %.0f times", x[0], x[1], times)
		}
	}
}

// More ohms make less inrush, more farads more integral; the needed limiter gives the wanted
// peak back.
func TestMonotoneAndInverse(t *testing.T) {
	for _, load := range []string{"capacitor", "transformer", "filament"} {
		lastPeak, lastInt := math.Inf(1), math.Inf(1)
		for _, ohms := range []string{"0.5 Ω", "2 Ω", "10 Ω", "47 Ω", "220 Ω"} {
			p, i := amount(t, "peak", "load", load, "limiter", ohms), amount(t, "i2t", "load", load, "limiter", ohms)
			if p >= lastPeak || i >= lastInt {
				t.Errorf("%s: %s gives %v A, %v A²s after %v, %v", load, ohms, p, i, lastPeak, lastInt)
			}
			lastPeak, lastInt = p, i
		}
		if load == "filament" {
			continue // other volts at the same power are another lamp
		}
		last := 0.0
		for _, v := range []string{"110 V", "120 V", "230 V", "253 V"} {
			if p := amount(t, "peak", "load", load, "mains", v); p <= last {
				t.Errorf("%s: %s gives %v A after %v", load, v, p, last)
			} else {
				last = p
			}
		}
	}
	for _, load := range []string{"capacitor", "transformer", "filament"} {
		need := amount(t, "needed", "load", load, "wanted", "4 A")
		r, err := Calculator.Run([]calc.Setting{{Name: "load", Value: load}, {Name: "limiter", Value: quantity.Number(need) + " Ω"}})
		if err != nil {
			t.Fatal(err)
		}
		if o, _ := r.Output("peak"); math.Abs(o.Value.Num-4) > 1e-6 {
			t.Errorf("%s: a limiter of %v Ω gives %s", load, need, o.Text)
		}
	}
}

func TestPlot(t *testing.T) {
	for _, set := range [][]calc.Setting{{{Name: "load", Value: "capacitor"}}, {{Name: "load", Value: "transformer"}}, {{Name: "load", Value: "filament"}},
		{{Name: "capacitor", Value: "1 nF"}}, {{Name: "capacitor", Value: "100 mF"}, {Name: "limiter", Value: "1 kΩ"}}, {{Name: "load", Value: "transformer"}, {Name: "flux", Value: "20 %"}}} {
		r, err := Calculator.Run(set)
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%v: %v", set, err)
		}
	}
}

// What a page waits for at the slowest: a long charge through many half waves.
func BenchmarkLongCharge(b *testing.B) {
	for b.Loop() {
		if _, err := Calculator.Run([]calc.Setting{{Name: "capacitor", Value: "100 mF"}, {Name: "limiter", Value: "100 Ω"}}); err != nil {
			b.Fatal(err)
		}
	}
}
func BenchmarkDefault(b *testing.B) {
	for b.Loop() {
		if _, err := Calculator.Run(nil); err != nil {
			b.Fatal(err)
		}
	}
}
