package solve

import (
	"cmp"
	"math"
	"slices"
)

// Where exact search is not affordable.
//
// The simple policy takes the action with the most entropy for its cost and
// access (identify, and fix while many causes are left), or the better of
// repairing in the order of chance for cost and doing one test before that (fix). Rolling out means: at every state take
// the action that is best if the simple policy follows. At the start the few
// best actions are compared by rolling out what follows them. Small sets are
// always solved exactly, through the table that all of this shares. The cost
// given is that of just the policy which Stage walks.

const (
	briefEffort = 60    // the same for a brief answer
	effort      = 60000 // moves that rollouts weigh; beyond it the simple policy goes on
	tailBudget  = 4000  // states for one small set
	contenders  = 5     // first actions that are compared by rolling out
	glances     = 5     // first actions that a brief answer compares
	lookahead   = 12    // actions that a rollout looks at in a state
)

// choice is what the rolled-out policy does in a state, and its value there.
type choice struct {
	value float64
	act   int
}

// roll finds a policy by rolling out. low is what the search proved.
func (s *solver) roll(start node, low float64) Plan {
	s.reset()
	defer s.release(s.mark())
	moves := s.moves(&start)
	if s.brief {
		return s.glance(moves, &start)
	}
	values := make([]float64, len(moves))
	order := make([]int, len(moves))
	for i := range moves {
		order[i] = i
		values[i] = s.after(&moves[i], &start, s.simple)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
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
	plan := Plan{First: None, ExpectedCost: best.value, LowerBound: math.Min(best.value, math.Max(low, s.low(&start)))}
	plan.Optimal = plan.ExpectedCost-plan.LowerBound <= 1e-12*plan.ExpectedCost
	if best.act >= 0 {
		plan.First = s.actions[best.act].id
	}
	slices.SortStableFunc(firsts, func(a, b First) int { return cmp.Compare(a.Value, b.Value) })
	plan.Firsts = firsts
	return plan
}

// glance is roll for a brief answer: the best of a few promising actions if the
// simple policy follows. Nothing is proved.
func (s *solver) glance(moves []move, start *node) Plan {
	plan := Plan{First: None, ExpectedCost: math.Inf(1)}
	best := choice{math.Inf(1), -1}
	order := s.promising(moves, start)
	for _, i := range order[:min(glances, len(order))] {
		if v := s.after(&moves[i], start, s.simple); v < best.value {
			best = choice{v, moves[i].action}
		}
	}
	if best.act >= 0 {
		s.rolled[start.st] = best
		plan.First, plan.ExpectedCost = s.actions[best.act].id, best.value
	}
	return plan
}

// reset gives the fallback a budget of its own.
func (s *solver) reset() {
	s.over, s.tails = false, s.spent+s.budget
	s.effort = s.work + min(effort, max(effort/8, 8*s.budget))
	if s.brief {
		s.effort = s.work + briefEffort
	}
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
	if c, ok := s.rolled[at.st]; ok {
		return c.value // what was settled stays, so that the cost given is the cost walked
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
	if s.spentOut() {
		return s.blunt(at)
	}
	defer s.release(s.mark())
	moves := s.moves(at)
	if len(moves) == 0 {
		c := choice{0, -1}
		if s.goal != Identify {
			c.value = math.Inf(1)
		}
		s.rolled[at.st] = c
		return c
	}
	best, which := math.Inf(1), 0
	if s.work > s.effort {
		which = s.simplest(moves, at)
	} else {
		order := s.promising(moves, at)
		for _, i := range order[:min(lookahead, len(order))] {
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
	if s.rolled == nil {
		s.reset()
	}
	act := -1
	if c, ok := s.rolled[at.st]; ok {
		act = c.act
	} else if e, ok := s.small(at); ok {
		act = int(e.act)
	} else {
		act = s.rollOut(at).act
	}
	if act < 0 {
		return move{}, false
	}
	defer s.release(s.mark())
	m, ok := s.move(at, act)
	m.children = slices.Clone(m.children) // these stay: whoever walks the policy holds them
	for i := range m.children {
		if c := &m.children[i]; s.actions[act].noisy {
			c.w = slices.Clone(c.w)
		}
	}
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
	if s.spentOut() {
		return s.blunt(at).value
	}
	defer s.release(s.mark())
	moves := s.moves(at)
	s.work++
	if len(moves) == 0 {
		if s.goal != Identify {
			return math.Inf(1)
		}
		return 0
	}
	v := s.after(&moves[s.simplest(moves, at)], at, s.simple)
	s.rough[at.st] = v
	return v
}

// simplest is the simple policy's action: the first of promising.
func (s *solver) simplest(moves []move, at *node) int {
	seems, best := s.rate(moves, at), 0
	for i := range seems {
		if cmp.Less(seems[i], seems[best]) {
			best = i
		}
	}
	return best
}

// promising ranks moves as the simple policy sees them, best first. The ranks lie
// on the stacks.
func (s *solver) promising(moves []move, at *node) []int {
	seems, first := s.rate(moves, at), len(s.order)
	for i := range moves {
		s.order = append(s.order, i)
	}
	order := s.order[first:len(s.order):len(s.order)]
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(seems[a], seems[b]) })
	return order
}

// rate tells what each move is worth to the simple policy, the least the best;
// until it is asked again.
func (s *solver) rate(moves []move, at *node) []float64 {
	s.work += len(moves) / 8
	// where many causes are left, or much was looked at, only knowledge counts
	wide := at.st.s.count() > 2*tail || s.work > s.effort
	s.seems = s.seems[:0]
	densest := -1.0
	for i := range moves {
		m := &moves[i]
		seems := 0.0
		if s.goal == Fix && !wide {
			if densest < 0 {
				densest = s.densest(at)
			}
			if a := &s.actions[m.action]; a.repair && len(m.children) > 0 && s.density(a, at) < densest/2 {
				seems = math.Inf(1)
			} else {
				seems = s.after(m, at, s.inTurn)
				s.work += 1 + len(m.children)
			}
		} else {
			gain := 0.0
			for j := range m.children {
				if q := m.children[j].weight / at.weight; q > 0 {
					gain -= float64(q * log2(q))
				}
			}
			cost := m.cost
			if a := &s.actions[m.action]; s.goal == Confirm {
				left := 0.0
				for j := range m.children {
					left += m.children[j].weight / at.weight
				}
				if q := 1 - left; q > 1e-12 {
					gain -= float64(q * log2(q))
				}
			} else if a.repair {
				// some repair has to be done anyway
				for j, c := range s.view(&at.st).ends {
					if a.fixes.has(j) && at.st.s.has(j) {
						cost -= float64(at.w[j] / at.weight * c)
					}
				}
				left := 0.0
				if len(m.children) > 0 {
					left = m.children[0].weight / at.weight
				}
				if q := 1 - left; q > 0 {
					gain -= float64(q * log2(q))
				}
			}
			seems = (math.Max(cost, 0) + 1e-9) / (gain + 1e-9)
		}
		s.seems = append(s.seems, seems)
	}
	return s.seems
}

// density is a repair's chance for its cost. One with less than half that of the
// densest is not worth trying next in a simple policy.
func (s *solver) density(a *action, at *node) float64 {
	return s.weight(at.st.s.and(a.fixes), at.w) / (a.cost + s.access(a.needs, at.st.g) + 1e-9)
}

func (s *solver) densest(at *node) float64 {
	best := 0.0
	for k := range s.actions {
		if a := &s.actions[k]; a.repair && a.after&^at.st.d == 0 {
			best = math.Max(best, s.density(a, at))
		}
	}
	return best
}

// spentOut tells that even the simple policy has become too much, as with many
// noisy tests, whose results multiply.
func (s *solver) spentOut() bool { return s.work > 4*s.effort }

// blunt is a way out of any state that needs no search, and a cost that it does
// not exceed: repairs in turn where that ends, else one action after the other.
func (s *solver) blunt(at *node) choice {
	if s.goal == Fix {
		if v := s.inTurn(at); !math.IsInf(v, 1) {
			best, act := -1.0, -1
			for k := range s.actions {
				a := &s.actions[k]
				if !a.repair || a.after&^at.st.d != 0 {
					continue
				}
				if r := s.density(a, at); r > best {
					best, act = r, k
				}
			}
			return choice{v, act}
		}
	}
	c, open := choice{0, -1}, at.st.g
	for k := range s.actions {
		a := &s.actions[k]
		c.value += a.cost + a.again + s.access(a.needs, open)
		open |= a.needs
		if c.act < 0 {
			top := s.mark()
			if _, ok := s.move(at, k); ok {
				c.act = k
			}
			s.release(top)
		}
	}
	if c.act < 0 {
		c.value = 0
		if s.goal != Identify {
			c.value = math.Inf(1)
		}
	}
	return c
}

// ranked is a repair with its chance for its cost.
type ranked struct {
	action *action
	ratio  float64
}

// inTurn is the value of repairing in the order of chance for cost. The order
// is made anew when a group is opened, as its other repairs are cheaper then.
func (s *solver) inTurn(at *node) float64 {
	st, left, sum := at.st, at.weight, 0.0
	order := s.turns
	defer func() { s.turns = order[:0] }()
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
		slices.SortStableFunc(order, func(a, b ranked) int { return cmp.Compare(b.ratio, a.ratio) })
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
func (s *solver) rivals(plan *Plan, start node, also []Action) {
	if s.rolled == nil {
		s.reset()
	}
	known := map[Action]bool{}
	for _, f := range plan.Firsts {
		known[f.Action] = true
	}
	defer s.release(s.mark())
	moves := s.moves(&start)
	moves, _ = s.boundAll(moves, &start, math.Inf(1))
	tried := 0
	for i := range moves {
		m := &moves[i]
		id := s.actions[m.action].id
		if known[id] || tried >= contenders && !slices.Contains(also, id) {
			continue
		}
		tried++
		for j := range m.children {
			if !plan.Optimal {
				break // what is not solved within the budget is rolled out
			}
			s.budget = s.spent + rivalBudget
			s.search(&m.children[j].node, math.Inf(1))
			s.over = false
		}
		f := s.first(&start, m.action)
		plan.Firsts = append(plan.Firsts, f)
		if !plan.Optimal && f.Value < plan.ExpectedCost {
			plan.ExpectedCost, plan.First = f.Value, f.Action
			s.rolled[start.st] = choice{f.Value, m.action}
		}
	}
	slices.SortStableFunc(plan.Firsts, func(a, b First) int {
		if a.Action == plan.First || b.Action == plan.First {
			return cmp.Compare(rank(b.Action == plan.First), rank(a.Action == plan.First))
		}
		return cmp.Compare(a.Value, b.Value)
	})
}

const rivalBudget = 100 // states for one outcome of a rival

func rank(first bool) int {
	if first {
		return 1
	}
	return 0
}
