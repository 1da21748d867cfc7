package verdict

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/supply"
)

func TestWindingVerdict(t *testing.T) { calctest.Run(t, Calculator) }

func run1(t *testing.T, pairs ...string) calc.Result {
	t.Helper()
	var set []calc.Setting
	for n := 0; n < len(pairs); n += 2 {
		set = append(set, calc.Setting{Name: pairs[n], Value: pairs[n+1]})
	}
	r, err := Calculator.Run(set)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// No reading, size or voltage makes it say "good" but to deny it.
func TestNeverGood(t *testing.T) {
	for _, ohms := range []string{"OL", "0.3", "1.0", "10", "38", "200", "1k", "20k", "2M", "38 ± 50 %"} {
		for _, size := range []string{"", "3 VA", "50 VA", "1000 VA"} {
			v, _ := run1(t, "ohms", ohms, "volts", "230 V", "size", size).Output("verdict")
			if says := strings.ReplaceAll(strings.ReplaceAll(v.Text, "does not make it good", ""), "would not make it good", ""); strings.Contains(says, "good") && !strings.Contains(says, "as good as") {
				t.Errorf("%s, %s: %s", ohms, size, v.Text)
			}
			if v.Word == "" || v.Word == "good" {
				t.Errorf("%s, %s: %q", ohms, size, v.Word)
			}
		}
	}
}

// Every way to write no end is open.
func TestOpenWords(t *testing.T) {
	for _, text := range []string{"OL on 2 MΩ", "o.l (20 MΩ)", "0L @ 2M", "> 20 MΩ", "over 2 MΩ"} {
		if v, _ := run1(t, "ohms", text).Output("verdict"); v.Word != "open" {
			t.Errorf("%q is %q", text, v.Word)
		}
	}
	// on a range that is not known OL may be a winding of some kilohms, and a beep any below the meter's threshold
	for _, text := range []string{"OL", "1 .", "∞", "open", "OL on 200 Ω", "beep"} {
		if v, _ := run1(t, "ohms", text, "volts", "230 V", "size", "3 VA").Output("verdict"); v.Word != calc.CannotTell || !strings.Contains(v.Text, "OL on") && !strings.Contains(v.Text, "read") {
			t.Errorf("%q is %q: %s", text, v.Word, v.Text)
		}
	}
	for _, text := range []string{"OL", "1 .", "OL on 200 Ω"} { // a large one is far below 200 Ω
		if v, _ := run1(t, "ohms", text, "volts", "12 V", "size", "300 VA").Output("verdict"); v.Word != "open" {
			t.Errorf("%q is %q: %s", text, v.Word, v.Text)
		}
	}
	for _, text := range []string{"good", "12 V", "-3 Ω", "12 13", "OLOL", "1", "1."} {
		if _, err := Calculator.Run([]calc.Setting{{Name: "ohms", Value: text}}); err == nil {
			t.Errorf("%q is read", text)
		}
	}
}

// As the ohms climb the verdict goes once through its words, never back.
func TestOrder(t *testing.T) {
	order := map[string]int{"near-short": 0, "not-open-low": 1, "not-open-plausible": 2, "not-open-high": 3, "open": 4}
	last, seen := -1, map[int]bool{}
	for ohms := .25; ohms < 1e7; ohms *= 1.1 {
		v, _ := run1(t, "ohms", fmt.Sprint(ohms), "volts", "230 V", "size", "20 VA").Output("verdict")
		at, ok := order[v.Word]
		if !ok || at < last {
			t.Errorf("%v Ω: %q after step %d", ohms, v.Word, last)
		}
		last, seen[at] = at, true
	}
	if len(seen) != len(order) {
		t.Errorf("only steps %v were seen", seen)
	}
}

// A larger transformer has fewer ohms, a winding for more volts has more; and the
// window always holds what the middle law gives.
func TestMonotone(t *testing.T) {
	was := math.Inf(1)
	for va := 1.0; va < 4000; va *= 2 {
		low, high := supply.Winding(230, va)
		if low >= was || low >= high {
			t.Errorf("%v VA: %v to %v after %v", va, low, high, was)
		}
		was = low
		if l, h := supply.Winding(115, va); math.Abs(l*4/low-1) > 1e-9 || math.Abs(h*4/high-1) > 1e-9 {
			t.Errorf("%v VA: half the volts are not a quarter of the ohms", va)
		}
	}
}

// A tolerance across a limit cannot tell.
func TestTolerance(t *testing.T) {
	_, high := supply.Winding(230, 100)
	if v, _ := run1(t, "ohms", fmt.Sprintf("%.4g Ω ± 10 %%", high), "volts", "230 V", "size", "100 VA").Output("verdict"); v.Word != calc.CannotTell {
		t.Errorf("%q: %s", v.Word, v.Text)
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"38 Ω", "OL", "1k2", "0,5", "∞", "1 . ", "12±3", "OL Ω", "4–5 Ω"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if _, err := Calculator.Run([]calc.Setting{{Name: "ohms", Value: s}}); err != nil {
			if _, ok := err.(*calc.InputError); !ok {
				t.Errorf("%q: %v", s, err)
			}
		}
	})
}
