package solve

import (
	"fmt"
	"testing"
)

// On larger problems, with the work that a page spends on one step: how far is
// the plan from the optimum, how far does it say that it may be, and is what it
// says true? Prints the figures.
func TestGaps(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	sum, worst, proven, all := 0.0, 0.0, 0, 0
	for _, f := range []struct {
		kind string
		n, m int
	}{{"identify", 20, 30}, {"identify", 30, 40}, {"identify multi", 40, 40}, {"identify access", 24, 30}, {"identify classes", 24, 24}, {"fix", 16, 16}, {"fix access", 15, 15}, {"fix access succeeds", 14, 16}} {
		for seed := range uint64(4) {
			m := family(f.kind, f.n, f.m, seed)
			exact, err := Solve(&m, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if !exact.Optimal {
				t.Logf("%s %dx%d: the optimum is not known", f.kind, f.n, f.m)
				continue
			}
			p, err := Solve(&m, Options{Budget: stepBudget})
			if err != nil {
				t.Fatal(err)
			}
			name := fmt.Sprintf("%s %dx%d seed %d", f.kind, f.n, f.m, seed)
			if p.LowerBound > exact.ExpectedCost*(1+1e-9) || p.ExpectedCost < exact.ExpectedCost*(1-1e-9) {
				t.Errorf("%s: the bounds %v and %v do not hold the optimum %v", name, p.LowerBound, p.ExpectedCost, exact.ExpectedCost)
			}
			gap, bound := p.ExpectedCost/exact.ExpectedCost-1, p.ExpectedCost/p.LowerBound-1
			sum += gap
			worst = max(worst, gap)
			all++
			if bound <= .05 {
				proven++
			}
			if gap > 1e-9 {
				t.Logf("%s: %.2f %% above the optimum, said to be at most %.1f %%", name, 100*gap, 100*bound)
			}
		}
	}
	t.Logf("%d problems: mean %.3f %% above the optimum, worst %.2f %%; %d proven within 5 %%", all, 100*sum/float64(all), 100*worst, proven)
	if sum/float64(all) > .001 || worst > .03 || float64(proven) < .6*float64(all) {
		t.Error("farther from the optimum than a plan should be")
	}
}
