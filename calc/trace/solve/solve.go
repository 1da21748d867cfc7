package solve

import (
	"errors"
	"math/bits"
)

// Options bound the work of Solve. The bound counts states looked into, never
// time, so that every machine gives the same answer.
type Options struct {
	Budget int // states of the exact search; 0 means DefaultBudget
	// Brief is for a first action that nobody asks more of: a set too large to
	// be solved exactly is not searched, and the fallback compares a few
	// promising actions by the simple policy alone.
	Brief bool
	// Firsts asks for the value of the likeliest rivals of the best first
	// action too, not of the best alone.
	Firsts bool
	Also   []Action // valued as first ones, too, however little they promise; only with Firsts
	// Room is what the plan is worked out in, nil for a new one. A plan's policy can
	// be walked until its room is used again.
	Room *Room
}

// Room is what a plan is worked out in. Who solves much gives it again and again.
type Room struct{ solver solver }

// DefaultBudget is a few seconds of a bench computer. Every model of up to 14
// causes ends far below it: 2^14 sets times the groups that can be open.
const DefaultBudget = 200000

// tail is the number of causes up to which the fallback solves sets exactly.
const tail = 10

// Plan is the answer to a model.
type Plan struct {
	ExpectedCost float64 // of the policy found, in the model's unit
	LowerBound   float64 // no policy can be cheaper
	Optimal      bool    // the two are equal
	First        Action  // None if nothing is left to do
	States       int     // table entries used
	Firsts       []First // cheapest first, the advised one in front

	solver *solver
}

// First is one possible first action with what follows it.
type First struct {
	Action   Action
	Value    float64 // expected cost when this is done first
	Branches []Branch
}

// Branch is one outcome of a first action: its chance and the expected cost
// from there.
type Branch struct {
	Label  string // "" for a repair that did not cure
	Chance float64
	Value  float64
}

// Solve finds the order of tests and repairs with the lowest expected cost.
//
// It searches depth first with a table of states, as search.go tells. Where the
// budget runs out it rolls out a simple policy with an exact tail instead
// (roll.go). What the unfinished search has proved is the lower bound, so the
// answer says how far from the optimum it may be.
func Solve(m *Model, o Options) (Plan, error) {
	if o.Room == nil {
		o.Room = &Room{}
	}
	s := &o.Room.solver
	if err := s.ready(m); err != nil {
		return Plan{}, err
	}
	if o.Budget <= 0 {
		o.Budget = DefaultBudget
	}
	s.begin(o)
	start := node{st: state{s: s.all}, w: s.prior, weight: s.weight(s.all, s.prior)}
	if s.done(&start.st) {
		return Plan{Optimal: true, First: None, solver: s}, nil
	}
	var plan Plan
	if !o.Brief || start.st.s.count() <= tail {
		plan = s.exact(start)
	}
	if !plan.Optimal {
		plan = s.roll(start, plan.LowerBound)
	}
	if plan.ExpectedCost > most {
		return Plan{}, errors.New("some cause can never be reached, as actions wait for one another")
	}
	plan.solver = s
	if o.Firsts {
		s.rivals(&plan, start, o.Also)
	}
	plan.States = s.proved
	return plan, nil
}

// Stage is a point in a policy: what is still possible, and what to do then.
type Stage struct {
	solver *solver
	at     node
}

// Start is the policy's beginning. ExpectedCost is the cost of just this
// policy.
func (p *Plan) Start() Stage {
	s := p.solver
	return Stage{s, node{st: state{s: s.all}, w: s.prior, weight: s.weight(s.all, s.prior)}}
}

// Step is an action of a policy with its cost, the access groups that it opens
// included. A cause among those that a repair cures costs more than that on
// average, where the repair takes more than one try.
type Step struct {
	Action Action
	Cost   float64
	Opens  []int // indices into Model.Access
	Ways   []Way
}

// Next is the step to take here; ok is false at the policy's end.
func (g Stage) Next() (step Step, ok bool) {
	s := g.solver
	if s.done(&g.at.st) {
		return Step{}, false
	}
	m, nodes, labels, found := s.decide(&g.at)
	if !found {
		return Step{}, false
	}
	then := []Way(nil)
	a := &s.actions[m.action]
	for i, n := range nodes {
		then = append(then, Way{Label: a.label(int(labels[i])), Chance: n.weight / g.at.weight, Then: Stage{s, n}})
	}
	step = Step{Action: a.id, Cost: a.cost + s.access(a.needs, g.at.st.g), Ways: then}
	for b := a.needs &^ g.at.st.g; b != 0; b &= b - 1 {
		step.Opens = append(step.Opens, bits.TrailingZeros64(b))
	}
	return step, true
}

// Way is one outcome of an action, by its label ("" for a repair that did not
// cure), and where it leads.
type Way struct {
	Label  string
	Chance float64
	Then   Stage
}

// Left lists the causes still possible, as indices into Model.Causes, with
// those that nothing tells apart side by side.
func (g Stage) Left() []int {
	var out []int
	for i := range g.solver.n {
		if g.at.st.s.has(i) {
			for c, at := range g.solver.at {
				if int(at) == i {
					out = append(out, c)
				}
			}
		}
	}
	return out
}

func (a *action) label(k int) string {
	if k < 0 || k >= len(a.labels) {
		return ""
	}
	return a.labels[k]
}
