package rectifier

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/supply"
)

func TestCalculator(t *testing.T) { calctest.Run(t, Calculator) }

func value(t testing.TB, r calc.Result, name string) float64 {
	t.Helper()
	o, ok := r.Output(name)
	if !ok {
		t.Fatalf("no output %s", name)
	}
	return o.Value.Num
}

// RECT-020 to RECT-027: ideal diodes and an endless capacitor have a closed
// form, tan θ - θ = π Rs/(2 RL) for full wave, π Rs/RL for half wave.
func TestEndlessCapacitor(t *testing.T) {
	for _, c := range []struct {
		name, circuit                  string
		ratio, volts, rms, peak, angle float64
	}{
		{"RECT-020", "bridge", .005, .9601, 2.579, 8.32, 16.25}, {"RECT-021", "bridge", .02, .9035, 2.065, 5.34, 25.37}, {"RECT-022", "bridge", .05, .8322, 1.794, 4.03, 33.67},
		{"RECT-023", "bridge", .1, .7518, 1.622, 3.30, 41.25}, {"RECT-024", "half-wave", .005, .9376, 3.261, 13.30, 20.34}, {"RECT-026", "half-wave", .05, .7518, 2.294, 6.60, 41.25},
		{"RECT-027", "half-wave", .1, .6455, 2.091, 5.49, 49.80},
	} {
		r, err := Calculator.Run([]calc.Setting{{Name: "circuit", Value: c.circuit}, {Name: "ac", Value: "100 V"}, {Name: "diode", Value: "ideal"}, {Name: "capacitor", Value: "10 F"},
			{Name: "load", Value: "100 Ω"}, {Name: "source-resistance", Value: fmt.Sprint(c.ratio*100) + " Ω"}})
		if err != nil {
			t.Fatal(err)
		}
		amps, pulses := value(t, r, "load-current"), 1.0
		if c.circuit == "bridge" {
			pulses = 2
		}
		for _, x := range []struct {
			what      string
			got, want float64
		}{{"Vdc/Vpeak", value(t, r, "mean") / (100 * math.Sqrt2), c.volts}, {"Irms/Idc", value(t, r, "rms-ratio"), c.rms}, {"Ipeak/Idc", value(t, r, "diode-peak") / amps, c.peak},
			{"half conduction angle in degrees", value(t, r, "conduction") / 2 * 360 / pulses, c.angle}} {
			if math.Abs(x.got/x.want-1) > .005 {
				t.Errorf("%s: %s is %v, want %v", c.name, x.what, x.got, x.want)
			}
		}
	}
}

// halfWaveWinding is the winding for a half wave with capacitor: its RMS volts and
// amperes and its volt-amperes for DC volts and amperes, with one volt for the
// diode. ATC-Frost Magnetics, method of determining secondary current ratings in
// DC circuits.
func halfWaveWinding(volts, amps float64) (ac, rms, va float64) {
	return 0.88 * (volts + 1), 2.6 * amps, 2.3 * (float64(volts*amps) + float64(1*amps))
}

// centreTapWinding is the same for a full wave with centre tap: RMS volts from end
// to end, and RMS amperes.
func centreTapWinding(volts, amps float64) (endToEnd, rms float64) {
	return 1.7 * (volts + 1), 1.2 * amps
}

