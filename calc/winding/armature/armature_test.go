package armature

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
)

func TestArmature(t *testing.T) { calctest.Run(t, Calculator) }

// machine is an armature as it is wound: coil k lies between the bars k and
// k + pitch; +Inf is an open coil. Bar off, if not negative, has lost its wires.
type machine struct {
	coils []float64
	pitch int
	off   int
}

func sound(n, p int) machine {
	m := machine{coils: make([]float64, n), pitch: 1, off: -1}
	for k := range m.coils {
		m.coils[k] = .5
	}
	if p > 1 {
		m.pitch = (n - 1) / p // p coils lead once round, to the bar before
	}
	return m
}

// volts solves the network with one ampere in at bar a and out at bar b, by
// Gaussian elimination on the conductances: no formula of the room is used.
func (m machine) volts(a, b int) []float64 {
	n := len(m.coils)
	g := make([][]float64, n)
	for i := range g {
		g[i] = make([]float64, n+1)
		g[i][i] = 1e-9 // so that what hangs loose has an answer
	}
	for k, ohms := range m.coils {
		if math.IsInf(ohms, 1) {
			continue
		}
		i, j := k, (k+m.pitch)%n
		g[i][i] += 1 / ohms
		g[j][j] += 1 / ohms
		g[i][j] -= 1 / ohms
		g[j][i] -= 1 / ohms
	}
	g[a][n], g[b][n] = 1, -1
	for i := range n {
		for j := range n {
			if j == i {
				continue
			}
			f := g[j][i] / g[i][i]
			for k := i; k <= n; k++ {
				g[j][k] -= f * g[i][k]
			}
		}
	}
	v := make([]float64, n)
	for i := range v {
		v[i] = g[i][n] / g[i][i]
	}
	return v
}

// ohms reads from bar to bar.
func (m machine) ohms() []float64 {
	n := len(m.coils)
	x := make([]float64, n)
	for k := range x {
		next := (k + 1) % n
		if k == m.off || next == m.off {
			x[k] = math.Inf(1)
			continue
		}
		v := m.volts(k, next)
		if x[k] = v[k] - v[next]; x[k] > 1e6 {
			x[k] = math.Inf(1)
		}
	}
	return x
}

func (m machine) highest() float64 {
	most := 0.0
	for _, x := range m.ohms() {
		most = math.Max(most, x)
	}
	return most
}

// write makes a row as a person would, to two or so places; what is too long goes
// into the second input.
func write(x []float64) []calc.Setting {
	var words []string
	for _, v := range x {
		if math.IsInf(v, 1) {
			words = append(words, "OL")
			continue
		}
		words = append(words, strconv.FormatFloat(v, 'f', 2, 64))
	}
	half := min(len(words), 20)
	return []calc.Setting{{Name: "readings", Value: strings.Join(words[:half], " ")}, {Name: "more", Value: strings.Join(words[half:], " ")}}
}

func verdict(t *testing.T, set []calc.Setting, extra ...string) calc.Result {
	t.Helper()
	set = append([]calc.Setting{}, set...)
	for n := 0; n < len(extra); n += 2 {
		set = append(set, calc.Setting{Name: extra[n], Value: extra[n+1]})
	}
	r, err := Calculator.Run(set)
	if err != nil {
		t.Fatal(set, err)
	}
	return r
}

func word(r calc.Result) string { o, _ := r.Output("verdict"); return o.Word }

// Every coil and bar of lap and wave armatures made faulty in turn, the network
// solved, the readings written down and judged.
func TestFaultsAreFound(t *testing.T) {
	for _, w := range []struct {
		winding string
		n, p    int
		poles   string
	}{{"lap", 12, 1, "2"}, {"lap", 24, 1, "2"}, {"lap", 33, 1, "4"}, {"wave", 13, 2, "4"}, {"wave", 25, 2, "4"}, {"wave", 31, 3, "6"}} {
		extra := []string{"winding", w.winding, "poles", w.poles, "bars", fmt.Sprint(w.n)}
		judge := func(m machine) calc.Result { return verdict(t, write(m.ohms()), extra...) }
		if r := judge(sound(w.n, w.p)); word(r) != "alike" {
			t.Errorf("%s %d: a sound one is %s", w.winding, w.n, word(r))
		} else if o, _ := r.Output("coil"); math.Abs(o.Value.Num/.5-1) > .04 {
			t.Errorf("%s %d: a coil of 0.5 Ω is taken for %v", w.winding, w.n, o.Value.Num)
		}
		for k := range w.n {
			m := sound(w.n, w.p)
			m.coils[k] = math.Inf(1)
			if r := judge(m); word(r) != "open-coil" {
				t.Errorf("%s %d, coil %d open: %s", w.winding, w.n, k, word(r))
			} else if o, _ := r.Output("open-reads"); math.Abs(o.Value.Num/m.highest()-1) > .02 {
				t.Errorf("%s %d, coil %d open: it reads %v, said to read %v", w.winding, w.n, k, m.highest(), o.Value.Num)
			}
			m = sound(w.n, w.p)
			m.coils[k] = 1e-4
			if r := judge(m); word(r) != "shorted-coil" {
				t.Errorf("%s %d, coil %d shorted: %s", w.winding, w.n, k, word(r))
			}
			m = sound(w.n, w.p)
			m.off = k
			r := judge(m)
			if o, _ := r.Output("verdict"); o.Word != "bar-off" || !strings.HasPrefix(o.Text, fmt.Sprintf("Bar %d ", k+1)) {
				t.Errorf("%s %d, bar %d off: %s", w.winding, w.n, k+1, o.Text)
			}
			m = sound(w.n, w.p)
			m.coils[k] *= 1.6 // a bad joint
			if r := judge(m); word(r) != "bad-joint" {
				t.Errorf("%s %d, joint at coil %d: %s", w.winding, w.n, k, word(r))
			}
			m = sound(w.n, w.p)
			m.coils[k] *= .95 // one turn of twenty
			if r := judge(m); word(r) != "alike" {
				t.Errorf("%s %d, one turn of coil %d: %s", w.winding, w.n, k, word(r))
			}
		}
	}
}

