package junction

import (
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
)

func TestJunction(t *testing.T) { calctest.Run(t, Calculator) }

// SEMI-008: 0.5 to 0.8 V forward and open in reverse is a good silicon junction; it
// ends somewhere below and above.
func TestSiliconBand(t *testing.T) {
	for mv := 500; mv <= 800; mv += 10 {
		f := two(seen{volts: float64(mv) / 1000}, seen{open: true})
		if f.state != "junctions-intact" || f.part != "silicon-diode" {
			t.Errorf("%d mV: %s, %s", mv, f.state, f.part)
		}
	}
	for _, v := range []float64{0.06, 0.3, 1.0, 1.9} {
		if f := two(seen{volts: v}, seen{open: true}); f.part == "silicon-diode" {
			t.Errorf("%v V passes for silicon", v)
		}
	}
}

// kinds of reading that can occur.
var samples = []seen{{open: true}, {volts: 0}, {volts: 0.1}, {volts: 0.3}, {volts: 0.62}, {volts: 0.66}, {volts: 1.25}, {volts: 1.9}}

// all runs over every matrix of these readings.
func all(do func(m matrix)) {
	n := len(samples)
	for k := 0; k < n*n*n*n*n*n; k++ {
		r, m := k, matrix{}
		for _, p := range pairs {
			m[p[0]][p[1]], r = samples[r%n], r/n
			m[p[1]][p[0]], r = samples[r%n], r/n
		}
		do(m)
	}
}

// Of all patterns only one-way junctions in the band pass as a transistor; a short
// or a pair that conducts both ways never does, and no finding is empty.
func TestNothingBadPasses(t *testing.T) {
	seen := map[string]int{}
	all(func(m matrix) {
		f := three(m)
		if f.state == "" || f.stateSays == "" {
			t.Fatalf("%v: nothing said", m)
		}
		seen[f.state]++
		if f.state != "junctions-intact" {
			return
		}
		forward := 0
		for _, p := range pairs {
			ab, ba := m[p[0]][p[1]], m[p[1]][p[0]]
			if ab.short() || ba.short() || ab.conducts() && ba.conducts() {
				t.Fatalf("%v passes as %s", m, f.part)
			}
			if ab.conducts() || ba.conducts() {
				forward++
			}
		}
		if (f.part == "npn" || f.part == "pnp") && forward != 2 {
			t.Fatalf("%v is called %s", m, f.part)
		}
	})
	for _, s := range []string{"junctions-intact", "open", "shorted", "leaky", calc.CannotTell} {
		if seen[s] == 0 {
			t.Errorf("no reading gives %s", s)
		}
	}
}

// Swapping red and black everywhere turns NPN into PNP with the same base, and
// turning the part round moves the legs with it.
func TestSymmetry(t *testing.T) {
	swap := map[string]string{"npn": "pnp", "pnp": "npn"}
	get := func(f finding, name string) string {
		for _, l := range f.legs {
			if l[0] == name {
				return l[1]
			}
		}
		return ""
	}
	all(func(m matrix) {
		var flipped, turned matrix
		for i := range legs {
			for j := range legs {
				flipped[j][i] = m[i][j]
				turned[(i+1)%3][(j+1)%3] = m[i][j]
			}
		}
		f, g, h := three(m), three(flipped), three(turned)
		if f.state != g.state || f.state != h.state {
			t.Fatalf("%v: %s, swapped %s, turned %s", m, f.state, g.state, h.state)
		}
		if s, ok := swap[f.part]; ok && (g.part != s || get(f, "base") != get(g, "base") || h.part != f.part) {
			t.Fatalf("%v: %s and %s", m, f.part, g.part)
		}
		if b := get(f, "base"); b != "" {
			if want := map[string]string{"leg 1": "leg 2", "leg 2": "leg 3", "leg 3": "leg 1"}[b]; get(h, "base") != want {
				t.Fatalf("%v: base %s, turned %s", m, b, get(h, "base"))
			}
		}
	})
}

func TestRead(t *testing.T) {
	parse := func(text string) (seen, error) {
		r, err := reading.Parse(quantity.Voltage, text, reading.Meter{Diode: true})
		if err != nil {
			return seen{}, err
		}
		return read(r, r.Value)
	}
	for text, want := range map[string]seen{"0.65 V": {volts: .65}, "0,65": {volts: .65}, "650": {volts: .65}, "650 mV": {volts: .65}, "1.05": {volts: 1.05}, "1.0": {volts: 1},
		"OL": {open: true}, "0L": {open: true}, "O.L": {open: true}, ".OL": {open: true}, "0.L": {open: true}, "1 .": {open: true}, "1 V": {volts: 1}, "0": {}, "open": {open: true}, "> 2 V": {open: true}} {
		if got, err := parse(text); err != nil || quantity.Round(got.volts, 9) != want.volts || got.open != want.open {
			t.Errorf("%s reads %v, %v", text, got, err)
		}
	}
	// a lone 1 is how some meters show open, and may be a volt: it is asked about
	for _, text := range []string{"-0.6 V", "5 V", "0.65 A", "V", "x", "1", "1.", "beep", "< 0.1 V"} {
		if got, err := parse(text); err == nil {
			t.Errorf("%s reads %v", text, got)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"0.65 V", "OL", "650", "1", "0,6", "", "-1", "∞", "1e9 V"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		shown, err := reading.Parse(quantity.Voltage, s, reading.Meter{Diode: true})
		if err != nil {
			return
		}
		r, err := read(shown, shown.Value)
		if err == nil && (!(r.volts >= 0 && r.volts <= highest) || r.open && r.volts != 0) {
			t.Errorf("%q reads %v", s, r)
		}
	})
}