// The makers' tables, worked examples and the formula for the capacitor.
func TestTextbook(t *testing.T) {
	acHalf, rmsHalf, vaHalf := halfWaveWinding(5, .1)
	acTap, rmsTap := centreTapWinding(5, 2)
	half := run(t, "circuit", "half-wave", "ac", "1 V")
	tap := run(t, "circuit", "centre-tap", "ac", "1 V")
	const hammond = "Hammond Manufacturing, design guide for rectifier use"
	const frost = "ATC-Frost Magnetics, method of determining secondary current ratings in DC circuits, worked example"
	for _, c := range []struct {
		name      string
		got, want float64
		tolerance float64
		source    string
	}{
		{"RECT-029 DC of 1 A AC", value(t, half, "load-current") / value(t, half, "estimate-source-rms"), .28, 1e-9, hammond},
		{"RECT-029 peak", value(t, half, "open-circuit-peak"), 1.41, .004, hammond},
		{"RECT-030 DC of 1 A AC", value(t, tap, "load-current") / value(t, tap, "estimate-source-rms"), 1, 1e-9, hammond},
		{"RECT-030 peak of 1 V end to end", value(t, tap, "open-circuit-peak") / 2, .71, .005, hammond},
		{"RECT-032 volts", acHalf, 5.3, .02, frost},
		{"RECT-032 amperes", rmsHalf, .26, .02, frost},
		{"RECT-032 volt-amperes", vaHalf, 1.4, .02, frost},
		{"RECT-033 volts end to end", acTap, 10.2, .02, frost},
		{"RECT-033 amperes", rmsTap, 2.4, .02, frost},
		{"RECT-036", CapacitorFor(2, 100, 1), 20000e-6, 1e-9, "constant-current discharge over a full half-cycle"},
		{"RECT-036 back", RippleEstimate(2, 100, 20000e-6), 1, 1e-9, "the same"},
	} {
		if !(math.Abs(c.got/c.want-1) <= c.tolerance) {
			t.Errorf("%s: %v, want %v (%s)", c.name, c.got, c.want, c.source)
		}
	}
	// how far the textbook ripple is off: the note of RECT-036 says 46 % for 15 V,
	// 0.2 Ω, 10000 µF, 8 Ω at 50 Hz (2.06 V against 1.41 V)
	r := run(t, "ac", "15 V", "source-resistance", "0.2 Ω", "capacitor", "10000 µF", "load", "8 Ω")
	if off := value(t, r, "estimate-ripple-off"); math.Abs(off-.46) > .01 {
		t.Errorf("RECT-036: the textbook ripple is off by %v", off)
	}
	// another maker's half wave, solved: within the 15 % that the checks allow a
	// rule of thumb
	r = run(t, "circuit", "half-wave", "ac", "5.3 V", "load", "0.1 A", "capacitor", "4700 µF", "source-resistance", "3 Ω")
	if got := value(t, r, "source-rms"); math.Abs(got/rmsHalf-1) > .15 {
		t.Errorf("RECT-032: source RMS %v, the maker says %v", got, rmsHalf)
	}
}

// RECT-035, disputed: RMS amperes of each half of a centre-tap winding for 1 A of DC
// are 1.2 (ATC-Frost), 1.0 (Hammond) and 0.8 (Petra Toroid). The solved circuits say
// 1.29 to 1.71 for RECT-017 and RECT-018, so all three understate, 0.8 the most: it is
// the figure without a capacitor.
func TestDisputedFactor(t *testing.T) {
	heavy := run(t, "circuit", "centre-tap", "ac", "9 V", "frequency", "60 Hz", "source-resistance", "0.4 Ω", "capacitor", "4700 µF", "load", "10 Ω")
	light := run(t, "circuit", "centre-tap", "ac", "24 V", "source-resistance", "1.5 Ω", "capacitor", "1000 µF", "load", "220 Ω")
	if low, high := value(t, heavy, "rms-ratio"), value(t, light, "rms-ratio"); math.Abs(low-1.293) > .013 || math.Abs(high-1.708) > .017 {
		t.Errorf("RMS over DC runs from %v to %v, the netlists say 1.293 to 1.708", low, high)
	} else if _, frost := centreTapWinding(5, 1); low <= frost || frost != 1.2 || 1/CentreTapShare != 1 {
		t.Errorf("the makers' 1.2 (%v) and 1.0 (%v) should lie below the solved %v", frost, 1/CentreTapShare, low)
	}
	for _, maker := range []string{"1.2 A (ATC-Frost)", "0.8 A (Petra Toroid)", "1.0 A (Hammond)"} {
		if !strings.Contains(doc, maker) {
			t.Errorf("the page does not name %s", maker)
		}
	}
}

