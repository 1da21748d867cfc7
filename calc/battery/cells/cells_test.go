package cells

import (
	"math"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestCells(t *testing.T) { calctest.Run(t, Calculator) }

func verdict(t *testing.T, readings, chemistry, state string) (verdict, suspects string) {
	t.Helper()
	r, err := Calculator.Run([]calc.Setting{{Name: "readings", Value: readings}, {Name: "chemistry", Value: chemistry}, {Name: "state", Value: state}})
	if err != nil {
		t.Fatalf("%s: %v", readings, err)
	}
	v, _ := r.Output("verdict")
	s, _ := r.Output("suspects")
	return v.Word, s.Word
}

// The order of the cells changes nothing but the numbers of the suspects, and a cell that is
// lowered never makes the verdict milder.
func TestOrderAndMonotone(t *testing.T) {
	rank := map[string]int{"matched": 0, "drifted": 1, "weak-cell": 2, "do-not-charge": 3}
	last := 0
	for mv := 3980; mv > 2300; mv -= 5 {
		x := strings.ReplaceAll("A mV 3980 mV 3970 mV 3975 mV", "A", itoa(mv))
		y := strings.ReplaceAll("3975 mV 3980 mV A mV 3970 mV", "A", itoa(mv))
		v, _ := verdict(t, x, "li-ion", "rest")
		if w, _ := verdict(t, y, "li-ion", "rest"); w != v {
			t.Fatalf("%s is %s, %s is %s", x, v, y, w)
		}
		n, ok := rank[v]
		if !ok || n < last {
			t.Fatalf("%d mV: %s", mv, v)
		}
		last = n
	}
	if last != 3 {
		t.Error("a cell at 2.3 V must not be charged")
	}
}

func itoa(n int) string {
	var b []byte
	for ; n > 0; n /= 10 {
		b = append([]byte{byte('0' + n%10)}, b...)
	}
	return string(b)
}

// The units and signs people write read alike.
func TestRead(t *testing.T) {
	want := []float64{3.98, 3.97, 3.6}
	for _, s := range []string{"3.98 3.97 3.6", "3,98 3,97 3,6", "3.98, 3.97, 3.60", "3.98,3.97,3.60", "3.98V 3.97V 3.6V", "3.98 V; 3.97 V; 3.6 V",
		"3980mV 3970 mV 3600 mV", "3.98/3.97/3.6", " 3.98\t3.97 3.6, "} {
		got, err := read(s)
		if err != nil || len(got) != 3 {
			t.Errorf("%q: %v %v", s, got, err)
			continue
		}
		for i := range want {
			if math.Abs(got[i]-want[i]) > 1e-12 {
				t.Errorf("%q: %v", s, got)
			}
		}
	}
	for _, s := range []string{"OL 3.98", "3.98 A 3.9", "", "3,98,3,97", strings.Repeat("1 ", 41), "3–4 V 3.9", "NaN 3"} {
		if got, err := read(s); err == nil {
			t.Errorf("%q is read as %v", s, got)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"3.98 3.97", "3,98;3,97", "2060 mV 2 V", "-0,3 1.2", "1.260 1.230", "1e3 4", "1/2 3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		x, err := read(s)
		if err != nil {
			if bad, ok := err.(*calc.InputError); !ok || bad.Input != "readings" || bad.Says == "" {
				t.Fatalf("%q: %v", s, err)
			}
			return
		}
		for _, v := range x {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%q: %v", s, x)
			}
		}
		if m := median(x); len(x) < fewest || len(x) > most || math.IsNaN(m) {
			t.Fatalf("%q: %d readings, median %v", s, len(x), m)
		}
		for _, ch := range []string{"li-ion", "nimh", "gravity"} {
			r, err := Calculator.Run([]calc.Setting{{Name: "readings", Value: s}, {Name: "chemistry", Value: ch}})
			if err != nil {
				continue
			}
			if v, ok := r.Output("verdict"); !ok || v.Text == "" {
				t.Fatalf("%q as %s: no verdict", s, ch)
			}
		}
	})
}

func TestPlot(t *testing.T) {
	for _, s := range Calculator.Inputs[0].Text {
		r, err := Calculator.Run([]calc.Setting{{Name: "readings", Value: s}})
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%s: %v", s, err)
		}
	}
}
