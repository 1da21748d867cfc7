package rectifier

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
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
		name, circuit           string
		ratio, volts, rms, peak float64
	}{
		{"RECT-020", "bridge", .005, .9601, 2.579, 8.32}, {"RECT-021", "bridge", .02, .9035, 2.065, 5.34}, {"RECT-022", "bridge", .05, .8322, 1.794, 4.03},
		{"RECT-023", "bridge", .1, .7518, 1.622, 3.30}, {"RECT-024", "half-wave", .005, .9376, 3.261, 13.30}, {"RECT-026", "half-wave", .05, .7518, 2.294, 6.60},
		{"RECT-027", "half-wave", .1, .6455, 2.091, 5.49},
	} {
		r, err := Calculator.Run([]calc.Setting{{Name: "circuit", Value: c.circuit}, {Name: "ac", Value: "100 V"}, {Name: "diode", Value: "ideal"}, {Name: "capacitor", Value: "10 F"},
			{Name: "load", Value: "100 Ω"}, {Name: "source-resistance", Value: fmt.Sprint(c.ratio*100) + " Ω"}})
		if err != nil {
			t.Fatal(err)
		}
		amps := value(t, r, "load-current")
		for _, x := range []struct {
			what      string
			got, want float64
		}{{"Vdc/Vpeak", value(t, r, "mean") / (100 * math.Sqrt2), c.volts}, {"Irms/Idc", value(t, r, "rms-ratio"), c.rms}, {"Ipeak/Idc", value(t, r, "diode-peak") / amps, c.peak}} {
			if math.Abs(x.got/x.want-1) > .005 {
				t.Errorf("%s: %s is %v, want %v", c.name, x.what, x.got, x.want)
			}
		}
	}
}