// run runs the calculator with inputs, name and value by turns.
func run(t testing.TB, pairs ...string) calc.Result {
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

// spice runs a netlist and gives its measured values.
func spice(t testing.TB, netlist string) map[string]float64 {
	t.Helper()
	file := filepath.Join(t.TempDir(), "case.cir")
	if err := os.WriteFile(file, []byte(netlist), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("ngspice", "-b", file).CombinedOutput()
	found := map[string]float64{}
	for _, m := range regexp.MustCompile(`(?m)^(v\w+|is\w+)\s*=\s*(\S+)`).FindAllSubmatch(out, -1) {
		if x, err := strconv.ParseFloat(string(m[2]), 64); err == nil {
			found[string(m[1])] = x
		}
	}
	if len(found) < 6 {
		t.Fatalf("ngspice gave %v (%v)\n%s", found, err, out)
	}
	return found
}

func needSpice(t testing.TB) {
	if _, err := exec.LookPath("ngspice"); err != nil {
		t.Skip("ngspice is not installed; this check needs it")
	}
}

// compare: 1 % for volts and RMS, 2 % for ripple and peak, as the checks say.
func compare(t *testing.T, name, circuit string, r calc.Result, s map[string]float64) {
	t.Helper()
	peak := math.Max(math.Abs(s["ismax"]), math.Abs(s["ismin"]))
	for _, x := range []struct {
		what      string
		got, want float64
		tolerance float64
	}{{"mean", value(t, r, "mean"), s["vdc"], .01}, {"ripple", value(t, r, "ripple"), s["vmax"] - s["vmin"], .02},
		{"source RMS", value(t, r, "source-rms"), s["isrms"], .01}, {"peak", value(t, r, "diode-peak"), peak, .02}} {
		if math.Abs(x.got/x.want-1) > x.tolerance {
			t.Errorf("%s: %s is %v, ngspice says %v", name, x.what, x.got, x.want)
		}
	}
}

// The netlists of the published cases, run here by ngspice.
func TestAgainstSpice(t *testing.T) {
	needSpice(t)
	b, err := os.ReadFile("testdata/netlists.txt")
	if err != nil {
		t.Fatal(err)
	}
	head := regexp.MustCompile(`\* case \S+ (\w+) V=([\d.]+)Vrms f=(\d+)Hz Rs=([\d.]+) C=([\d.]+)uF RL=([\d.]+)(?: diode=(\w+))?`)
	for _, part := range strings.Split(string(b), "# check ")[1:] {
		name, netlist, _ := strings.Cut(part, "\n")
		m := head.FindStringSubmatch(netlist)
		if m == nil {
			t.Fatalf("%s: no head", name)
		}
		circuit := map[string]string{"bridge": "bridge", "half": "half-wave", "ct": "centre-tap"}[m[1]]
		r, err := Calculator.Run([]calc.Setting{{Name: "circuit", Value: circuit}, {Name: "diode", Value: cmp.Or(m[7], "silicon")}, {Name: "ac", Value: m[2]}, {Name: "frequency", Value: m[3]}, {Name: "source-resistance", Value: m[4]},
			{Name: "capacitor", Value: m[5] + " µF"}, {Name: "load", Value: m[6] + " Ω"}})
		if err != nil {
			t.Fatal(err)
		}
		compare(t, name, circuit, r, spice(t, netlist))
	}
}

// netlist writes a circuit for ngspice that starts near its steady state.
func netlist(circuit string, c *supply.Reservoir, ac, source, farads, ohms, start float64) string {
	var b strings.Builder
	t := c.Period()
	settle := math.Ceil(4*ohms*farads/t+20) * t
	if limit := 400 * t; settle > limit {
		settle = limit
	}
	step := t / 2500
	fmt.Fprintf(&b, "* %s\n", circuit)
	peak := ac * math.Sqrt2
	switch circuit {
	case "bridge":
		fmt.Fprintf(&b, "V1 a n SIN(0 %g %g)\nRS a b %g\nD1 b p DR\nD2 n p DR\nD3 0 b DR\nD4 0 n DR\nRN n 0 1e6\n", peak, c.Hertz, source)
	case "half-wave":
		fmt.Fprintf(&b, "V1 a 0 SIN(0 %g %g)\nRS a b %g\nD1 b p DR\n", peak, c.Hertz, source)
	default:
		fmt.Fprintf(&b, "V1 a 0 SIN(0 %g %g)\nRS a b %g\nD1 b p DR\nV2 0 c SIN(0 %g %g)\nRS2 c d %g\nD2 d p DR\n", peak, c.Hertz, source, peak, c.Hertz, source)
	}
	end := settle + 10/c.Hertz
	fmt.Fprintf(&b, "C1 p 0 %g IC=%g\nRL p 0 %g\n.model DR D(IS=14.11n N=1.984 RS=33.89m)\n.options reltol=0.0001 abstol=1e-8 vntol=1e-6 itl4=100\n.tran %g %g %g %g UIC\n", farads, start, ohms, step, end, settle, step)
	for _, m := range []string{"vdc AVG v(p)", "vmax MAX v(p)", "vmin MIN v(p)", "isrms RMS i(V1)", "ismax MAX i(V1)", "ismin MIN i(V1)"} {
		fmt.Fprintf(&b, ".meas tran %s from=%g to=%g\n", m, settle, end)
	}
	b.WriteString(".end\n")
	return b.String()
}

// Circuits that no one chose, against ngspice.
func TestRandomAgainstSpice(t *testing.T) {
	needSpice(t)
	rnd := rand.New(rand.NewPCG(11, 12))
	for n := range 3 { // one of each circuit; ngspice takes seconds
		name := []string{"bridge", "centre-tap", "half-wave"}[n%3]
		ac := 6 + 40*rnd.Float64()
		ohms := ac * (1 + 20*rnd.Float64())
		source := ohms * (.005 + .05*rnd.Float64())
		farads := (20 + 100*rnd.Float64()) * .01 / ohms
		settings := []calc.Setting{{Name: "circuit", Value: name}, {Name: "ac", Value: fmt.Sprint(ac)}, {Name: "source-resistance", Value: fmt.Sprint(source)},
			{Name: "capacitor", Value: fmt.Sprintf("%g F", farads)}, {Name: "load", Value: fmt.Sprintf("%g Ω", ohms)}}
		r, err := Calculator.Run(settings)
		if err != nil {
			t.Fatal(err)
		}
		c := circuitOf(r.In())
		compare(t, fmt.Sprint(name, settings), name, r, spice(t, netlist(name, c, ac, source, farads, ohms, value(t, r, "mean"))))
	}
}

// The first peak against ngspice: the capacitor empty, the source switched on at
// each of many instants. The crest is the worst, and its peak is ours within 2 %.
func TestFirstPeak(t *testing.T) {
	needSpice(t)
	r := run(t, "circuit", "half-wave", "ac", "17 V", "source-resistance", "0.5 Ω", "capacitor", "4700 µF")
	worst, at := 0.0, 0
	for phase := 0; phase < 180; phase += 15 {
		s := spice(t, fmt.Sprintf("* first cycle\nV1 a 0 SIN(0 %g 50 0 0 %d)\nRS a b 0.5\nD1 b p DR\nC1 p 0 0.0047 IC=0\nRL p 0 24\n"+
			".model DR D(IS=14.11n N=1.984 RS=33.89m)\n.options reltol=0.0001 abstol=1e-8 vntol=1e-6\n.tran 2e-6 0.02 0 2e-6 UIC\n"+
			".meas tran vdc AVG v(p)\n.meas tran vmax MAX v(p)\n.meas tran vmin MIN v(p)\n.meas tran isrms RMS i(V1)\n.meas tran ismax MAX i(V1)\n.meas tran ismin MIN i(V1)\n.end\n",
			17*math.Sqrt2, phase))
		if peak := math.Abs(s["ismin"]); peak > worst {
			worst, at = peak, phase
		}
	}
	if got := value(t, r, "first-peak"); at != 90 || math.Abs(got/worst-1) > .02 {
		t.Errorf("the first peak is %v A, ngspice says %v A, switched on at %d°", got, worst, at)
	}
}

// What goes into the capacitor comes out of it, and the wave closes.
func TestChargeBalance(t *testing.T) {
	for _, set := range calctest.Random(Calculator, 200, 5) {
		r, err := Calculator.Run(set)
		if err != nil {
			continue
		}
		c := circuitOf(r.In())
		w := c.Solve()
		in := w.Mean(func(_, i float64) float64 { return i })
		if out := value(t, r, "load-current"); math.Abs(in/out-1) > 3e-3 {
			t.Errorf("%v: %v A in, %v A out", set, in, out)
		}
		if low, high := value(t, r, "lowest"), value(t, r, "highest"); low > value(t, r, "mean") || high < value(t, r, "mean") || high > c.Peak {
			t.Errorf("%v: %v..%v", set, low, high)
		}
	}
}

// check holds what every steady state must keep to: v between 0 and the source's
// peak, the mean in between, and what flows in flows out, to a share.
func check(t *testing.T, c *supply.Reservoir, share float64) {
	t.Helper()
	if refuse(c) != nil {
		return
	}
	w := c.Solve()
	low, high, top := w.Extremes()
	mean := w.Mean(func(v, _ float64) float64 { return v })
	in := w.Mean(func(_, i float64) float64 { return i })
	rms := math.Sqrt(w.Mean(func(_, i float64) float64 { return i * i }))
	if low < 0 && c.Load == 0 {
		return // refused: empty before the next peak
	}
	out := c.Amps
	if c.Load > 0 {
		out = mean / c.Load
	}
	if !(0 <= low && low <= mean && mean <= high && high <= c.Peak*(1+1e-6)) {
		t.Errorf("%+v: %v..%v..%v V of %v", *c, low, mean, high, c.Peak)
	}
	if !(math.Abs(in/out-1) <= share) {
		t.Errorf("%+v: %v A in, %v A out", *c, in, out)
	}
	if !(in <= rms*(1+1e-9) && rms <= top*(1+1e-9)) {
		t.Errorf("%+v: mean %v, RMS %v, peak %v A", *c, in, rms, top)
	}
	if end := len(w.T) - 1; math.Abs(w.V[0]-w.V[end]) > 1e-9*c.Peak || math.Abs(w.T[end]-c.Period()) > 1e-12 {
		t.Errorf("%+v: the period does not close", *c)
	}
}

// The capacitor for a wanted ripple is the inverse of the ripple of a capacitor.
func TestWantedRipple(t *testing.T) {
	for _, in := range [][]string{
		{"ac", "12 V", "source-resistance", "0.5 Ω", "load", "24 Ω"}, {"ac", "17 V", "load", "1 A"}, {"circuit", "half-wave", "ac", "230 V", "source-resistance", "10 Ω", "load", "10 kΩ"},
		{"circuit", "centre-tap", "ac", "9 V", "load", "10 Ω", "diode", "ideal"},
	} {
		for _, want := range []float64{.05, .4, 1, 5} {
			r := run(t, append(in, "wanted-ripple", fmt.Sprint(want, " V"))...)
			back := run(t, append(in, "capacitor", fmt.Sprint(value(t, r, "capacitor-for-ripple"), " F"))...)
			if got := value(t, back, "ripple"); math.Abs(got/want-1) > 1e-4 {
				t.Errorf("%v: %v V wanted, %v V come back", in, want, got)
			}
		}
	}
	for want, says := range map[string]string{"500 V": "without a capacitor", "1 mV": "more than 10 F"} {
		if _, err := Calculator.Run([]calc.Setting{{Name: "load", Value: "5 Ω"}, {Name: "wanted-ripple", Value: want}}); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", want, err)
		}
	}
}

// The curve is drawn from rough solutions, which must lie by the exact ones.
func TestSketch(t *testing.T) {
	volts := func(v, _ float64) float64 { return v }
	for _, set := range calctest.Random(Calculator, 150, 9) {
		r, err := Calculator.Run(set)
		if err != nil {
			continue
		}
		c := circuitOf(r.In())
		w := c.Sketches([]float64{value(t, r, "mean") / value(t, r, "load-current")})[0]
		if got, want := w.Mean(volts), value(t, r, "mean"); math.Abs(got-want) > .01*c.Peak {
			t.Errorf("%v: mean %v, solved %v", set, got, want)
		}
		for _, p := range Calculator.Plots {
			if svg, err := Calculator.Draw(p, r.In()); err != nil || len(svg) < 500 || strings.Contains(svg, "NaN") {
				t.Errorf("%v: %s: %v", set, p.Name, err)
			}
		}
	}
}

// The whole of what may be entered, each input even on a logarithmic scale.
func TestWholeRange(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	between := func(low, high float64) float64 { return low * math.Pow(high/low, rnd.Float64()) }
	for n := range 1500 {
		d := []supply.Diode{supply.Diodes["silicon"], supply.Diodes["schottky"], supply.Diodes["ideal"]}[rnd.IntN(3)]
		count := float64(1 + rnd.IntN(2))
		c := &supply.Reservoir{Peak: math.Sqrt2 * between(1, 1000), Hertz: between(10, 1000), Source: between(1e-3, 1e4) + float64(count*d.Ohms), Farads: between(1e-9, 10),
			Half: rnd.IntN(3) == 0, Slope: count * d.N * supply.Thermal, Leak: d.Leak}
		if n%2 == 0 {
			c.Load = between(.01, 1e8)
		} else {
			c.Amps = between(1e-6, 1e3)
		}
		check(t, c, .03)
	}
}

func FuzzSolve(f *testing.F) {
	f.Add(24.0, 50.0, .5, 2200e-6, 24.0, 0.0, false, uint8(0))
	f.Add(10.42, 52.47, 2.2, 1.07e-6, 0.0, .3188, false, uint8(1))
	f.Add(466.0, 42.95, .0037, 4.7e-8, 4.8e7, 0.0, true, uint8(2))
	f.Fuzz(func(t *testing.T, peak, hertz, source, farads, load, amps float64, half bool, kind uint8) {
		within := func(x, low, high float64) bool { return x >= low && x <= high }
		if !within(peak, math.Sqrt2, 1000*math.Sqrt2) || !within(hertz, 10, 1000) || !within(source, 1e-3, 1e4) || !within(farads, 1e-9, 10) ||
			load != 0 && !within(load, .01, 1e8) || load == 0 && !within(amps, 1e-9, 1e6) {
			return
		}
		if load != 0 {
			amps = 0
		}
		d := []supply.Diode{supply.Diodes["silicon"], supply.Diodes["schottky"], supply.Diodes["ideal"]}[kind%3]
		check(t, &supply.Reservoir{Peak: peak, Hertz: hertz, Source: source + d.Ohms, Farads: farads, Load: load, Amps: amps, Half: half, Slope: d.N * supply.Thermal, Leak: d.Leak}, .05)
	})
}

// Behind a small source resistance the capacitor follows the source while current
// flows, so its peak is C dv/dt + load where it begins: a closed form.
func TestStiffSource(t *testing.T) {
	for _, c := range []supply.Reservoir{
		{Peak: 325, Hertz: 50, Source: .3, Farads: 7.5e-6, Amps: .6, Slope: 2 * 1.984 * supply.Thermal, Leak: 14.11e-9},
		{Peak: 24, Hertz: 210, Source: .067, Farads: 5.9e-6, Load: 1080},
		{Peak: 21.5, Hertz: 67, Source: .025, Farads: 1.6e-6, Load: 6800},
		{Peak: 1080, Hertz: 20, Source: .006, Farads: 1.5e-8, Amps: 350e-6, Slope: 1.04 * supply.Thermal, Leak: 1e-5},
		{Peak: 46, Hertz: 60, Source: .2, Farads: 1.2e-6, Amps: 3.5e-3, Half: true},
	} {
		w := c.Solve()
		low, _, top := w.Extremes()
		out := c.Amps
		if c.Load > 0 {
			out = low / c.Load
		}
		drop := c.Slope * math.Log1p(top/math.Max(c.Leak, 1e-300))
		share := (low + drop + float64(c.Source*top)) / c.Peak
		want := float64(c.Farads*2*math.Pi*c.Hertz*c.Peak*math.Sqrt(1-float64(share*share))) + out
		if math.Abs(top/want-1) > .03 {
			t.Errorf("%+v: the peak is %v A, C dv/dt + load is %v A", c, top, want)
		}
	}
}

// The iteration for the diodes once ran away here, to 10¹⁴ V and more.
func TestIterationStaysNear(t *testing.T) {
	for _, r := range []calc.Result{
		run(t, "circuit", "half-wave", "ac", "98.62 V", "source-resistance", "7.972 Ω", "capacitor", "1601 µF", "load", "2.19 A"),
		run(t, "ac", "291.2 V", "source-resistance", "1.42 Ω", "capacitor", "18.26 µF", "load", "21.59 Ω", "diode", "schottky"),
		run(t, "circuit", "centre-tap", "ac", "179.5 V", "source-resistance", "1.135 Ω", "capacitor", "4.548 µF", "load", "11.28 Ω", "diode", "schottky"),
	} {
		if high := value(t, r, "highest"); high > value(t, r, "open-circuit-peak") {
			t.Errorf("%v V behind a source of %v V", high, value(t, r, "open-circuit-peak"))
		}
	}
}

// More volts in, more volts out; more load or more resistance, fewer; a larger
// capacitor, less ripple.
func TestMonotone(t *testing.T) {
	sweep := func(name string, output string, up bool, values ...string) {
		last := math.NaN()
		for _, v := range values {
			r, err := Calculator.Run([]calc.Setting{{Name: name, Value: v}})
			if err != nil {
				t.Fatal(err)
			}
			got := value(t, r, output)
			if (up && got <= last) || (!up && got >= last) {
				t.Errorf("%s = %s: %s is %v after %v", name, v, output, got, last)
			}
			last = got
		}
	}
	sweep("ac", "mean", true, "6 V", "12 V", "17 V", "24 V", "230 V")
	sweep("load", "mean", true, "2 Ω", "8 Ω", "24 Ω", "100 Ω", "10 kΩ")
	sweep("load", "mean", false, "0.01 A", "0.1 A", "0.5 A", "1 A", "2 A")
	sweep("source-resistance", "mean", false, "10 mΩ", "0.1 Ω", "0.5 Ω", "2 Ω", "10 Ω")
	sweep("capacitor", "ripple", false, "100 µF", "470 µF", "2200 µF", "10000 µF", "1 F")
}

func TestRefused(t *testing.T) {
	for load, want := range map[string]string{"50 A": "cannot keep up", "0 A": "above zero", "3 V": "neither"} {
		_, err := Calculator.Run([]calc.Setting{{Name: "load", Value: load}})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("load %s: %v", load, err)
		}
	}
	if _, err := Calculator.Run([]calc.Setting{{Name: "load", Value: "1 A"}, {Name: "capacitor", Value: "10 µF"}}); err == nil || !strings.Contains(err.Error(), "empty before") {
		t.Errorf("a small capacitor: %v", err)
	}
}

