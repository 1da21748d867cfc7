package supply

import "testing"

func TestRegulation(t *testing.T) {
	for _, c := range []struct {
		va, published float64
		source        string
	}{
		{7, 9.0/7 - 1, "PTC7 toroidal transformer, data sheet of 7 VA: 7 V loaded, 9 V off load"},
		{7, 23.6/18 - 1, "the same: 18 V loaded, 23.6 V off load"},
		{7, 28.3/22 - 1, "the same: 22 V loaded, 28.3 V off load"},
		{5, 0.20, "energy-monitor forum on a 9 V adapter (openenergymonitor): 20 % is typical; size from memory"},
		{1.5, 0.57, "question on wall adapters (trade practice): a 9 V transformer with 57 %; size from memory"},
	} {
		low, likely, high := Regulation(c.va)
		if low > likely || likely > high || c.published < low || c.published > high {
			t.Errorf("%v VA: %v is outside %v to %v (%s)", c.va, c.published, low, high, c.source)
		}
	}
	// AC wall adapters, say 4 to 25 VA: 12 to 34 % (trade practice, wall transformers)
	if low, _, _ := Regulation(25); low > 0.12 {
		t.Errorf("25 VA is never below %v", low)
	}
	if _, _, high := Regulation(4); high < 0.34 {
		t.Errorf("4 VA is never above %v", high)
	}
	last := 1e9
	for va := 0.5; va < 5000; va *= 1.5 {
		_, r, _ := Regulation(va)
		if r >= last || r <= 0 {
			t.Errorf("%v VA: %v after %v", va, r, last)
		}
		last = r
	}
}

// The share of a step at which the stages of the reservoir's solver lie makes it exact to second order: the root below
// one of γ² − 2γ + 1/2, for which the square term of the exponential comes out right.
func TestStages(t *testing.T) {
	if rest := gamma*gamma - 2*gamma + .5; rest > 1e-12 || rest < -1e-12 || gamma >= 1 {
		t.Errorf("γ is %v", gamma)
	}
}
