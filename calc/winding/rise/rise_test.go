package rise

import (
	"math"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestWindingRise(t *testing.T) { calctest.Run(t, Calculator) }

// IEC 60085 as tabulated by Croylek and Datsan (XFMR-008, XFMR-009).
func TestClassLetters(t *testing.T) {
	for number, letter := range map[string]string{"90": "Y", "105": "A", "120": "E", "130": "B", "155": "F", "180": "H", "200": "N", "220": "R"} {
		found := false
		for _, c := range classes {
			found = found || c.Name == number && strings.Contains(c.Label, "("+letter+" in IEC 60085)")
		}
		if !found {
			t.Errorf("class %s is not labelled %s", number, letter)
		}
	}
}

// Temperature and resistance are inverse to each other, and monotone.
func TestInverse(t *testing.T) {
	for _, k := range []float64{234.5, 225} {
		last := 0.0
		for at := -40.0; at <= 250; at += 7.3 {
			r := resistance(35.2, 22, at, k)
			if r <= last {
				t.Fatalf("resistance does not rise at %v", at)
			}
			last = r
			if back := temperature(35.2, 22, r, k); math.Abs(back-at) > 1e-9 {
				t.Errorf("%v °C comes back as %v", at, back)
			}
		}
	}
}

// A tolerance of the readings gives a range that holds the middle, and a limit
// inside it gives "cannot tell".
func TestTolerance(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "cold-resistance", Value: "35.2 Ω"}, {Name: "hot-resistance", Value: "46.1 Ω ± 5 %"}, {Name: "class", Value: "105"}})
	if err != nil {
		t.Fatal(err)
	}
	v, _ := r.Output("winding-temperature")
	if v.Value.Low >= v.Value.Num || v.Value.High <= v.Value.Num {
		t.Errorf("%+v", v.Value)
	}
	if w, _ := r.Output("verdict"); w.Word != calc.CannotTell {
		t.Errorf("verdict %q: %s", w.Word, w.Text)
	}
}

func TestPlot(t *testing.T) {
	for _, class := range []string{"none", "130"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "class", Value: class}})
		if err != nil {
			t.Fatal(err)
		}
		svg, err := Calculator.Draw(Calculator.Plots[0], r.In())
		if err != nil || strings.Contains(svg, "limit<") != (class == "130") {
			t.Errorf("class %s: %v\n%s", class, err, svg)
		}
	}
}
