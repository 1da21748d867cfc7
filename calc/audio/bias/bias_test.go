package bias

import (
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestBias(t *testing.T) { calctest.Run(t, Calculator) }

// Reading back the volts that are wanted gives the wanted current, at either
// place of the clips.
func TestInverse(t *testing.T) {
	for _, across := range []string{"one", "both"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "across", Value: across}, {Name: "wanted", Value: "35 mA"}})
		if err != nil {
			t.Fatal(err)
		}
		v, _ := r.Output("wanted-volts")
		if got := current(v.Value.Num, .22, across == "both"); got < .0349 || got > .0351 {
			t.Errorf("%s: %v A", across, got)
		}
	}
}

// A tolerance that straddles the maker's band cannot tell.
func TestTolerance(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "volts", Value: "4 mV ± 1 mV"}, {Name: "wanted", Value: "20 mA"}})
	if err != nil {
		t.Fatal(err)
	}
	if v, _ := r.Output("verdict"); v.Word != calc.CannotTell {
		t.Errorf("%s", v.Word)
	}
}
