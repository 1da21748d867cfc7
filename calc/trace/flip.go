package trace

import "faultleaf/calc/trace/solve"

// Flip says how far the leading cause's share may move before another step is
// better, the other causes keeping their shares among themselves.
type Flip struct {
	Cause CauseID  `json:"cause"`
	Below *FlipsTo `json:"below,omitempty"` // nil: down to nothing the step stays best
	Above *FlipsTo `json:"above,omitempty"`
}

// FlipsTo is the share at which the step changes, and the step that is better
// beyond it.
type FlipsTo struct {
	Share float64 `json:"share"`
	Action
	Again bool `json:"again,omitempty"`
}

const (
	flipStates  = 250 // plans that took more states are not asked again and again
	flipSteps   = 6   // shares looked at on either side; a change and its undoing between two is not seen
	flipHalving = 5   // of the interval in which the step changed
)

// flip looks for the share at which the plan would begin with another step.
func (p *planned) flip() *Flip {
	if len(p.suspects) < 2 || p.States > flipStates || !p.Optimal {
		return nil
	}
	lead, total := -1, 0.0 // the likeliest cause that a note describes
	for j, c := range p.model.Causes {
		total += c.Prior
		if p.bench.suspects[p.suspects[j]].cause != nil && (lead < 0 || c.Prior > p.model.Causes[lead].Prior) {
			lead = j
		}
	}
	if lead < 0 {
		return nil
	}
	// what is left out of planning keeps its chance, so a share of the model is one
	// of total
	share := p.model.Causes[lead].Prior / total
	moved, room := *p.model, solve.Room{}
	first := func(x float64) solve.Action {
		moved.Causes = append([]solve.Cause(nil), p.model.Causes...)
		for j := range moved.Causes {
			if j == lead {
				moved.Causes[j].Prior = x
			} else {
				moved.Causes[j].Prior *= (1 - x) / (total * (1 - share))
			}
		}
		q, err := solve.Solve(&moved, solve.Options{Budget: 4 * flipStates, Room: &room})
		if err != nil || !q.Optimal {
			return p.First // not known to be another one
		}
		return q.First
	}
	look := func(end float64) *FlipsTo {
		same := share
		for i := 1; i <= flipSteps; i++ {
			x := share + float64((end-share)*float64(i)/flipSteps)
			action := first(x)
			if action == p.First {
				same = x
				continue
			}
			for range flipHalving {
				middle := (same + x) / 2
				if a := first(middle); a == p.First {
					same = middle
				} else {
					x, action = middle, a
				}
			}
			act := p.act(action)
			return &FlipsTo{Share: x * total, Action: act, Again: p.again[act.Test]}
		}
		return nil
	}
	return &Flip{Cause: p.bench.suspects[p.suspects[lead]].cause.ID, Below: look(.001), Above: look(.999)}
}
