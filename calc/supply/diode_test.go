package supply

import (
	"math"
	"testing"
)

// Volts and amperes of a path are inverse, over all that flows at a bench.
func TestPathInverse(t *testing.T) {
	for name := range Diodes {
		for _, ohms := range []float64{1e-3, .5, 20, 1e4} {
			p := PathOf(name, 2, ohms)
			for i := 1e-6; i < 500; i *= 1.9 {
				if back := p.Amps(p.Volts(i)); math.Abs(back/i-1) > 1e-7 {
					t.Errorf("%s, %v Ω: %v A comes back as %v", name, ohms, i, back)
				}
			}
		}
	}
	if PathOf("silicon", 1, 1).Amps(-5) != 0 {
		t.Error("a diode must not conduct backwards")
	}
}

// The silicon model is the one of the check netlists: at 1 A about 0.95 V, by
// ngspice's own diode equation N*Vt*ln(1+I/IS) + RS*I.
func TestSilicon(t *testing.T) {
	want := 1.984*Thermal*math.Log(1/14.11e-9+1) + .03389
	if got := PathOf("silicon", 1, 0).Volts(1); math.Abs(got-want) > 1e-12 {
		t.Errorf("%v V, want %v", got, want)
	}
}
