package hum

import (
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestHum(t *testing.T) { calctest.Run(t, Calculator) }

// Every combination of answers points somewhere and says what to do next.
func TestEveryAnswer(t *testing.T) {
	for _, pitch := range []string{"30 Hz", "50 Hz", "100 Hz", "150 Hz", "430 Hz"} {
		for _, volume := range []string{"no", "yes"} {
			for _, shorted := range []string{"stays", "goes"} {
				r, err := Calculator.Run([]calc.Setting{{Name: "pitch", Value: pitch}, {Name: "volume", Value: volume}, {Name: "shorted", Value: shorted}})
				if err != nil {
					t.Fatal(err)
				}
				for _, name := range []string{"points-to", "next", "pitch-is"} {
					if o, ok := r.Output(name); !ok || o.Text == "" {
						t.Errorf("%s %s %s: no %s", pitch, volume, shorted, name)
					}
				}
			}
		}
	}
}

func TestOrder(t *testing.T) {
	for n := 1; n <= 7; n++ {
		if got := order(50*float64(n), 50); got != n {
			t.Errorf("%d times the mains is taken as %d", n, got)
		}
	}
	if order(75, 50) != 0 || order(20, 50) != 0 {
		t.Error("a foreign pitch is taken for the mains")
	}
}
