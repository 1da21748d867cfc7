package page

import (
	"faultleaf/calc/trace"
)

// State is the tests that are taken while a thing is in one state: as it comes,
// opened so far, under power.
type State struct {
	Title string // "" where it is told by what is open
	Opens string // what has been opened, "" for nothing
	Tests []*trace.Test
}

// States orders a device's tests as one works: what needs no opening, then each
// opening, what proves it safe, and what takes power last. States without a test
// are left out.
func States(t *trace.Device) []State {
	closed := State{Title: "As it comes"}
	proofs := State{Title: "Before any power"}
	live := State{Title: "Under power, only after the proofs above"}
	var opened []State
	for i := range t.Tests {
		x := &t.Tests[i]
		switch {
		case x.Power != trace.Off && x.Power != "":
			live.Tests = append(live.Tests, x)
		case x.Proves != "":
			proofs.Tests = append(proofs.Tests, x)
		case len(x.Needs) == 0:
			closed.Tests = append(closed.Tests, x)
		default:
			opens := Opens(t, x.Needs)
			at := -1
			for k := range opened {
				if opened[k].Opens == opens {
					at = k
				}
			}
			if at < 0 {
				at = len(opened)
				opened = append(opened, State{Opens: opens})
			}
			opened[at].Tests = append(opened[at].Tests, x)
		}
	}
	var out []State
	for _, s := range append(append([]State{closed}, opened...), proofs, live) {
		if len(s.Tests) > 0 {
			out = append(out, s)
		}
	}
	return out
}

// Good is what a healthy one reads: the span, or the reading's name where it is a
// word.
func Good(x *trace.Test) string {
	for _, b := range x.Reads {
		if b.Healthy {
			if b.Text != "" {
				return b.Text
			}
			return trace.Plain(string(b.ID))
		}
	}
	return ""
}
