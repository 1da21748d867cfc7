package leakage

import (
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestLeakage(t *testing.T) { calctest.Run(t, Calculator) }

// The default is the strictest rule, for touch current 0.5 mA of EN 50678 and EN 50699.
func TestDefault(t *testing.T) {
	r, err := Calculator.Run(nil)
	if err != nil {
		t.Fatal(err)
	}
	if o, _ := r.Output("limit"); o.Value.Num != 0.5e-3 {
		t.Errorf("limit %v", o.Value.Num)
	}
}

// Limits never fall with power, lie between 0.25 and 10 mA, and the strictest is not above any other.
func TestLimits(t *testing.T) {
	for _, path := range []string{"touch", "earth"} {
		for _, class := range []string{"i", "ii", "iii"} {
			for _, device := range []string{"portable", "motor", "heating", "tool", "lamp", "it"} {
				if path == "earth" && class != "i" {
					continue
				}
				last := rules(path, class, device, 1)
				for p := 100.0; p <= 15000; p += 100 {
					now := rules(path, class, device, p)
					for i, r := range now {
						if r.Limit < last[i].Limit || r.Limit < 0.25e-3 || r.Limit > 10e-3 {
							t.Fatalf("%s %s %s %v W: %+v", path, class, device, p, r)
						}
					}
					last = now
				}
			}
		}
	}
}

// Turning the plug changes nothing, and a higher reading never passes where a lower one failed.
func TestHigherCounts(t *testing.T) {
	run := func(a, b string) string {
		r, err := Calculator.Run([]calc.Setting{{Name: "reading", Value: a}, {Name: "reversed", Value: b}})
		if err != nil {
			t.Fatal(err)
		}
		o, _ := r.Output("verdict")
		return o.Word
	}
	if run("0.1 mA", "0.7 mA") != "fails" || run("0.7 mA", "0.1 mA") != "fails" {
		t.Error("the higher reading does not count")
	}
	failed := false
	for micro := 50; micro <= 1000; micro += 50 {
		now := run(quantity.Number(float64(micro))+" µA", "0 A") == "fails"
		if failed && !now {
			t.Fatalf("%d µA passes again", micro)
		}
		failed = now
	}
	if !failed {
		t.Error("1 mA passes")
	}
}
