package trace

import (
	"math"
	"sort"
)

// Where exact search is not affordable.
//
// The simple policy takes the action with the most entropy for its cost and
// access (identify), or the better of repairing in the order of chance for cost
// and doing one test before that (fix). Rolling out means: at every state take
// the action that is best if the simple policy follows. At the start the few
// best actions are compared by rolling out what follows them. Small sets are
// always solved exactly, through the table that all of this shares. The cost
// given is that of just the policy which Stage walks.

const (
	workLimit  = 300000 // moves weighed by rollouts; beyond it the simple policy goes on
	tailBudget = 4000   // states for one small set
	contenders = 5      // first actions that are compared by rolling out
)

// choice is what the rolled-out policy does in a state, and its value there.
type choice struct {
	value float64
	act   int
}

// roll finds a policy by rolling out. low is what the search proved.
func (s *solver) roll(start node, low float64) Plan {
	s.reset()
	moved, spread := len(s.moved), len(s.spread)
	defer s.release(moved, spread)
	moves := s.moves(&start)
	values := make([]float64, len(moves))
	order := make([]int, len(moves))
	for i := range moves {
		order[i] = i
		values[i] = s.after(&moves[i], &start, s.simple)
	}
	sort.SliceStable(order, func(i, j int) bool { return values[order[i]] < values[order[j]] })
	best := choice{math.Inf(1), -1}
	var firsts []First
	for _, i := range order[:min(contenders, len(order))] {
		f := s.first(&start, moves[i].action)
		firsts = append(firsts, f)
		if f.Value < best.value {
			best = choice{f.Value, moves[i].action}
		}
	}
	s.rolled[start.st] = best
	plan := Plan{ExpectedCost: best.value, LowerBound: math.Min(best.value, math.Max(low, s.low(&start)))}
	plan.Optimal = plan.ExpectedCost-plan.LowerBound <= 1e-12*plan.ExpectedCost
	if best.act >= 0 {
		plan.FirstAction = s.actions[best.act].name
	}
	sort.SliceStable(firsts, func(i, j int) bool { return firsts[i].Value < firsts[j].Value })
	plan.Firsts = firsts
	return plan
}

// reset gives the fallback a budget of its own.
func (s *solver) reset() {
	s.over, s.tails = false, s.spent+s.budget
	s.rolled = map[state]choice{}
}

func (s *solver) after(m *move, at *node, value func(*node) float64) float64 {
	v := m.cost
	for i := range m.children {
		c := &m.children[i]
		v += float64(c.weight / at.weight * value(&c.node))
	}
	return v
}

// small solves a small set exactly while there is budget for it.
func (s *solver) small(at *node) (entry, bool) {
	if e, ok := s.table[at.st]; ok && e.solved {
		return e, true
	}
	size := tail
	if !s.plain {
		size = tail - 4
	}
	if at.st.s.count() > size || s.spent >= s.tails {
		return entry{}, false
	}
	s.budget = min(s.tails, s.spent+tailBudget)
	s.search(at, math.Inf(1))
	s.over = false
	e := s.table[at.st]
	return e, e.solved
}

// policy is the value of the policy found: the table's where a state is solved,
// else that of rolling out.
func (s *solver) policy(at *node) float64 {
	if s.done(&at.st) {
		return 0
	}
	if e, ok := s.small(at); ok {
		return e.low
	}
	return s.rollOut(at).value
}

func (s *solver) rollOut(at *node) choice {
	if c, ok := s.rolled[at.st]; ok {
		return c
	}
	moved, spread := len(s.moved), len(s.spread)
	defer s.release(moved, spread)
	moves := s.moves(at)
	if len(moves) == 0 {
		c := choice{0, -1}
		if s.goal == Fix {
			c.value = math.Inf(1)
		}
		s.rolled[at.st] = c
		return c
	}
	best, which := math.Inf(1), 0
	if s.work > workLimit {
		which = s.simplest(moves, at)
	} else {
		for i := range moves {
			if v := s.after(&moves[i], at, s.simple); v < best {
				best, which = v, i
			}
		}
	}
	c := choice{s.after(&moves[which], at, s.policy), moves[which].action}
	s.rolled[at.st] = c
	return c
}

