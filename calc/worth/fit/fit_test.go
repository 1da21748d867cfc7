package fit

import (
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestFit(t *testing.T) { calctest.Run(t, Calculator) }

// A part fits itself, whatever kind it is, once all that matters is known.
func TestItself(t *testing.T) {
	marks := map[string]string{"value": "10 Ω", "current": "2 A", "volts": "250 V", "power": "1 W", "temperature": "105 °C", "breaking": "1500 A", "area": "0.75 mm²", "class": "X2"}
	for _, name := range order {
		set := []calc.Setting{{Name: "part", Value: name}}
		for _, r := range kinds[name].rules {
			set = append(set, calc.Setting{Name: r.rating + "-old", Value: marks[r.rating]}, calc.Setting{Name: r.rating + "-new", Value: marks[r.rating]})
		}
		r, err := Calculator.Run(set)
		if err != nil {
			t.Fatal(err)
		}
		if v, _ := r.Output("verdict"); v.Word != "fits" {
			t.Errorf("%s: %s", name, v.Text)
		}
	}
}

// Nothing known is never a fit.
func TestNothingKnown(t *testing.T) {
	for _, name := range order {
		r, err := Calculator.Run([]calc.Setting{{Name: "part", Value: name}})
		if err != nil {
			t.Fatal(err)
		}
		if v, _ := r.Output("verdict"); v.Word != "not-known" {
			t.Errorf("%s: %s", name, v.Text)
		}
		must := false
		for _, x := range kinds[name].rules {
			must = must || x.must
		}
		if !must {
			t.Errorf("%s asks for nothing", name)
		}
	}
}

// No fuse above the mark fits, whatever else it is.
func TestNeverAbove(t *testing.T) {
	for _, amps := range []string{"2.1 A", "2.5 A", "3.15 A", "10 A"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "current-old", Value: "2 A"}, {Name: "current-new", Value: amps}, {Name: "volts-old", Value: "250 V"}, {Name: "volts-new", Value: "500 V"},
			{Name: "breaking-old", Value: "35 A"}, {Name: "breaking-new", Value: "1500 A"}, {Name: "class-old", Value: "F"}, {Name: "class-new", Value: "F"}})
		if err != nil {
			t.Fatal(err)
		}
		if v, _ := r.Output("verdict"); v.Word != "does-not-fit" {
			t.Errorf("%s: %s", amps, v.Text)
		}
	}
}

// Each class serves for itself; a chain of replacements never ends in one that does not serve
// for the first; no X ever serves for a Y.
func TestClasses(t *testing.T) {
	for a := range surge {
		if !sameClass("x-y", a, a) {
			t.Errorf("%s does not serve for itself", a)
		}
		for b := range surge {
			if a[0] == 'Y' && b[0] == 'X' && sameClass("x-y", a, b) {
				t.Errorf("%s serves for %s", b, a)
			}
			for c := range surge {
				if sameClass("x-y", a, b) && sameClass("x-y", b, c) && !sameClass("x-y", a, c) {
					t.Errorf("%s by %s by %s", a, b, c)
				}
			}
		}
	}
}

func FuzzClasses(f *testing.F) {
	for _, s := range []string{"X2", "x1/y2", "X1 Y2", "", "/", "Y5", "X2/"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, c := range readClasses(s) {
			if _, known := surge[c]; !known {
				t.Fatalf("%q read as %q", s, c)
			}
		}
	})
}
