package esr

import (
	"math"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestESR(t *testing.T) { calctest.Run(t, Calculator) }

// The tables give their own cells at their own rows and columns.
func TestCells(t *testing.T) {
	count := 0
	for _, tab := range []table{tableA, tableB} {
		for _, r := range tab.rows {
			if len(r.ohms) != len(tab.volts) {
				t.Fatalf("table %s, %v µF: %d cells", tab.name, r.microfarads, len(r.ohms))
			}
			for j, want := range r.ohms {
				got, ok := tab.limit(r.microfarads, tab.volts[j])
				if ok != (want > 0) || math.Abs(got-want) > 1e-9*want {
					t.Errorf("table %s, %v µF %v V: %v, want %v", tab.name, r.microfarads, tab.volts[j], got, want)
				}
				count++
			}
		}
	}
	if count != 12*7+11*7 {
		t.Errorf("%d cells", count)
	}
}

// Between cells the limit lies between its neighbours; outside there is none.
func TestBetween(t *testing.T) {
	if v, ok := tableB.limit(150, 50); !ok || v <= 0.42 || v >= 1.10 {
		t.Errorf("150 µF 50 V: %v", v)
	}
	for _, out := range [][2]float64{{0.5, 25}, {20000, 25}, {100, 5}, {100, 400}, {4.7, 12}} {
		if v, ok := tableB.limit(out[0], out[1]); ok {
			t.Errorf("%v: %v", out, v)
		}
	}
}

// Table B falls with capacitance and with volts (it is printed in two digits), so
// any interpolated value does too.
func TestTableBFalls(t *testing.T) {
	for v := 16.0; v <= 250; v *= 1.1 {
		last := math.Inf(1)
		for c := 4.7; c <= 10000; c *= 1.07 {
			limit, ok := tableB.limit(c, v)
			if !ok || limit > last*(1+1e-12) {
				t.Fatalf("%v µF %v V: %v after %v", c, v, limit, last)
			}
			last = limit
		}
	}
}

// As the reading rises the verdict only gets worse.
func TestOrder(t *testing.T) {
	rank := map[string]int{"below-both": 0, "tables-differ": 1, "suspect": 2, "worn": 3}
	last, seen := 0, map[string]bool{}
	for _, reading := range []string{"0.1 Ω", "0.31 Ω", "0.33 Ω", "1.3 Ω", "1.5 Ω", "2.7 Ω", "2.9 Ω", "50 Ω"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "reading", Value: reading}})
		if err != nil {
			t.Fatal(err)
		}
		o, _ := r.Output("verdict")
		n, ok := rank[o.Word]
		if !ok || n < last {
			t.Errorf("%s: %s", reading, o.Word)
		}
		last, seen[o.Word] = n, true
	}
	if len(seen) != 4 {
		t.Errorf("saw only %v", seen)
	}
}

// CAPA-019: the trap is named where tan δ and a meter of 100 kHz meet, with the
// figure that the formula would give.
func TestTanDeltaTrap(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "capacitor", Value: "220 µF"}, {Name: "tan-delta", Value: "0.1"}})
	if err != nil {
		t.Fatal(err)
	}
	if notes := strings.Join(r.Notes, " "); !strings.Contains(notes, "723 µΩ") || !strings.Contains(notes, "does not scale") {
		t.Error(notes)
	}
	if o, _ := r.Output("verdict"); strings.HasSuffix(o.Word, "sheet") {
		t.Errorf("judged by tan δ at 100 kHz: %s", o.Text)
	}
	if at := fromTanDelta(0.1, 1e5, 220e-6); math.Abs(at-0.72e-3) > 0.01e-3 {
		t.Errorf("%v", at)
	}
}

// Six volts are not taken for ten in silence, and a reading with its error that
// straddles a limit cannot be told.
func TestSaysSo(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "volts", Value: "6.3 V"}})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(strings.Join(r.Notes, " "), "begin at 10 V") {
		t.Error(r.Notes)
	}
	if r, err = Calculator.Run([]calc.Setting{{Name: "reading", Value: "1.4 Ω ± 10 %"}}); err != nil {
		t.Fatal(err)
	}
	if o, _ := r.Output("verdict"); o.Word != calc.CannotTell {
		t.Error(o.Word)
	}
}

func TestPlot(t *testing.T) {
	for _, c := range []string{"1 µF", "100 µF", "3 mF"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "capacitor", Value: c}})
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%s: %v", c, err)
		}
	}
}