func BenchmarkRun(b *testing.B) {
	for b.Loop() {
		if _, err := Calculator.Run(nil); err != nil {
			b.Fatal(err)
		}
	}
}

// The ratio of one ngspice process to one run here of the same circuit, RECT-001,
// in one benchmark.
// cpu is the processor time in seconds that this process (or its children that ended) has used.
func cpu(b *testing.B, who int) float64 {
	b.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(who, &u); err != nil {
		b.Fatal(err)
	}
	seconds := func(t syscall.Timeval) float64 { return float64(t.Sec) + float64(t.Usec)*1e-6 }
	return seconds(u.Utime) + seconds(u.Stime)
}

// How many times less processor time the same circuit, case B1, costs here than in ngspice: at least 500.
func BenchmarkSpiceRatio(b *testing.B) {
	needSpice(b)
	data, err := os.ReadFile("testdata/netlists.txt")
	if err != nil {
		b.Fatal(err)
	}
	_, text, _ := strings.Cut(strings.Split(string(data), "# check ")[1], "\n")
	const runs = 2000
	before := cpu(b, syscall.RUSAGE_SELF)
	for range runs {
		if _, err := Calculator.Run(Calculator.Example.Inputs); err != nil {
			b.Fatal(err)
		}
	}
	ours := (cpu(b, syscall.RUSAGE_SELF) - before) / runs
	before = cpu(b, syscall.RUSAGE_CHILDREN)
	n := 0
	for b.Loop() {
		spice(b, text)
		n++
	}
	theirs := (cpu(b, syscall.RUSAGE_CHILDREN) - before) / float64(n)
	b.ReportMetric(ours*1e3, "ms-ours")
	b.ReportMetric(theirs*1e3, "ms-ngspice")
	b.ReportMetric(theirs/ours, "times-less")
}

// Three inputs with a tolerance, as a reader may type them.
func BenchmarkThreeTolerances(b *testing.B) {
	for b.Loop() {
		run(b, "ac", "17 V ± 5 %", "capacitor", "2200 µF ± 20 %", "load", "24 Ω ± 5 %")
	}
}

func BenchmarkLoadCurve(b *testing.B) {
	r := run(b)
	for b.Loop() {
		if _, err := Calculator.Draw(Calculator.Plots[1], r.In()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWantedRipple(b *testing.B) {
	for b.Loop() {
		run(b, "wanted-ripple", "1 V")
	}
}
