package spares

import (
	"math"
	"math/rand/v2"
	"testing"

	"faultleaf/calc/calctest"
)

func TestSpares(t *testing.T) { calctest.Run(t, Calculator) }

// More uses, longer deliveries and a smaller chance never ask for less.
func TestMonotone(t *testing.T) {
	before := 0
	for m := 0.01; m < 500; m *= 1.3 {
		s := keep(m, .05)
		if s < before || keep(m, .01) < s {
			t.Fatalf("mean %v: %d after %d", m, s, before)
		}
		if tail(m, s) > .05 || s > 0 && tail(m, s-1) <= .05 {
			t.Errorf("mean %v: %d is not the least", m, s)
		}
		before = s
	}
}

// A shelf played day by day is empty as often as computed when a part is wanted.
func TestAgainstPlay(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	const mean, stock = 1.7, 3 // wanted during one delivery, kept
	var due []float64
	wanted, without, now := 0, 0, 0.0
	for wanted < 200000 {
		now += r.ExpFloat64() / mean // time in deliveries
		for len(due) > 0 && due[0] <= now {
			due = due[1:]
		}
		wanted++
		if len(due) >= stock {
			without++ // taken from the next delivery; ordered all the same
		}
		due = append(due, now+1)
	}
	if got, want := float64(without)/float64(wanted), tail(mean, stock); math.Abs(got-want) > .01 {
		t.Errorf("empty %v of the times, computed %v", got, want)
	}
}

// The Poisson law to four decimals, as tables print it: own, summed term by term.
func TestTable(t *testing.T) {
	for m, column := range map[float64][]float64{
		0.5: {0.6065, 0.9098, 0.9856, 0.9982, 0.9998, 1.0000},
		1:   {0.3679, 0.7358, 0.9197, 0.9810, 0.9963, 0.9994, 0.9999, 1.0000},
		2:   {0.1353, 0.4060, 0.6767, 0.8571, 0.9473, 0.9834, 0.9955, 0.9989, 0.9998, 1.0000},
		3.5: {0.0302, 0.1359, 0.3208, 0.5366, 0.7254, 0.8576, 0.9347, 0.9733, 0.9901, 0.9967},
		5:   {0.0067, 0.0404, 0.1247, 0.2650, 0.4405, 0.6160, 0.7622, 0.8666, 0.9319, 0.9682, 0.9863, 0.9945, 0.9980},
	} {
		for k, want := range column {
			if got := 1 - tail(m, k+1); math.Abs(got-want) > 0.5e-4+1e-9 {
				t.Errorf("mean %v, %d or fewer: %v, the table has %v", m, k, got, want)
			}
		}
	}
}
