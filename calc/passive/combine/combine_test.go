package combine

import (
	"math"
	"math/rand/v2"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/passive"
	"faultleaf/calc/quantity"
)

func TestCombine(t *testing.T) { calctest.Run(t, Calculator) }

// A sum exceeds its largest part, a reciprocal sum stays below its smallest, and
// the order of the parts does not matter.
func TestBounds(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		var values []float64
		low, high := math.Inf(1), 0.0
		for range 2 + rnd.IntN(5) {
			v := math.Pow(10, 8*rnd.Float64()-3)
			values = append(values, v)
			low, high = math.Min(low, v), math.Max(high, v)
		}
		s, r := sum(values), reciprocal(values)
		turned := append(append([]float64{}, values[1:]...), values[0])
		if s <= high || r >= low || math.Abs(sum(turned)-s) > 1e-12*s || math.Abs(reciprocal(turned)-r) > 1e-12*r {
			t.Fatalf("%v: %v, %v", values, s, r)
		}
		for _, adding := range []bool{true, false} {
			if share := largestShare(values, adding); share < 1/float64(len(values))-1e-12 || share > 1 {
				t.Fatalf("%v: share %v", values, share)
			}
		}
	}
}

// No pair of the series found by trying all is nearer than the one that is given.
func TestBestIsBest(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for _, size := range []int{3, 6, 12, 24} {
		var values []float64
		for decade := -2; decade <= 6; decade++ {
			for _, digits := range passive.Series(size) {
				values = append(values, passive.Amount(digits, decade))
			}
		}
		for range 60 {
			wanted := math.Pow(10, 1+2*rnd.Float64())
			lowest := math.Inf(1)
			for i, a := range values {
				lowest = math.Min(lowest, math.Abs(a-wanted)/wanted)
				for _, b := range values[i:] {
					lowest = math.Min(lowest, math.Min(math.Abs(a+b-wanted), math.Abs(a*b/(a+b)-wanted))/wanted)
				}
			}
			p := best(wanted, size)
			if off := math.Abs(p.value-wanted) / wanted; off > lowest+1e-12 {
				t.Errorf("E%d: %v from %+v is off by %v, possible is %v", size, wanted, p, off, lowest)
			}
		}
	}
}

// A pair that is exact is found again from its value; equal parts win the tie.
func TestTie(t *testing.T) {
	if p := best(20, 12); p.first != 10 || p.second != 10 || !p.adding {
		t.Errorf("20 from E12: %+v", p)
	}
	if p := best(5000, 24); p.first != 3000 || p.second != 2000 {
		t.Errorf("5000 from E24: %+v", p)
	}
	if p := best(4700, 12); p.second != 0 || p.first != 4700 {
		t.Errorf("4700 from E12: %+v", p)
	}
}

// The range from tolerances holds every sample, and its ends are reached.
func TestRange(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "first", Value: "4.7 kΩ ± 5 %"}, {Name: "second", Value: "10 kΩ ± 5 %"}})
	if err != nil {
		t.Fatal(err)
	}
	o, _ := r.Output("resistance")
	nominal := reciprocal([]float64{4700, 10000})
	if math.Abs(o.Value.Low-0.95*nominal) > 1e-6 || math.Abs(o.Value.High-1.05*nominal) > 1e-6 {
		t.Errorf("%v", o.Value)
	}
}

func TestCapacitorsAreTheOtherWayRound(t *testing.T) {
	for _, how := range []string{"series", "parallel"} {
		if adds(quantity.Capacitance, how) == adds(quantity.Resistance, how) || adds(quantity.Inductance, how) != adds(quantity.Resistance, how) {
			t.Error(how)
		}
	}
}

func BenchmarkBest(b *testing.B) {
	for b.Loop() {
		best(4321, 192)
	}
}

// Who asks for a pair alone gets no sum of parts that nobody entered.
func TestPairAlone(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "wanted", Value: "137 Ω"}})
	if err != nil {
		t.Fatal(err)
	}
	if o, ok := r.Output("resistance"); ok {
		t.Errorf("together %s", o.Text)
	}
	if _, ok := r.Output("pair"); !ok {
		t.Error("no pair")
	}
}
