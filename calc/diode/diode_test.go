package diode

import (
	"math"
	"testing"
)

// Each model at the point for which it is known. A mutation of any constant shows here, whichever
// rooms use it.
func TestModels(t *testing.T) {
	for _, c := range []struct {
		kind            string
		amps, celsius   float64
		volts, within   float64
		source          string
		slope, slopeOff float64 // mV/K
	}{
		{"rectifier", 1, 27, 0.9615, 1e-4, "1.984·kT/q·ln(1 + 1 A/14.11 nA) + 33.89 mV, the diode equation worked by hand", -0.87, .05},
		{"rectifier", 10e-3, 27, 0.6913, 1e-3, "the same at 10 mA: 0.05131·13.47", -1.6, .2},
		{"small-signal", 1e-3, 27, 0.6535, 1e-3, "1.65·25.865 mV·ln(4.505e6) worked by hand", -1.7, .3},
		{"transistor", 10e-6, 25, 0.540, 2e-3, "published operating point, 0.540 V at 10 µA and 25 °C", -2.2, .1},
		{"schottky", 1, 27, 0.4189, 1e-3, "1.373·25.865 mV·ln(1 + 1/31.7 µA) + 51 mV worked by hand", -1.2, .3},
		{"schottky", 1e-3, 27, 0.1240, 2e-3, "a meter's diode range at 1 mA shows 0.12 to 0.13 V on 1 A types (from memory)", -1.6, .4},
		{"germanium", 1e-3, 25, 0.30, .05, "germanium shows 0.2 to 0.3 V in a meter's diode range (from memory), and 68 mV in its series resistance", -1.6, .6},
	} {
		m := Models[c.kind]
		if got := m.Volts(c.amps, c.celsius); math.Abs(got-c.volts) > c.within {
			t.Errorf("%s at %v A, %v °C: %v V, want %v (%s)", c.kind, c.amps, c.celsius, got, c.volts, c.source)
		}
		if got := 1e3 * m.Slope(c.amps, c.celsius); math.Abs(got-c.slope) > c.slopeOff {
			t.Errorf("%s at %v A, %v °C: %v mV/K, want about %v", c.kind, c.amps, c.celsius, got, c.slope)
		}
	}
	if m := Models["rectifier"]; math.Abs(m.Saturation(Nominal)/m.Is-1) > 1e-12 {
		t.Error("a model is stated at 27 °C")
	}
}

// The closed forms are the derivatives of the volts.
func TestDerivatives(t *testing.T) {
	for kind, m := range Models {
		for _, i := range []float64{1e-6, 1e-3, .1} {
			for _, c := range []float64{-20, 27, 80} {
				if d := (m.Volts(i, c+.01) - m.Volts(i, c-.01)) / .02; math.Abs(d-m.Slope(i, c)) > 1e-7 {
					t.Errorf("%s: slope %v, by differences %v", kind, m.Slope(i, c), d)
				}
				if d := (m.Volts(i*1.0001, c) - m.Volts(i*.9999, c)) / (i * .0002); math.Abs(d/m.Differential(i, c)-1) > 1e-6 {
					t.Errorf("%s: %v Ω, by differences %v", kind, m.Differential(i, c), d)
				}
			}
		}
	}
}
