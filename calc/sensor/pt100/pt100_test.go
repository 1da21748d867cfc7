package pt100

import (
	"faultleaf/calc"
	"math"
	"testing"

	"faultleaf/calc/calctest"
)

func TestPt100(t *testing.T) { calctest.Run(t, Calculator) }

// The two directions are inverse, and the curve only rises.
func TestInverse(t *testing.T) {
	before := 0.0
	for x := lowest; x <= highest; x += 7.3 {
		r := ratio(x)
		if r <= before {
			t.Fatalf("%v °C reads no higher than the step before", x)
		}
		before = r
		if back := temperature(r); math.Abs(back-x) > 1e-8 {
			t.Errorf("%v °C comes back as %v", x, back)
		}
	}
}

// The table prints two decimals, and so does the page.
func TestDigits(t *testing.T) {
	for reading, want := range map[string]string{"850 °C": "390.48 Ω", "100 °C": "138.51 Ω", "-200 °C": "18.520 Ω"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "reading", Value: reading}})
		if err != nil {
			t.Fatal(err)
		}
		if o, _ := r.Output("resistance"); o.Text != want {
			t.Errorf("%s prints %s, want %s", reading, o.Text, want)
		}
	}
}
