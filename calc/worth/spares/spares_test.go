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
