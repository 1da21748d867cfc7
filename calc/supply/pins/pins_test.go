package pins

import (
	"testing"
	"unicode/utf8"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestPins(t *testing.T) { calctest.Run(t, Calculator) }

// Ohms from service manuals lie in the range of their kind. The watts are from memory: manuals seldom state both.
func TestServiceManuals(t *testing.T) {
	for _, c := range []struct {
		kind              string
		volts, watts      float64
		readLow, readHigh float64
		source            string
	}{
		{"shaded-pole", 120, 40, 37, 37, "service manual LG LRE3085ST, convection motor"},
		{"shaded-pole", 120, 40, 40, 40, "EEVblog forum, convection fan motor of an oven held right"},
		{"capacitor-motor", 120, 70, 44, 54, "service manual Whirlpool WDF518, wash pump, high coil"},
		{"capacitor-motor", 120, 700, 1, 2, "service manual Speed Queen SLW570, running windings"},
		{"transformer", 230, 1200, 1, 1, "service manual Daewoo KOR-63B5, primary"},
	} {
		low, high, ok := share(c.kind, c.watts)
		rated := c.volts * c.volts / c.watts
		if !ok || c.readLow < low*rated || c.readHigh > high*rated {
			t.Errorf("%s %v W: %v to %v Ω is outside %v to %v (%s)", c.kind, c.watts, c.readLow, c.readHigh, low*rated, high*rated, c.source)
		}
	}
	// primaries of tens of ohms where large, several hundred where small (mikroe textbook); sizes from memory
	for _, c := range []struct{ va, holds, not float64 }{{100, 30, 300}, {20, 300, 30}} {
		low, high, _ := share("transformer", c.va)
		if rated := 230 * 230 / c.va; low*rated > c.holds || high*rated < c.holds || low*rated <= c.not && c.not <= high*rated {
			t.Errorf("%v VA: %v to %v Ω", c.va, low*rated, high*rated)
		}
	}
	// a vacuum cleaner of 1000 to 1250 W reads 20 Ω or less (trade practice)
	for _, watts := range []float64{1000, 1250} {
		if _, high, _ := share("universal-motor", watts); high*230*230/watts > 20 {
			t.Errorf("%v W: up to %v Ω", watts, high*230*230/watts)
		}
	}
	// a convection motor below 5 Ω is shorted by the same LG manual: ours must not pass it
	if low, _, _ := share("shaded-pole", 40); low*360 < 5 {
		t.Errorf("shaded pole from %v Ω", low*360)
	}
}

// Motors and transformers read far below V²/P, at any size.
func TestFarBelow(t *testing.T) {
	for _, kind := range []string{"transformer", "universal-motor", "shaded-pole", "capacitor-motor", "filament"} {
		for watts := 3.0; watts < 20000; watts *= 1.4 {
			low, high, ok := share(kind, watts)
			if !ok || low <= 0 || low >= high || high > 0.5 {
				t.Errorf("%s %v W: %v to %v", kind, watts, low, high)
			}
		}
	}
}

// As the reading rises the verdict passes from short over low, as expected and high to open, never back.
func TestOrder(t *testing.T) {
	rank := map[string]int{"short": 0, "low": 1, "as-expected": 2, "high": 3, "open": 4}
	for _, ch := range Calculator.Inputs[0].Choices {
		last, seen := 0, map[string]bool{}
		for ohms := 1e-3; ohms < 1e9; ohms *= 1.2 {
			low, high, ok := share(ch.Name, 200)
			short := electronicsShort
			if ok {
				low, high = low*264.5, high*264.5
				short = low / 10
			}
			w, _ := judge(ch.Name, ohms, low, high, short)
			n, known := rank[w]
			if !known || n < last {
				t.Fatalf("%s: %v Ω is %s", ch.Name, ohms, w)
			}
			last, seen[w] = n, true
		}
		if len(seen) < 3 {
			t.Errorf("%s: only %v", ch.Name, seen)
		}
	}
}

func FuzzReading(f *testing.F) {
	for _, s := range []string{"OL", "25.9 Ω", "0,3", "1k2", "∞", "1", "-5 Ω", "22 Ω ± 3 %"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r, err := Calculator.Run([]calc.Setting{{Name: "reading", Value: s}})
		if err != nil {
			if bad, ok := err.(*calc.InputError); !ok || bad.Input != "reading" || !utf8.ValidString(bad.Says) {
				t.Fatalf("%q: %v", s, err)
			}
			return
		}
		for _, o := range r.Outputs {
			if o.Value.Kind == quantity.Resistance && !o.Value.Finite() {
				t.Fatalf("%q: %v", s, o)
			}
		}
	})
}
