package gate

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestGate(t *testing.T) { calctest.Run(t, Calculator) }

// With more current neither time grows, the earliest is below the latest, and both are the
// table's own at its gates.
func TestBounds(t *testing.T) {
	for _, f := range families {
		for _, r := range f.rows {
			lastE, lastL := math.Inf(1), math.Inf(1)
			for m := 0.5; m < 20; m += 0.01 {
				e, l := bounds(r.gates, m)
				if e > lastE || l > lastL {
					t.Fatalf("%s from %v A: at %v times %v to %v s, before %v to %v s", f.name, r.from, m, e, l, lastE, lastL)
				}
				if e >= l {
					t.Fatalf("%s from %v A: at %v times not before %v s, but by %v s", f.name, r.from, m, e, l)
				}
				lastE, lastL = e, l
			}
			for _, g := range r.gates {
				if e, l := bounds(r.gates, g.multiple); e < g.least || g.least > 0 && e != g.least || l != g.most {
					t.Errorf("%s from %v A at its gate of %v times: %v to %v s, the table says %v to %v s", f.name, r.from, g.multiple, e, l, g.least, g.most)
				}
			}
		}
	}
}

// The standards contradict each other just between UL's 1.35 and IEC's 1.5 times, and
// 2 A H in amperes is the same as in multiples.
func TestContradiction(t *testing.T) {
	for m, want := range map[string]string{"1": "overlap", "1.3": "overlap", "1.35": "contradict", "1.45": "contradict", "1.5": "contradict", "1.55": "overlap", "2.1": "overlap", "10": "overlap"} {
		for _, std := range []string{"t-high", "ul-quick"} {
			r, err := Calculator.Run([]calc.Setting{{Name: "standard", Value: std}, {Name: "current", Value: m}})
			if err != nil {
				t.Fatal(err)
			}
			if o, _ := r.Output("standards"); o.Word != want {
				t.Errorf("%s times: %s, %s", m, o.Word, o.Text)
			}
		}
	}
	a, err := Calculator.Run([]calc.Setting{{Name: "current", Value: "5.5 A"}})
	if err != nil {
		t.Fatal(err)
	}
	b, err := Calculator.Run([]calc.Setting{{Name: "current", Value: "275 %"}})
	if err != nil {
		t.Fatal(err)
	}
	for i := range a.Outputs {
		if a.Outputs[i].Text != b.Outputs[i].Text {
			t.Errorf("%s: %s against %s", a.Outputs[i].Name, a.Outputs[i].Text, b.Outputs[i].Text)
		}
	}
}

func TestPlot(t *testing.T) {
	for _, f := range families {
		r, err := Calculator.Run([]calc.Setting{{Name: "standard", Value: f.name}})
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%s: %v", f.name, err)
		}
	}
}