// decide is the policy's action in a state.
func (s *solver) decide(at *node) (move, bool) {
	e, ok := s.table[at.st]
	act := int(e.act)
	if !ok || !e.solved {
		if s.rolled == nil {
			s.reset()
		}
		if e, ok := s.small(at); ok {
			act = int(e.act)
		} else {
			act = s.rollOut(at).act
		}
	}
	if act < 0 {
		return move{}, false
	}
	spread := len(s.spread)
	m, ok := s.move(at, act)
	m.children = append([]child(nil), m.children...)
	s.spread = s.spread[:spread]
	return m, ok
}

// simple is the value of the simple policy.
func (s *solver) simple(at *node) float64 {
	if s.done(&at.st) {
		return 0
	}
	if e, ok := s.small(at); ok {
		return e.low
	}
	if v, ok := s.rough[at.st]; ok {
		return v
	}
	moved, spread := len(s.moved), len(s.spread)
	defer s.release(moved, spread)
	moves := s.moves(at)
	s.work += len(moves)
	if len(moves) == 0 {
		if s.goal == Fix {
			return math.Inf(1)
		}
		return 0
	}
	v := s.after(&moves[s.simplest(moves, at)], at, s.simple)
	s.rough[at.st] = v
	return v
}

// simplest is the simple policy's action.
func (s *solver) simplest(moves []move, at *node) int {
	which, best := 0, math.Inf(1)
	for i := range moves {
		m := &moves[i]
		var v float64
		if s.goal == Fix {
			v = s.after(m, at, s.inTurn)
		} else {
			gain := 0.0
			for j := range m.children {
				if q := m.children[j].weight / at.weight; q > 0 {
					gain -= float64(q * math.Log2(q))
				}
			}
			v = (m.cost + 1e-9) / (gain + 1e-9)
		}
		if v < best {
			which, best = i, v
		}
	}
	return which
}

// inTurn is the value of repairing in the order of chance for cost. The order
// is made anew when a group is opened, as its other repairs are cheaper then.
func (s *solver) inTurn(at *node) float64 {
	type ranked struct {
		action *action
		ratio  float64
	}
	st, left, sum := at.st, at.weight, 0.0
	var order []ranked
	for !st.s.empty() {
		order = order[:0]
		for k := range s.actions {
			a := &s.actions[k]
			if !a.repair || a.after&^st.d != 0 {
				continue
			}
			if gain := s.weight(st.s.and(a.fixes), at.w); gain > 0 {
				order = append(order, ranked{a, gain / (a.cost + s.access(a.needs, st.g) + 1e-9)})
			}
		}
		if len(order) == 0 {
			return math.Inf(1) // only after something else
		}
		sort.SliceStable(order, func(i, j int) bool { return order[i].ratio > order[j].ratio })
		for _, r := range order {
			a := r.action
			cured := s.weight(st.s.and(a.fixes), at.w)
			if cured == 0 {
				continue
			}
			opens := a.needs &^ st.g
			sum += float64((a.cost+s.access(a.needs, st.g))*left) + float64(a.again*cured)
			st.s, st.g, st.d = st.s.minus(a.fixes), st.g|a.needs, st.d|a.bit
			left = s.weight(st.s, at.w)
			if opens != 0 || st.s.empty() {
				break
			}
		}
	}
	return sum / at.weight
}

// rivals adds to a plan what other promising first actions would cost: exactly
// where that is affordable, else by rolling out.
func (s *solver) rivals(plan *Plan, start node) {
	if s.rolled == nil {
		s.reset()
	}
	known := map[string]bool{}
	for _, f := range plan.Firsts {
		known[f.Action] = true
	}
	moved, spread := len(s.moved), len(s.spread)
	defer s.release(moved, spread)
	moves := s.moves(&start)
	s.boundAll(moves, &start)
	for i, tried := 0, 0; i < len(moves) && tried < 2*contenders; i++ {
		m := &moves[i]
		if known[s.actions[m.action].name] {
			continue
		}
		tried++
		for j := range m.children {
			s.budget = s.spent + rivalBudget
			s.search(&m.children[j].node, math.Inf(1))
			s.over = false
		}
		plan.Firsts = append(plan.Firsts, s.first(&start, m.action))
	}
	sort.SliceStable(plan.Firsts, func(i, j int) bool {
		a, b := plan.Firsts[i].Action == plan.FirstAction, plan.Firsts[j].Action == plan.FirstAction
		if a != b {
			return a
		}
		return plan.Firsts[i].Value < plan.Firsts[j].Value
	})
}

const rivalBudget = 300 // states for one outcome of a rival
