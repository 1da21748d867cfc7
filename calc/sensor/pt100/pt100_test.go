package pt100

import (
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
