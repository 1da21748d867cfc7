package leads

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestLeadNull(t *testing.T) { calctest.Run(t, Calculator) }

// Whatever two readings a meter inside its data may give, the true resistance lies between
// lowest and highest.
func TestHoldsTruth(t *testing.T) {
	for _, part := range []float64{0.5, 1, 2.1, 9} {
		for _, wires := range []float64{0.05, 0.2, 0.5} {
			for _, gain := range []float64{-0.008, 0, 0.008} {
				for _, a := range []float64{-0.1, 0, 0.1} {
					for _, b := range []float64{-0.1, 0, 0.1} {
						reading := (part+wires)*(1+gain) + a
						shorted := math.Max(0, wires*(1+gain)+b)
						r, err := Calculator.Run([]calc.Setting{{Name: "reading", Value: quantity.Number(reading) + " Ω"}, {Name: "shorted", Value: quantity.Number(shorted) + " Ω"},
							{Name: "percent", Value: "0.82 %"}, {Name: "counts", Value: "1"}, {Name: "step", Value: "0.1 Ω"}})
						if err != nil {
							t.Fatal(err)
						}
						low := 0.0
						if o, ok := r.Output("lowest"); ok {
							low = o.Value.Num
						}
						if high, _ := r.Output("highest"); part < low-1e-9 || part > high.Value.Num+1e-9 {
							t.Fatalf("%v Ω behind %v Ω: %v to %v", part, wires, low, high.Value.Num)
						}
					}
				}
			}
		}
	}
}

// Trust only falls as the part gets smaller.
func TestTrust(t *testing.T) {
	rank, last := map[string]int{"good": 0, "rough": 1, "too-low": 2}, 0
	seen := map[string]bool{}
	for milli := 9000; milli >= 300; milli -= 20 {
		r, err := Calculator.Run([]calc.Setting{{Name: "reading", Value: quantity.Number(float64(milli)/1000) + " Ω"}})
		if err != nil {
			t.Fatal(err)
		}
		o, _ := r.Output("verdict")
		n, ok := rank[o.Word]
		if !ok || n < last {
			t.Fatalf("%d mΩ: %s", milli, o.Word)
		}
		last, seen[o.Word] = n, true
	}
	if len(seen) != 3 {
		t.Errorf("saw %v", seen)
	}
}

// The more the leads add, the less is left; and both together are the reading.
func TestSum(t *testing.T) {
	for _, s := range []float64{0, 0.1, 0.25, 0.5, 1.2} {
		r, err := Calculator.Run([]calc.Setting{{Name: "shorted", Value: quantity.Number(s)}})
		if err != nil {
			t.Fatal(err)
		}
		if o, _ := r.Output("ohms"); math.Abs(o.Value.Num+s-2.4) > 1e-9 {
			t.Errorf("%v and %v", s, o.Value.Num)
		}
	}
}
