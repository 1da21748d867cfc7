package trace

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
	Kind  string  `json:"kind"`
	ID    string  `json:"id"`
	Title string  `json:"title"`
}

const (
	flipStates  = 250 // plans that took more states are not asked again and again
	flipSteps   = 6   // shares looked at on either side; a change and its undoing between two is not seen
	flipHalving = 5   // of the interval in which the step changed
)

// flip looks for the share at which the plan would begin with another step.
func (p *planned) flip(d *Device) *Flip {
	if len(p.causes) < 2 || p.States > flipStates || !p.Optimal {
		return nil
	}
	lead, total := 0, 0.0
	for j, c := range p.model.Causes {
		total += c.Prior
		if c.Prior > p.model.Causes[lead].Prior {
			lead = j
		}
	}
	share := p.model.Causes[lead].Prior / total
	moved := *p.model
	first := func(x float64) string {
		moved.Causes = append([]ModelCause(nil), p.model.Causes...)
		for j := range moved.Causes {
			if j == lead {
				moved.Causes[j].Prior = x
			} else {
				moved.Causes[j].Prior *= (1 - x) / (total * (1 - share))
			}
		}
		q, err := Solve(&moved, Options{Budget: 4 * flipStates})
		if err != nil || !q.Optimal {
			return p.FirstAction // not known to be another one
		}
		return q.FirstAction
	}
	look := func(end float64) *FlipsTo {
		same := share
		for i := 1; i <= flipSteps; i++ {
			x := share + float64((end-share)*float64(i)/flipSteps)
			action := first(x)
			if action == p.FirstAction {
				same = x
				continue
			}
			for range flipHalving {
				middle := (same + x) / 2
				if a := first(middle); a == p.FirstAction {
					same = middle
				} else {
					x, action = middle, a
				}
			}
			return &FlipsTo{Share: x, Kind: p.kind(action), ID: p.id(action), Title: p.title(action)}
		}
		return nil
	}
	return &Flip{Cause: d.Causes[p.causes[lead]].ID, Below: look(.001), Above: look(.999)}
}
