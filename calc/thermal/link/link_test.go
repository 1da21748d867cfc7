package link

import (
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestThermalLink(t *testing.T) { calctest.Run(t, Calculator) }

func verdict(t *testing.T, in map[string]string) string {
	t.Helper()
	var set []calc.Setting
	for n, v := range in {
		set = append(set, calc.Setting{Name: n, Value: v})
	}
	r, err := Calculator.Run(set)
	if err != nil {
		t.Fatalf("%v: %v", in, err)
	}
	o, _ := r.Output("verdict")
	return o.Word
}

// At no temperature is a self-resetting part the equal of a one-shot link, nor one
// mounted otherwise.
func TestNeverEqual(t *testing.T) {
	for tf := 60; tf <= 300; tf += 10 {
		mark := quantity.Number(float64(tf)) + " °C"
		in := func(more ...string) map[string]string {
			m := map[string]string{"mark": mark, "part-mark": mark, "part-volts": "250 V", "part-amps": "10 A"}
			for i := 0; i+1 < len(more); i += 2 {
				m[more[i]] = more[i+1]
			}
			return m
		}
		if got := verdict(t, in()); got != "fits" {
			t.Errorf("%s for %s: %s", mark, mark, got)
		}
		for _, other := range []map[string]string{in("part-kind", "self-resetting"), in("part-mounting", "surface"), in("part-mounting", "in-air"),
			in("old-kind", "self-resetting")} {
			if got := verdict(t, other); got != "not-equal" {
				t.Errorf("%v: %s", other, got)
			}
		}
	}
}

// With the rest fixed the verdict passes from trips-in-use over fits to
// opens-too-late as Tf rises, and never back.
func TestOrder(t *testing.T) {
	rank := map[string]int{"trips-in-use": 0, "fits": 1, "opens-too-late": 2}
	last, seen := 0, map[string]bool{}
	for tf := 60; tf <= 250; tf++ {
		w := verdict(t, map[string]string{"normal": "90 °C", "overshoot": "10 K", "self-heating": "5 K", "class": "155", "gradient": "15 K",
			"part-mark": quantity.Number(float64(tf)) + " °C", "part-volts": "250 V", "part-amps": "10 A"})
		n, ok := rank[w]
		if !ok || n < last {
			t.Fatalf("%d °C: %s", tf, w)
		}
		last, seen[w] = n, true
	}
	if len(seen) != 3 {
		t.Errorf("saw only %v", seen)
	}
}

// A mark above what the temperatures allow never widens the window, and a part
// marked higher than the old never fits.
func TestNeverHigher(t *testing.T) {
	for _, in := range calctest.Random(Calculator, 2000, 5) {
		r, err := Calculator.Run(in)
		if err != nil {
			continue
		}
		mark, hasMark := "", false
		var partAbove bool
		var m, p float64
		for _, g := range r.Inputs {
			switch {
			case g.Name == "mark" && g.Written != "":
				m, mark, hasMark = g.Value.Num, g.Written, true
			case g.Name == "part-mark" && g.Written != "":
				p, partAbove = g.Value.Num, true
			}
		}
		w, _ := r.Output("verdict")
		if hasMark && partAbove && p > m+0.1 && w.Word == "fits" {
			t.Fatalf("%v fits although above the mark %s", in, mark)
		}
	}
}

// TLNK-003, 005 and 006 are words and not numbers to compute: the page has to say
// them. The sources are those of the rows: the glossary of the link maker Uchihashi,
// the pages of CCI and UKB Electronics.
func TestPageSays(t *testing.T) {
	said := strings.Join(strings.Fields(strings.ReplaceAll(doc, "//", " ")), " ")
	for id, want := range map[string]string{"TLNK-003": "+0/−10 K", "TLNK-003, the other": "+0/−5 K", "TLNK-003, the third": "±7 K", "TLNK-005": "24 h at rated current", "TLNK-006": "10 minutes without closing again"} {
		if !strings.Contains(said, want) {
			t.Errorf("%s: the page does not say %q", id, want)
		}
	}
}