// The formulas against the solved network.
func TestFormulas(t *testing.T) {
	for _, w := range []struct{ n, p int }{{12, 1}, {31, 1}, {13, 2}, {25, 2}, {31, 3}, {41, 4}} {
		near := func(what string, got, want float64) {
			if math.Abs(got/want-1) > 1e-3 {
				t.Errorf("%d bars, %d in a path: %s is %v, the network says %v", w.n, w.p, what, got, want)
			}
		}
		near("sound", ring(.5, w.n, w.p), sound(w.n, w.p).ohms()[3])
		m := sound(w.n, w.p)
		m.coils[0] = math.Inf(1)
		most, count := 0.0, 0
		for _, x := range m.ohms() {
			if x > 1.8*ring(.5, w.n, w.p) {
				most, count = math.Max(most, x), count+1
			}
		}
		near("open", .5*float64(w.n-w.p), most)
		if count != w.p {
			t.Errorf("%d bars: an open coil shows at %d places, not %d", w.n, count, w.p)
		}
		m = sound(w.n, w.p)
		m.coils[0] = 1e-9
		least := math.Inf(1)
		for _, x := range m.ohms() {
			least = math.Min(least, x)
		}
		if w.p > 1 {
			near("shorted", shorted(.5, w.n, w.p), least)
		} else if least > 1e-6 {
			t.Errorf("%d bars: a shorted coil reads %v", w.n, least)
		}
	}
}

// Millivolts with a fed current, one ampere between bars half a turn apart: an open
// coil reads high between zeros, a shorted one reads nothing (US Navy sheet 251.36).
func TestDrop(t *testing.T) {
	const n = 16
	read := func(m machine) []calc.Setting {
		v := m.volts(0, n/2)
		var words []string
		for k := range v {
			words = append(words, strconv.FormatFloat(math.Abs(v[k]-v[(k+1)%n])*1000, 'f', 0, 64))
		}
		return []calc.Setting{{Name: "readings", Value: strings.Join(words, " ")}, {Name: "method", Value: "drop"}, {Name: "step", Value: "1"}}
	}
	if r := verdict(t, read(sound(n, 1))); word(r) != "alike" {
		t.Errorf("a sound one is %s", word(r))
	} else if o, _ := r.Output("typical-volts"); o.Text != "250 mV" {
		t.Errorf("half an ampere in 0.5 Ω reads %s", o.Text)
	}
	for k := range n {
		m := sound(n, 1)
		m.coils[k] = math.Inf(1)
		r := verdict(t, read(m))
		if o, _ := r.Output("where"); word(r) != "open-coil" || !strings.HasPrefix(o.Text, fmt.Sprintf("Between bars %d and", k+1)) {
			t.Errorf("coil %d open: %s, %s", k+1, word(r), o.Text)
		}
		m = sound(n, 1)
		m.coils[k] = 1e-4
		if r := verdict(t, read(m)); word(r) != "shorted-coil" {
			o, _ := r.Output("verdict")
			t.Errorf("coil %d shorted: %s %v", k+1, o.Text, read(m))
		}
	}
}

// The ring by ngspice: twelve coils of 0.5 Ω with one open, and a wave winding of
// thirteen with one shorted.
func TestAgainstSpice(t *testing.T) {
	if _, err := exec.LookPath("ngspice"); err != nil {
		t.Skip("ngspice is not installed; this check needs it")
	}
	open, short := sound(12, 1), sound(13, 2)
	open.coils[4], short.coils[0] = math.Inf(1), 1e-6
	for _, m := range []machine{open, short} {
		want := m.ohms()
		n := len(m.coils)
		for _, k := range []int{0, 4, 6, n - 1} {
			var b strings.Builder
			b.WriteString("* armature\n")
			for c, ohms := range m.coils {
				fmt.Fprintf(&b, "R%d n%d n%d %g\n", c, c, (c+m.pitch)%n, math.Min(ohms, 1e12))
			}
			fmt.Fprintf(&b, "RG n%d 0 1e-6\nI1 0 n%d 1\nI2 n%d 0 1\n.control\nop\nprint v(n%d)-v(n%d)\n.endc\n.end\n", (k+1)%n, k, (k+1)%n, k, (k+1)%n)
			file := filepath.Join(t.TempDir(), "case.cir")
			if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
				t.Fatal(err)
			}
			out, err := exec.Command("ngspice", "-b", file).CombinedOutput()
			found := regexp.MustCompile(`= (\S+)`).FindSubmatch(out[strings.Index(string(out), "v(n"):])
			if found == nil {
				t.Fatalf("%v\n%s", err, out)
			}
			got, _ := strconv.ParseFloat(string(found[1]), 64)
			if math.Abs(got/want[k]-1) > 1e-4 {
				t.Errorf("bars %d and %d: ngspice %v Ω, solved %v", k+1, k+2, got, want[k])
			}
		}
	}
}

