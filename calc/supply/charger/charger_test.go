package charger

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

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/supply"
)

func TestBatteryCharge(t *testing.T) { calctest.Run(t, Calculator) }

// closed is the mean for ideal diodes: the integral of (Û sin θ − E)/R over the
// angles with current.
func closed(peak, emf, ohms float64, half bool) float64 {
	a := math.Asin(emf / peak)
	mean := (2*peak*math.Cos(a) - emf*(math.Pi-2*a)) / (math.Pi * ohms)
	if half {
		return mean / 2
	}
	return mean
}

// The RMS has a closed form as well: the integral of the square.
func closedRMS(peak, emf, ohms float64) float64 {
	a := math.Asin(emf / peak)
	w := math.Pi - 2*a
	sum := peak*peak*(w/2+math.Sin(2*a)/2) - 4*peak*emf*math.Cos(a) + emf*emf*w
	return math.Sqrt(sum/math.Pi) / ohms
}

func TestClosedForm(t *testing.T) {
	for _, emf := range []float64{0, 1, 12, 20, 23.9} {
		for _, half := range []bool{false, true} {
			c := circuit{peak: 24, emf: emf, half: half, path: supply.Path{Ohms: .7}}
			mean, rms := c.current()
			if want := closed(24, emf, .7, half); math.Abs(mean-want) > 1e-7*24/.7 {
				t.Errorf("E %v, half %v: %v A, the closed form says %v", emf, half, mean, want)
			}
			if want := closedRMS(24, emf, .7); !half && math.Abs(rms-want) > 1e-6*24/.7 {
				t.Errorf("E %v: RMS %v A, the closed form says %v", emf, rms, want)
			}
		}
	}
	// without a battery: the plain rectified sine, 2/π and 1/π of the peak (textbook)
	c := circuit{peak: 1, path: supply.Path{Ohms: 1}}
	if mean, rms := c.current(); math.Abs(mean-2/math.Pi) > 1e-9 || math.Abs(rms-math.Sqrt2/2) > 1e-9 {
		t.Errorf("a rectified sine has mean %v and RMS %v", mean, rms)
	}
}

// "Half-wave rectifier as a battery charger", Guru, PEUCR 2006: 240 V, battery
// 180 V, 0.5 Ω. Current begins at 32.03°; the integral over the angle is 422.33,
// which the note calls coulombs.
func TestCourseNote(t *testing.T) {
	c := circuit{peak: 240 * math.Sqrt2, emf: 180, half: true, path: supply.Path{Ohms: .5}}
	mean, _ := c.current()
	if got := mean * 2 * math.Pi; math.Abs(got/422.33-1) > .001 {
		t.Errorf("the integral is %v, the note says 422.33", got)
	}
	begin := math.Pi / 2 * (1 - 2*c.conduction())
	if got := begin * 180 / math.Pi; math.Abs(got-32.03) > .02 {
		t.Errorf("current begins at %v°, the note says 32.03°", got)
	}
}

// The higher the battery or the resistances, the less; the higher the AC, the more.
func TestMonotone(t *testing.T) {
	for _, diode := range []string{"silicon", "schottky", "ideal"} {
		was := math.Inf(1)
		for emf := 0.0; emf < 22; emf += .5 {
			mean, rms := circuit{peak: 21, emf: emf, path: supply.PathOf(diode, 2, .5)}.current()
			if mean > was || rms < mean || emf < 19 && mean == was {
				t.Errorf("%s: at %v V %v A after %v, RMS %v", diode, emf, mean, was, rms)
			}
			was = mean
		}
		was = math.Inf(1)
		for ohms := .01; ohms < 100; ohms *= 2 {
			mean, _ := circuit{peak: 21, emf: 12, path: supply.PathOf(diode, 2, ohms)}.current()
			if mean >= was {
				t.Errorf("%s: %v Ω gives %v A after %v", diode, ohms, mean, was)
			}
			was = mean
		}
	}
}

