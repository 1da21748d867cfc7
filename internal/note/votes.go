package note

// How much a job sheet of one device says about the same common fault of others.
const (
	cousinVote  = .1
	mostCousins = 1 // case at most, whatever the number of sheets
)

// Votes are the shop's job sheets that found a fault: on its own device, and on
// others whose fault is the same common one. A sheet that came back takes one
// away in both.
type Votes struct{ Here, Elsewhere float64 }

// Cases are how many cases the votes count for.
func (v Votes) Cases() float64 {
	return max(v.Here, 0) + min(cousinVote*max(v.Elsewhere, 0), mostCousins)
}

// count counts the votes.
func (s *Set) count() map[string]Votes {
	sheets := map[string]float64{}
	for _, j := range s.Jobs {
		if j.Draft {
			continue
		}
		if j.Sheet.Outcome == "came-back" {
			sheets[j.Sheet.Cause]--
		} else {
			sheets[j.Sheet.Cause]++
		}
	}
	common := map[[2]string]float64{}
	for _, f := range s.Faults {
		if f.Common != nil {
			common[[2]string{f.Common.Block, f.Common.Fault}] += sheets[f.Name]
		}
	}
	out := make(map[string]Votes, len(s.Faults))
	for _, f := range s.Faults {
		v := Votes{Here: sheets[f.Name]}
		if f.Common != nil {
			v.Elsewhere = common[[2]string{f.Common.Block, f.Common.Fault}] - v.Here
		}
		out[f.Name] = v
	}
	return out
}