func readText(text string) (row, error) {
	shown, err := reading.ParseRow([]quantity.Kind{quantity.Resistance, quantity.Voltage}, text, reading.Meter{})
	if err != nil {
		return row{}, err
	}
	return read(false, shown...)
}

// OL everywhere is no open coil, and OL on a range below the usual reading tells
// nothing.
func TestOL(t *testing.T) {
	for _, text := range []string{"OL OL OL OL OL OL", "0L; O.L; 1 . ; ∞; open; inf"} {
		if r := verdict(t, []calc.Setting{{Name: "readings", Value: text}}); word(r) != "no-path" {
			t.Errorf("%q: %s", text, word(r))
		}
	}
	if r := verdict(t, []calc.Setting{{Name: "readings", Value: "1.1 1.1 1.2 OL OL 1.1 1.1 1.2 1.1"}}); word(r) != "bar-off" {
		t.Errorf("two OL beside each other: %s", word(r))
	}
	if _, err := Calculator.Run([]calc.Setting{{Name: "readings", Value: "190 191 190 192 OL 190 191"}}); err == nil || !strings.Contains(err.Error(), "higher range") {
		t.Errorf("OL that may be 200 Ω beside 190 Ω: %v", err)
	}
}

func TestReadings(t *testing.T) {
	for text, want := range map[string]int{"1 2 3 4 5": 5, "1,2 1,3 1,2 1,2 1,1": 5, "1.2, 1.3, 1.2, 1.2, OL": 5, "0.5;0.5;0.5;0.6;0.5": 5, "520 510 515 520 511 mΩ": 5, "5mΩ 5mΩ 5mΩ 5mΩ 6mΩ": 5} {
		r, err := readText(text)
		if err != nil || len(r.x) != want {
			t.Errorf("%q: %v, %v", text, r.x, err)
		}
	}
	if r, _ := readText("520 510 mΩ"); r.x[0] != .52 {
		t.Errorf("%v", r.x)
	}
	for _, text := range []string{"1 2 three 4 5", "1 2 3 4 5 V", "1 2Ω 3 4Ω 5", "1 2 3", "-1 2 3 4 5", "1±1% 1 1 1 1", "0.52 0.51 1 0.52 0.5", "1 2Ω 3 4 5", ";;;;;"} {
		if _, err := Calculator.Run([]calc.Setting{{Name: "readings", Value: text}}); err == nil {
			t.Errorf("%q is read", text)
		}
	}
}

// Turning the first bar does not change the verdict.
func TestTurning(t *testing.T) {
	m := sound(12, 1)
	m.coils[7] = math.Inf(1)
	x := m.ohms()
	for k := range x {
		if r := verdict(t, write(append(append([]float64{}, x[k:]...), x[:k]...))); word(r) != "open-coil" {
			t.Errorf("turned by %d: %s", k, word(r))
		}
	}
}

func TestPlot(t *testing.T) {
	for _, text := range []string{"1 1 1 1 1", "OL OL OL OL OL", "0 0 0 0 0", "1 1 OL 1 1"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "readings", Value: text}})
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") {
			t.Errorf("%s: %v", text, err)
		}
	}
}

func FuzzReadings(f *testing.F) {
	for _, s := range []string{"0.52 0.51 OL 0.5 0.5", "1,2; 1,3; 1,2 1 1", "5 mV 5 mV", "520 510 515 520 500 mΩ", "∞ ∞ ∞ ∞ ∞", "1k 2k 3 4 5"} {
		f.Add(s, "0.01", false)
	}
	f.Fuzz(func(t *testing.T, readings, step string, drop bool) {
		method := "ohms"
		if drop {
			method = "drop"
		}
		r, err := Calculator.Run([]calc.Setting{{Name: "readings", Value: readings}, {Name: "step", Value: step}, {Name: "method", Value: method}})
		if err != nil {
			if _, ok := err.(*calc.InputError); !ok {
				t.Errorf("%q: %v", readings, err)
			}
			return
		}
		for _, o := range r.Outputs {
			if o.Text == "" || o.Value.Kind != "" && !o.Value.Finite() {
				t.Errorf("%q: %s is %q", readings, o.Name, o.Text)
			}
		}
	})
}