// Random chargers against ngspice with the same diode: 1 % for mean and RMS, 2 %
// for the peak.
func TestAgainstSpice(t *testing.T) {
	if _, err := exec.LookPath("ngspice"); err != nil {
		t.Skip("ngspice is not installed; this check needs it")
	}
	rnd := rand.New(rand.NewPCG(21, 22))
	for n := range 9 {
		circuit := []string{"bridge", "centre-tap", "half-wave"}[n%3]
		emf := 6 + 30*rnd.Float64()
		ac := emf * (.85 + .6*rnd.Float64())
		source, series, inside := .1+rnd.Float64(), .05+rnd.Float64(), .01+.1*rnd.Float64()
		r, err := Calculator.Run([]calc.Setting{{Name: "circuit", Value: circuit}, {Name: "ac", Value: fmt.Sprint(ac)}, {Name: "battery", Value: fmt.Sprint(emf)},
			{Name: "source-resistance", Value: fmt.Sprint(source)}, {Name: "series", Value: fmt.Sprint(series)}, {Name: "internal-resistance", Value: fmt.Sprint(inside)}})
		if err != nil {
			t.Fatal(err)
		}
		s := spice(t, circuit, ac*math.Sqrt2, emf, source, series+inside)
		for _, x := range []struct {
			output, meas string
			tolerance    float64
		}{{"mean", "iavg", .01}, {"rms", "irms", .01}, {"peak", "imax", .02}} {
			o, _ := r.Output(x.output)
			if want := s[x.meas]; math.Abs(o.Value.Num/want-1) > x.tolerance {
				t.Errorf("%s %v V onto %v V: %s is %v A, ngspice says %v", circuit, ac, emf, x.output, o.Value.Num, want)
			}
		}
	}
}

// spice runs the charger for four periods and measures the battery's current in
// the last two.
func spice(t *testing.T, circuit string, peak, emf, source, rest float64) map[string]float64 {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "* %s\n", circuit)
	switch circuit {
	case "bridge":
		fmt.Fprintf(&b, "V1 a n SIN(0 %g 50)\nRS a b %g\nD1 b p DR\nD2 n p DR\nD3 0 b DR\nD4 0 n DR\nRN n 0 1e6\n", peak, source)
	case "half-wave":
		fmt.Fprintf(&b, "V1 a 0 SIN(0 %g 50)\nRS a b %g\nD1 b p DR\n", peak, source)
	default:
		fmt.Fprintf(&b, "V1 a 0 SIN(0 %g 50)\nRS a b %g\nD1 b p DR\nV2 0 c SIN(0 %g 50)\nRS2 c d %g\nD2 d p DR\n", peak, source, peak, source)
	}
	fmt.Fprintf(&b, "RB p q %g\nVB q 0 %g\n.model DR D(IS=14.11n N=1.984 RS=33.89m)\n.options reltol=0.0001 abstol=1e-8 vntol=1e-6\n.tran 4e-6 0.08 0 4e-6\n", rest, emf)
	b.WriteString(".meas tran iavg AVG i(VB) from=0.04 to=0.08\n.meas tran irms RMS i(VB) from=0.04 to=0.08\n.meas tran imax MAX i(VB) from=0.04 to=0.08\n.end\n")
	file := filepath.Join(t.TempDir(), "case.cir")
	if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("ngspice", "-b", file).CombinedOutput()
	found := map[string]float64{}
	for _, m := range regexp.MustCompile(`(?m)^(i\w+)\s*=\s*(\S+)`).FindAllSubmatch(out, -1) {
		if x, err := strconv.ParseFloat(string(m[2]), 64); err == nil {
			found[string(m[1])] = x
		}
	}
	if len(found) < 3 {
		t.Fatalf("ngspice gave %v (%v)\n%s", found, err, out)
	}
	return found
}

// A tolerance of the AC gives a range that holds every sample inside it.
func TestRangeHolds(t *testing.T) {
	wide, err := Calculator.Run([]calc.Setting{{Name: "ac", Value: "15 V ± 5 %"}, {Name: "battery", Value: "12.6 V ± 0.5 V"}})
	if err != nil {
		t.Fatal(err)
	}
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		r, err := Calculator.Run([]calc.Setting{{Name: "ac", Value: fmt.Sprint(14.25 + 1.5*rnd.Float64())}, {Name: "battery", Value: fmt.Sprint(12.1 + rnd.Float64())}})
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{"mean", "rms", "peak", "conduction", "rms-ratio"} {
			w, _ := wide.Output(name)
			o, _ := r.Output(name)
			if o.Value.Num < w.Value.Low*(1-1e-9) || o.Value.Num > w.Value.High*(1+1e-9) {
				t.Errorf("%s %v lies outside %v to %v", name, o.Value.Num, w.Value.Low, w.Value.High)
			}
		}
	}
}

func TestPlots(t *testing.T) {
	for _, set := range calctest.Random(Calculator, 60, 3) {
		r, err := Calculator.Run(set)
		if err != nil {
			continue
		}
		for _, p := range Calculator.Plots {
			if svg, err := Calculator.Draw(p, r.In()); err != nil || len(svg) < 500 || strings.Contains(svg, "NaN") {
				t.Errorf("%v: %s: %v", set, p.Name, err)
			}
		}
	}
}

func BenchmarkRun(b *testing.B) {
	for b.Loop() {
		if _, err := Calculator.Run(nil); err != nil {
			b.Fatal(err)
		}
	}
}
