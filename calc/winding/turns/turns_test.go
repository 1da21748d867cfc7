package turns

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestTurns(t *testing.T) { calctest.Run(t, Calculator) }

// Two windings built turn by turn from copper wire have the ratio of resistances
// that the formula says: R = ρ·N·length/(area/N), for each on its own.
func TestBuiltWindings(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		n1, n2 := 50+rnd.IntN(2000), 5+rnd.IntN(400)
		length1, length2 := .05+.2*rnd.Float64(), .05+.2*rnd.Float64()
		area1, area2 := 1e-5+1e-4*rnd.Float64(), 1e-5+1e-4*rnd.Float64()
		ohms := func(n int, length, area float64) float64 {
			wire, sum := area/float64(n), 0.0
			for range n {
				sum += 17.24e-9 * length / wire
			}
			return sum
		}
		want := ohms(n1, length1, area1) / ohms(n2, length2, area2)
		if got := resistanceRatio(float64(n1)/float64(n2), length2/length1, area1/area2); math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%v, built ones have %v", got, want)
		}
	}
}

// A test winding gives turns in the ratio of the volts, and the ratio of a
// transformer turned round is the inverse.
func TestInverse(t *testing.T) {
	for _, v := range []float64{.5, 12, 17, 120, 400} {
		r, err := Calculator.Run([]calc.Setting{{Name: "secondary", Value: fmt.Sprint(v)}, {Name: "test-turns", Value: "10"}, {Name: "test-volts", Value: "1.9 V"}})
		if err != nil {
			t.Fatal(err)
		}
		back, err := Calculator.Run([]calc.Setting{{Name: "primary", Value: fmt.Sprint(v)}, {Name: "secondary", Value: "120 V"}})
		if err != nil {
			t.Fatal(err)
		}
		num := func(r calc.Result, name string) float64 { o, _ := r.Output(name); return o.Value.Num }
		if got := num(r, "ratio") * num(back, "ratio"); math.Abs(got-1) > 1e-9 {
			t.Errorf("%v V: there and back is %v", v, got)
		}
		if got := num(r, "primary-turns") / num(r, "secondary-turns") / num(r, "ratio"); math.Abs(got-1) > 1e-8 {
			t.Errorf("%v V: the turns stand %v to the ratio", v, got)
		}
	}
}
