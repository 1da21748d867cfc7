package bus

import (
	"math"
	"math/rand/v2"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestBus(t *testing.T) { calctest.Run(t, Calculator) }

// ngspice 39 transient runs, constant power by a B source, diodes Is 14.11 nA, N 1.984, Rs 33.89 mΩ: they drop about
// 0.8 V each at these currents, which is added back here; then 0.3 % is left for.
func TestSpice(t *testing.T) {
	const drop = 0.85
	for _, c := range []struct {
		circuit              string
		mains, hertz, farads float64
		watts, valley, drops float64
	}{
		{"bridge", 230, 50, 100e-6, 100, 295.83, 2}, {"bridge", 115, 60, 47e-6, 25, 136.88, 2}, {"bridge", 90, 60, 13.6e-6, 8.22, 91.43, 2},
		{"doubler", 115, 60, 470e-6, 150, 300.12, 2}, {"doubler", 120, 60, 220e-6, 200, 272.93, 2}, {"half-wave", 230, 50, 22e-6, 5, 310.94, 1},
	} {
		v, ok := under(c.circuit, c.mains, c.hertz, 0, c.farads, c.watts)
		if want := c.valley + c.drops*drop; !ok || math.Abs(v/want-1) > 0.003 {
			t.Errorf("%s %v W: %v V, ngspice %v plus drops %v", c.circuit, c.watts, v, c.valley, want)
		}
	}
}

// The exact valley agrees with following the capacitor in small steps.
func TestSteps(t *testing.T) {
	for _, farads := range []float64{20e-6, 100e-6, 470e-6} {
		for _, watts := range []float64{1, 10, 40} {
			exact, ok := valley(325, 50, 0.01, farads, watts)
			const n = 200000
			v, low := 325.0, 325.0
			for k := 1; k <= 2*n; k++ {
				v = math.Max(v-watts/v/farads*0.01/n, 325*math.Abs(math.Cos(math.Pi*float64(k)/n)))
				if k > n {
					low = math.Min(low, v)
				}
			}
			if !ok || math.Abs(exact-low) > 0.01 {
				t.Errorf("%v F, %v W: %v V, in steps %v V", farads, watts, exact, low)
			}
		}
	}
}

// More watts or fewer farads lower the valley, and it never reaches above the idle volts.
func TestMonotone(t *testing.T) {
	for _, circuit := range []string{"bridge", "doubler", "half-wave", "pfc"} {
		last := math.Inf(1)
		for w := 0.0; w < 60; w += 5 {
			v, ok := under(circuit, 230, 50, 390, 100e-6, w)
			if !ok || v > idle(circuit, 230, 390)*(1+1e-12) || v >= last {
				t.Errorf("%s %v W: %v V after %v", circuit, w, v, last)
			}
			last = v
		}
		last = 0
		for c := 30e-6; c < 1e-2; c *= 1.7 {
			v, ok := under(circuit, 230, 50, 390, c, 10)
			if !ok || v <= last {
				t.Errorf("%s %v F: %v V after %v", circuit, c, v, last)
			}
			last = v
		}
	}
}

func BenchmarkDoubler(b *testing.B) {
	for b.Loop() {
		if _, err := Calculator.Run([]calc.Setting{{Name: "circuit", Value: "doubler"}}); err != nil {
			b.Fatal(err)
		}
	}
}

func TestPlot(t *testing.T) {
	for _, in := range [][]calc.Setting{nil, {{Name: "circuit", Value: "doubler"}}, {{Name: "circuit", Value: "pfc"}, {Name: "power", Value: "300 W"}}, {{Name: "power", Value: "0 W"}}} {
		r, err := Calculator.Run(in)
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%v: %v", in, err)
		}
	}
}

// The doubler against following it in short steps, which needs no thought.
func TestDoublerStepped(t *testing.T) {
	const steps, periods = 20000, 40
	stepped := func(peak, hertz, farads, watts float64) (lowest float64, ok bool) {
		up, down, lowest := peak, peak, 2*peak
		for n := 1; n <= steps*periods; n++ {
			fall := watts / (up + down) / farads / hertz / steps
			level := peak * math.Sin(2*math.Pi*float64(n%steps)/steps)
			up, down = max(up-fall, level), max(down-fall, -level)
			if up < 0 || down < 0 {
				return 0, false
			}
			if n > steps*(periods-1) {
				lowest = min(lowest, up+down)
			}
		}
		return lowest, true
	}
	rnd := rand.New(rand.NewPCG(1, 2))
	around := func(x, octaves float64) float64 { return x * math.Exp2(octaves*(2*rnd.Float64()-1)) }
	both := 0
	for range 60 {
		peak, hertz, farads, watts := around(325, 1), around(50, 1), around(100e-6, 3), around(100, 3)
		want, runs := stepped(peak, hertz, farads, watts)
		got, ok := doubler(peak, hertz, farads, watts)
		if ok != runs {
			t.Errorf("%v V, %v Hz, %v F, %v W: stays charged %v, stepped %v", peak, hertz, farads, watts, ok, runs)
		}
		if ok && runs {
			both++
			if math.Abs(got/want-1) > 5e-4 { // the steps themselves are off by 1e-4
				t.Errorf("%v V, %v Hz, %v F, %v W: %v V, stepped %v V", peak, hertz, farads, watts, got, want)
			}
		}
	}
	if both < 30 {
		t.Errorf("only %d circuits stay charged", both)
	}
}

// The lowest point of the waveform is the valley, and the bus never lies below the
// mains that feeds it.
func TestWaveform(t *testing.T) {
	for _, c := range []struct {
		circuit                     string
		mains, hertz, farads, watts float64
	}{{"bridge", 230, 50, 100e-6, 50}, {"bridge", 120, 60, 220e-6, 90}, {"half-wave", 230, 50, 100e-6, 30}, {"bridge", 230, 50, 22e-6, 60}, {"bridge", 230, 50, 100e-6, 0}} {
		want, ok := under(c.circuit, c.mains, c.hertz, 0, c.farads, c.watts)
		if !ok {
			t.Errorf("%v runs empty", c)
			continue
		}
		peak, lowest := math.Sqrt2*c.mains, math.Inf(1)
		const points = 20000
		for i := range points {
			at := 2 / c.hertz * float64(i) / points
			v, ok := held(c.circuit, peak, c.hertz, c.farads, c.watts, at)
			if source := rectified(c.circuit, peak, 2*math.Pi*c.hertz, at); !ok || v < source-1e-9 || v > peak+1e-9 {
				t.Fatalf("%v: %v V at %v s, where the mains is at %v V", c, v, at, source)
			}
			lowest = min(lowest, v)
		}
		if math.Abs(lowest-want) > 1e-3*peak {
			t.Errorf("%v: the waveform falls to %v V, the valley is %v V", c, lowest, want)
		}
	}
	if _, ok := held("bridge", 325, 50, 1e-6, 100, 0); ok {
		t.Error("a bus that runs empty is drawn")
	}
}