// The makers' tables and the formula for the capacitor.
func TestTextbook(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
		tolerance float64
		source    string
	}{
		{"RECT-029", 1 / halfWaveAmps, .28, 1e-9, "transformer maker's design guide: half wave, capacitor input, I_dc = 0.28 I_ac"},
		{"RECT-029 peak", math.Sqrt2, 1.41, .003, "the same: V_dc peak = 1.41 V_ac"},
		{"RECT-030", 1 / centreTapAmps, 1, 1e-9, "the same: full-wave centre tap, I_dc = 1.00 I_ac"},
		{"RECT-030 peak", math.Sqrt2 / 2, .71, .005, "the same: V_dc peak = 0.71 of the volts end to end, twice those of a half"},
		{"RECT-036", capacitorFor(2, 100, 1), 20000e-6, 1e-9, "constant-current discharge over a full half-cycle"},
	} {
		if math.Abs(c.got/c.want-1) > c.tolerance {
			t.Errorf("%s: %v, want %v (%s)", c.name, c.got, c.want, c.source)
		}
	}
	// RECT-032 and RECT-033, another maker's worked examples, against the solved
	// circuit: its rules of thumb ask for somewhat more volts than needed.
	half, err := Calculator.Run([]calc.Setting{{Name: "circuit", Value: "half-wave"}, {Name: "ac", Value: "5.3 V"}, {Name: "load", Value: "0.1 A"}, {Name: "capacitor", Value: "4700 µF"}, {Name: "source-resistance", Value: "3 Ω"}})
	if err != nil {
		t.Fatal(err)
	}
	if got := value(t, half, "source-rms"); math.Abs(got/.26-1) > .15 {
		t.Errorf("RECT-032: source RMS %v, the maker's 2.6 x 0.1 A", got)
	}
	if got := value(t, half, "mean"); math.Abs(got/5-1) > .15 {
		t.Errorf("RECT-032: %v V of DC, the maker's 5 V", got)
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"RECT-032 Vac = 0.88 (Vdc + 1)", .88 * (5 + 1), 5.3}, {"RECT-032 Iac = 2.6 Idc", 2.6 * .1, .26}, {"RECT-032 VA = 2.3 (W + 1 V Idc)", 2.3 * (5*.1 + 1*.1), 1.4},
		{"RECT-033 Vac = 1.7 (Vdc + 1)", 1.7 * (5 + 1), 10.2}, {"RECT-033 Iac = 1.2 Idc", 1.2 * 2, 2.4},
	} {
		if math.Abs(c.got/c.want-1) > .02 {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
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
	head := regexp.MustCompile(`\* case \S+ (\w+) V=([\d.]+)Vrms f=(\d+)Hz Rs=([\d.]+) C=([\d.]+)uF RL=([\d.]+)`)
	for _, part := range strings.Split(string(b), "# check ")[1:] {
		name, netlist, _ := strings.Cut(part, "\n")
		m := head.FindStringSubmatch(netlist)
		if m == nil {
			t.Fatalf("%s: no head", name)
		}
		circuit := map[string]string{"bridge": "bridge", "half": "half-wave", "ct": "centre-tap"}[m[1]]
		r, err := Calculator.Run([]calc.Setting{{Name: "circuit", Value: circuit}, {Name: "ac", Value: m[2]}, {Name: "frequency", Value: m[3]}, {Name: "source-resistance", Value: m[4]},
			{Name: "capacitor", Value: m[5] + " µF"}, {Name: "load", Value: m[6] + " Ω"}})
		if err != nil {
			t.Fatal(err)
		}
		compare(t, name, circuit, r, spice(t, netlist))
	}
}

// netlist writes a circuit for ngspice that starts near its steady state.
func netlist(circuit string, c *circuit, ac, source, farads, ohms, start float64) string {
	var b strings.Builder
	t := c.period()
	settle := math.Ceil(4*ohms*farads/t+20) * t
	if limit := 400 * t; settle > limit {
		settle = limit
	}
	step := t / 2500
	fmt.Fprintf(&b, "* %s\n", circuit)
	peak := ac * math.Sqrt2
	switch circuit {
	case "bridge":
		fmt.Fprintf(&b, "V1 a n SIN(0 %g %g)\nRS a b %g\nD1 b p DR\nD2 n p DR\nD3 0 b DR\nD4 0 n DR\nRN n 0 1e6\n", peak, c.hertz, source)
	case "half-wave":
		fmt.Fprintf(&b, "V1 a 0 SIN(0 %g %g)\nRS a b %g\nD1 b p DR\n", peak, c.hertz, source)
	default:
		fmt.Fprintf(&b, "V1 a 0 SIN(0 %g %g)\nRS a b %g\nD1 b p DR\nV2 0 c SIN(0 %g %g)\nRS2 c d %g\nD2 d p DR\n", peak, c.hertz, source, peak, c.hertz, source)
	}
	end := settle + 10/c.hertz
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
	for n := range 9 {
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

// What goes into the capacitor comes out of it, and the wave closes.
func TestChargeBalance(t *testing.T) {
	for _, set := range calctest.Random(Calculator, 200, 5) {
		r, err := Calculator.Run(set)
		if err != nil {
			continue
		}
		c := circuitOf(r.In())
		w := c.solve()
		in := w.mean(func(_, i float64) float64 { return i })
		if out := value(t, r, "load-current"); math.Abs(in/out-1) > 3e-3 {
			t.Errorf("%v: %v A in, %v A out", set, in, out)
		}
		if low, high := value(t, r, "lowest"), value(t, r, "highest"); low > value(t, r, "mean") || high < value(t, r, "mean") || high > c.peak {
			t.Errorf("%v: %v..%v", set, low, high)
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

// The ratio of one ngspice process to one run here, in one benchmark.
func BenchmarkSpiceRatio(b *testing.B) {
	needSpice(b)
	data, err := os.ReadFile("testdata/netlists.txt")
	if err != nil {
		b.Fatal(err)
	}
	_, text, _ := strings.Cut(strings.Split(string(data), "# check ")[1], "\n")
	const runs = 50
	start := time.Now()
	for range runs {
		if _, err := Calculator.Run(nil); err != nil {
			b.Fatal(err)
		}
	}
	ours := time.Since(start).Seconds() / runs
	b.ResetTimer()
	for b.Loop() {
		spice(b, text)
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/ours, "times-faster")
}
