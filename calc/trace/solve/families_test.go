package solve

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// family makes a random problem of a kind, by a fixed seed. Invented; the
// shape is that of the random check cases: costs of 1 to 40 minutes and skewed
// priors, tests that split unevenly, a chain of access groups.
func family(kind string, n, m int, seed uint64) Model {
	r := rand.New(rand.NewPCG(seed, 77))
	model := Model{Goal: Identify}
	has := func(part string) bool {
		for i := 0; i+len(part) <= len(kind); i++ {
			if kind[i:i+len(part)] == part {
				return true
			}
		}
		return false
	}
	if has("fix") {
		model.Goal = Fix
	}
	cost := func(most int) float64 { return float64(1 + int(math.Pow(r.Float64(), 2)*float64(most))) }
	for i := range n {
		c := Cause{Name: fmt.Sprint("c", i+1), Prior: math.Round(1e6*math.Exp(1.2*r.NormFloat64())) / 1e6}
		if has("classes") {
			c.Class = fmt.Sprint(r.IntN(1 + n/2))
		}
		model.Causes = append(model.Causes, c)
	}
	groups := []Group{}
	if has("access") {
		groups = []Group{{"g1", cost(20) + 3, ""}, {"g2", cost(20) + 3, "g1"}, {"g3", cost(20) + 3, ""}}
	}
	model.Access = groups
	need := func() []string {
		if len(groups) == 0 || r.IntN(3) == 0 {
			return nil
		}
		return []string{groups[r.IntN(len(groups))].Name}
	}
	for i := range m {
		t := Test{Name: fmt.Sprint("t", i+1), Cost: cost(40), Needs: need()}
		labels := 2
		if has("multi") {
			labels = 2 + r.IntN(4)
		}
		positive := .1 + .4*r.Float64()
		noisy := has("noisy") && i < 3
		for range n {
			k := 0
			if r.Float64() < positive {
				k = 1 + r.IntN(labels-1)
			}
			if noisy {
				q := .03 + .15*r.Float64()
				t.Outcomes = append(t.Outcomes, Spread{{"ok", []float64{1 - q, q}[k]}, {"bad", []float64{q, 1 - q}[k]}})
				continue
			}
			t.Outcomes = append(t.Outcomes, Sure(string(rune('0'+k))))
		}
		model.Tests = append(model.Tests, t)
	}
	if model.Goal == Fix {
		for i := range n {
			rep := Repair{Name: fmt.Sprint("fix c", i+1), Cost: cost(60), Needs: need(), Fixes: []int{i}}
			if has("clusters") && r.IntN(3) == 0 {
				rep.Fixes = append(rep.Fixes, r.IntN(n))
			}
			if has("succeeds") {
				rep.Succeeds = .8 + .2*r.Float64()
			}
			model.Repairs = append(model.Repairs, rep)
		}
		if has("away") {
			all := Repair{Name: "send away", Cost: 185}
			for i := range n {
				all.Fixes = append(all.Fixes, i)
			}
			model.Repairs = append(model.Repairs, all)
		}
	}
	return model
}
