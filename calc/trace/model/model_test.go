package model

import (
	"errors"
	"math"
	"os"
	"slices"
	"testing"

	"faultleaf/calc/trace"
)

func load(t testing.TB, name string) []Case {
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	cases, err := Read(f)
	if err != nil {
		t.Fatal(err)
	}
	return cases
}

// Every case equals its recomputed optimum and starts with one of its optimal
// first actions.
func TestCases(t *testing.T) {
	for _, name := range []string{"faultfinding.json", "faultfinding_random.json"} {
		solved := 0
		for _, c := range load(t, name) {
			var lacks *Unsupported
			if errors.As(c.Err, &lacks) {
				t.Logf("%s: %v", c.ID, c.Err)
				continue
			}
			if c.Err != nil {
				t.Errorf("%s: %v", c.ID, c.Err)
				continue
			}
			p, err := trace.Solve(&c.Model, trace.Options{})
			if err != nil {
				t.Errorf("%s: %v", c.ID, err)
				continue
			}
			if math.Abs(p.ExpectedCost-c.Optimum) > 1e-9*c.Optimum {
				if len(c.Model.Causes) <= 14 || p.Optimal || p.LowerBound > c.Optimum*(1+1e-9) || p.ExpectedCost > 1.03*c.Optimum {
					t.Errorf("%s: expected cost %v, optimum %v, lower bound %v, optimal %v", c.ID, p.ExpectedCost, c.Optimum, p.LowerBound, p.Optimal)
				}
				continue
			}
			solved++
			if len(c.Model.Causes) <= 14 && !p.Optimal {
				t.Errorf("%s is not called optimal", c.ID)
			}
			if len(c.Firsts) > 0 && !slices.Contains(c.Firsts, p.FirstAction) {
				t.Errorf("%s: first %s, optimal firsts %v", c.ID, p.FirstAction, c.Firsts)
			}
			t.Logf("%s: %v, %d states", c.ID, p.ExpectedCost, p.States)
		}
		if solved < 18 {
			t.Errorf("%s: only %d cases solved", name, solved)
		}
	}
}

func BenchmarkCases(b *testing.B) {
	for _, c := range load(b, "faultfinding_random.json") {
		if c.Err != nil || !c.Large {
			continue
		}
		b.Run(c.ID, func(b *testing.B) {
			for b.Loop() {
				if _, err := trace.Solve(&c.Model, trace.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
