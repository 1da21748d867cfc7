package thermocouple

import (
	"math"
	"testing"

	"faultleaf/calc/calctest"
)

func TestThermocouple(t *testing.T) { calctest.Run(t, Calculator) }

// The pieces of each type meet to the last microvolt, which a wrong digit in a
// coefficient would not.
func TestPiecesMeet(t *testing.T) {
	for kind, pieces := range tables {
		for i := 1; i < len(pieces); i++ {
			at := pieces[i].from
			below, above := millivolts(kind, math.Nextafter(at, -300)), millivolts(kind, at)
			if math.Abs(below-above) > 2e-4 {
				t.Errorf("type %s at %v °C: %v and %v mV", kind, at, below, above)
			}
			slope := func(x float64) float64 { return (millivolts(kind, x+.5) - millivolts(kind, x-.5)) }
			if d := math.Abs(slope(at-.6) - slope(at+.6)); d > 2e-3 {
				t.Errorf("type %s bends by %v mV/K at %v °C", kind, d, at)
			}
		}
	}
}

// Millivolts only rise, and the two directions are inverse.
func TestInverse(t *testing.T) {
	for kind := range tables {
		low, high := bounds(kind)
		before := math.Inf(-1)
		for x := low + 10; x <= high; x += 9.7 {
			e := millivolts(kind, x)
			if e <= before {
				t.Fatalf("type %s falls at %v °C", kind, x)
			}
			before = e
			if back, ok := temperature(kind, e); !ok || math.Abs(back-x) > 1e-6 {
				t.Errorf("type %s: %v °C comes back as %v", kind, x, back)
			}
		}
	}
}

// SENS-030: three-figure coefficients, as one web page prints them, are 0.19 mV off.
func TestShortTableMisleads(t *testing.T) {
	short := []float64{-1.76e-2, 3.89e-2, 1.86e-5, -9.95e-8, 3.18e-10, -5.61e-13, 5.61e-16, -3.20e-19, 9.72e-23, -1.21e-26}
	sum := 0.0
	for i := len(short) - 1; i >= 0; i-- {
		sum = sum*1000 + short[i]
	}
	sum += gauss0 * math.Exp(gauss1*(1000-gauss2)*(1000-gauss2))
	if math.Abs(sum-41.08) > .01 {
		t.Errorf("%v mV", sum)
	}
}
