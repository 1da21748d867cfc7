package mark

import (
	"math"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/passive"
	"faultleaf/calc/quantity"
)

func TestMark(t *testing.T) { calctest.Run(t, Calculator) }

// What same writes for a value reads back as that value, in each code.
func TestRoundTrip(t *testing.T) {
	count := 0
	for _, size := range []int{24, 96, 192} {
		for _, digits := range passive.Series(size) {
			for decade := -2; decade <= 10; decade++ {
				want := passive.Amount(digits, decade)
				word, _ := same(want)
				for _, code := range strings.Split(word, "-") {
					found := false
					for _, r := range read(code, quantity.Resistance) {
						found = found || math.Abs(r.value-want) <= 1e-12*want
					}
					if !found {
						t.Fatalf("%v is written %s and reads as %v", want, code, read(code, quantity.Resistance))
					}
					count++
				}
			}
		}
	}
	if count < 8000 {
		t.Errorf("only %d codes tried", count)
	}
}

// Capacitor codes rise with their last digit, and the tolerance holds the value.
func TestCapacitorCodes(t *testing.T) {
	last := 0.0
	for _, code := range []string{"478", "479", "470", "471", "472", "473", "474", "475", "476"} {
		list := read(code, quantity.Capacitance)
		if len(list) == 0 || list[0].value <= last {
			t.Fatalf("%s: %v after %v", code, list, last)
		}
		last = list[0].value
		for _, letter := range []string{"B", "C", "D", "F", "G", "H", "J", "K", "M", "N", "P", "Q", "S", "T", "Z"} {
			r := read(code+letter, quantity.Capacitance)
			if code >= "475" && code <= "476" && strings.Contains("BCD", letter) && len(r) == 1 && r[0].volts == tantalVolts[letter] {
				continue // a tantalum's volts
			}
			if len(r) == 0 || r[0].value != last || r[0].low > last || r[0].high <= last || r[0].low < 0 {
				t.Errorf("%s%s: %+v", code, letter, r)
			}
		}
	}
}

func TestAmbiguous(t *testing.T) {
	for _, try := range []struct {
		mark, part, word string
	}{
		{"220", "resistor", "no"}, {"221", "resistor", "yes"}, {"1000", "resistor", "no"}, {"10R", "resistor", "no"}, {"100R", "resistor", "yes"}, {"4K7", "resistor", "yes"},
		{"47H", "resistor", "yes"}, {"103J", "resistor", "yes"}, {"220G", "resistor", "yes"}, {"4m7", "resistor", "no"}, {"220", "capacitor", "no"}, {"104", "capacitor", "yes"},
		{"10nF", "capacitor", "yes"}, {"01R", "resistor", "yes"}, {"12R", "resistor", "no"}, {"22E", "resistor", "no"}, {"4E7", "resistor", "yes"}, {"107C", "capacitor", "yes"}, {"R47", "capacitor", "no"}, {"2.2", "capacitor", "no"}, {"0.22", "capacitor", "yes"}, {"47N", "capacitor", "yes"},
	} {
		r, err := Calculator.Run([]calc.Setting{{Name: "mark", Value: try.mark}, {Name: "part", Value: try.part}})
		if err != nil {
			t.Errorf("%s: %v", try.mark, err)
			continue
		}
		if o, _ := r.Output("certain"); o.Word != try.word {
			t.Errorf("%s on a %s: %s", try.mark, try.part, o.Text)
		}
	}
}

func FuzzMark(f *testing.F) {
	for _, s := range []string{"4K7", "220", "68R", "2A104J", "105K 330V", "0.1", "4n7", "10nF", "µ47", "R", "9999", "9G9", "0R0", "٣k", "3A999Z", "1e9", "±"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, part := range []string{"resistor", "capacitor"} {
			r, err := Calculator.Run([]calc.Setting{{Name: "mark", Value: text}, {Name: "part", Value: part}})
			if err != nil {
				if bad, ok := err.(*calc.InputError); !ok || bad.Says == "" {
					t.Fatalf("%q: %v", text, err)
				}
				continue
			}
			for _, o := range r.Outputs {
				if o.Text == "" || o.Value.Kind != "" && (!o.Value.Finite() || o.Value.Num < 0) {
					t.Fatalf("%q: %s is %v %q", text, o.Name, o.Value, o.Text)
				}
			}
		}
	})
}
