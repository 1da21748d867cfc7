package plate

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestPlate(t *testing.T) { calctest.Run(t, Calculator) }

// Whichever two are given, the rest come back: every way round the same plate.
func TestRoundTrip(t *testing.T) {
	for volts := 12.0; volts < 500; volts *= 1.7 {
		for amps := 0.01; amps < 30; amps *= 2.3 {
			for factor := 0.1; factor <= 1; factor += 0.18 {
				want := ratings{volts, volts * amps * factor, volts * amps, amps, factor}
				for _, given := range []ratings{
					{volts, want.watts, 0, amps, 0}, {volts, want.watts, want.va, 0, 0}, {volts, want.watts, 0, 0, factor},
					{volts, 0, want.va, 0, factor}, {volts, 0, 0, amps, factor},
				} {
					got := given
					got.fill()
					for _, d := range []float64{got.watts/want.watts - 1, got.va/want.va - 1, got.amps/want.amps - 1, got.factor/want.factor - 1} {
						if math.Abs(d) > 1e-12 {
							t.Fatalf("%+v gives %+v, want %+v", given, got, want)
						}
					}
				}
			}
		}
	}
}

// Amperes of motors by horsepower at an efficiency of 50 % and power factor 1, as in the table of
// an engineers' table, from memory: their input watts over volts.
func TestHorsepowerTable(t *testing.T) {
	for _, row := range []struct{ hp, volts, amps string }{
		{"0.25 hp", "115 V", "3.2"}, {"0.5 hp", "115 V", "6.5"}, {"1 hp", "115 V", "13.0"}, {"2 hp", "230 V", "13.0"}, {"5 hp", "230 V", "32.4"},
	} {
		r, err := Calculator.Run([]calc.Setting{{Name: "volts", Value: row.volts}, {Name: "rating", Value: row.amps + " A"}, {Name: "power-factor", Value: "1"}, {Name: "shaft", Value: row.hp}})
		if err != nil {
			t.Fatal(err)
		}
		o, _ := r.Output("efficiency")
		if math.Abs(o.Value.Num-0.5) > 0.01 {
			t.Errorf("%s at %s: efficiency %s, want 50 %%", row.hp, row.volts, o.Text)
		}
	}
}
