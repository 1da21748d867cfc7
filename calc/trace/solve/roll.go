package solve

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"faultleaf/calc/inorder"
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
	act   int32
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
		values[i] = s.after(&moves[i], &start, (*solver).simple)
	}
	inorder.By(order, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	best := choice{math.Inf(1), -1}
	var firsts []First
	for _, i := range order[:min(contenders, len(order))] {
		f := s.first(&start, int(moves[i].action))
		firsts = append(firsts, f)
		if f.Value < best.value {
			best = choice{f.Value, moves[i].action}
		}
	}
	s.settle(&start.st, best)
	plan := Plan{First: None, ExpectedCost: best.value, LowerBound: min(best.value, max(low, s.low(&start)))}
	plan.Optimal = plan.ExpectedCost-plan.LowerBound <= 1e-12*plan.ExpectedCost
	if best.act >= 0 {
		plan.First = s.actions[best.act].id
	}
	inorder.By(firsts, func(a, b First) int { return cmp.Compare(a.Value, b.Value) })
	plan.Firsts = firsts
	return plan
}

// glance is roll for a brief answer: the best of a few promising actions if the
// simple policy follows. Nothing is proved.
func (s *solver) glance(moves []move, start *node) Plan {
	plan := Plan{First: None, ExpectedCost: math.Inf(1)}
	best := choice{math.Inf(1), -1}
	for _, i := range s.promising(moves, start, glances) {
		if v := s.after(&moves[i], start, (*solver).simple); v < best.value {
			best = choice{v, moves[i].action}
		}
	}
	if best.act >= 0 {
		s.settle(&start.st, best)
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
	for i := range s.states.count {
		s.states.at(i).rolled = false
	}
	s.rolling = true
}

func (s *solver) after(m *move, at *node, value func(*solver, node) float64) float64 {
	v := m.cost
	for i := range int(m.count) {
		c := s.children(m)[i]
		v += float64(c.weight / at.weight * value(s, s.enter(at, m, &c)))
	}
	return v
}

// small solves a small set exactly while there is budget for it.
func (s *solver) small(at *node, x *slot) (entry, bool) {
	if x.proved && x.solved {
		return x.entry, true
	}
	size := tail
	if !s.plain {
		size = tail - 4
	}
	if at.st.s.count() > size || s.spent >= s.tails {
		return entry{}, false
	}
	s.budget = min(s.tails, s.spent+tailBudget)
	s.search(*at, math.Inf(1))
	s.over = false
	return x.entry, x.solved
}

// policy is the value of the policy found: the table's where a state is solved,
// else that of rolling out.
func (s *solver) policy(at node) float64 {
	if s.done(&at.st) {
		return 0
	}
	if c, ok := s.rolled(&at.st); ok {
		return c.value // what was settled stays, so that the cost given is the cost walked
	}
	if e, ok := s.small(&at, s.states.slot(&at.st)); ok {
		return e.low
	}
	return s.rollOut(&at).value
}

func (s *solver) rollOut(at *node) choice {
	if c, ok := s.rolled(&at.st); ok {
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
		return s.settle(&at.st, c)
	}
	best, which := math.Inf(1), 0
	if s.work > s.effort {
		which = s.first1(moves, at)
	} else {
		for _, i := range s.promising(moves, at, lookahead) {
			if v := s.after(&moves[i], at, (*solver).simple); v < best {
				best, which = v, i
			}
		}
	}
	return s.settle(&at.st, choice{s.after(&moves[which], at, (*solver).policy), moves[which].action})
}

// decide is the policy's action in a state, and where it leads.
func (s *solver) decide(at *node) (m move, then []node, labels []int32, ok bool) {
	if !s.rolling {
		s.reset()
	}
	act := int32(-1)
	if c, ok := s.rolled(&at.st); ok {
		act = c.act
	} else if e, ok := s.small(at, s.states.slot(&at.st)); ok {
		act = e.act
	} else {
		act = s.rollOut(at).act
	}
	if act < 0 {
		return move{}, nil, nil, false
	}
	defer s.release(s.mark())
	s.gather(at)
	m, ok = s.move(at, int(act))
	for _, c := range s.children(&m) {
		n := s.enter(at, &m, &c)
		if c.own >= 0 {
			n.w = slices.Clone(n.w) // these stay: whoever walks the policy holds them
		}
		n.live = nil
		then, labels = append(then, n), append(labels, c.label)
	}
	return m, then, labels, ok
}

// simple is the value of the simple policy.
func (s *solver) simple(at node) float64 {
	if s.done(&at.st) {
		return 0
	}
	x := s.states.slot(&at.st)
	if e, ok := s.small(&at, x); ok {
		return e.low
	}
	if x.roughly {
		return x.rough
	}
	if s.spentOut() {
		return s.blunt(&at).value
	}
	defer s.release(s.mark())
	m, ok := s.simplest(&at)
	if !ok {
		if s.goal != Identify {
			return math.Inf(1)
		}
		return 0
	}
	v := s.after(&m, &at, (*solver).simple)
	x.rough, x.roughly = v, true
	return v
}

// simplest is the simple policy's action, the first of promising; ok is false where
// there is none. Its children lie on the stacks.
func (s *solver) simplest(at *node) (m move, ok bool) {
	if s.goal == Fix && s.wide(at) {
		best := s.densestKnowledge(at)
		if s.work++; best < 0 {
			return move{}, false
		}
		return s.move(at, best)
	}
	moves := s.moves(at)
	if s.work++; len(moves) == 0 {
		return move{}, false
	}
	return moves[s.first1(moves, at)], true
}

// first1 is the place of the first of promising.
func (s *solver) first1(moves []move, at *node) int {
	seems, best := s.rate(moves, at, 1), 0
	for i := range seems {
		if cmp.Less(seems[i], seems[best]) {
			best = i
		}
	}
	return best
}

// wide tells whether only knowledge counts to the simple policy: where many causes
// are left, or much was looked at.
func (s *solver) wide(at *node) bool {
	return at.st.s.count() > 2*tail || s.work > s.effort
}

// densestKnowledge is the first of promising where only knowledge counts, found
// without making the moves; -1 for none. It leaves the state gathered.
func (s *solver) densestKnowledge(at *node) int {
	s.gather(at)
	best, least, count := -1, 0.0, 0
	alive, st := len(s.lives), &at.st
	v := s.view(st)
	for _, k := range s.alive(at) {
		a := &s.actions[k]
		if a.after&^st.d != 0 {
			continue
		}
		unlocks := a.bit&^st.d != 0
		gain, cost := 0.0, 0.0
		switch {
		case a.repair:
			if !unlocks && !s.meet(&st.s, &a.fixes) {
				continue
			}
			cost = a.cost + s.access(a.needs, st.g)
			if best >= 0 { // nearly all of them; the little that rounding moves is allowed for
				about := cost
				s.mends(&about, a, at, v)
				if s.hopeless(about, s.common(&st.s, &a.fixes, at.w)/at.weight, 2, least) {
					break
				}
			}
			left := s.here.without(&a.fixes)
			if a.again > 0 {
				cost += float64(a.again * max(0, at.weight-left) / at.weight)
			}
			s.mends(&cost, a, at, v)
			if best >= 0 && s.hopeless(cost, left/at.weight, 2, least) {
				break
			}
			s.gain(&gain, left/at.weight)
			s.gain(&gain, 1-left/at.weight)
		case a.noisy:
			if st.x/a.digit%uint64(len(a.labels)+1) != 0 || !unlocks && s.here.alike(a.kind) {
				continue
			}
			cost = a.cost + s.access(a.needs, st.g)
			for o := range a.parts {
				like, sum := a.like[o*s.n:(o+1)*s.n], 0.0
				for j, i := range s.here.causes {
					sum += float64(s.here.weights[j] * like[i])
				}
				s.gain(&gain, sum/at.weight)
			}
		default:
			if !unlocks && s.here.alike(a.shows) {
				continue
			}
			cost = a.cost + s.access(a.needs, st.g)
			if best >= 0 && cost > least*(a.bits*1.000001+1e-6) {
				break // whatever it shows, it says too little
			}
			split, most := s.here.split(a), 0.0
			for _, sum := range split {
				most = max(most, sum)
			}
			if best >= 0 && s.hopeless(cost, most/at.weight, len(split), least) {
				break
			}
			for _, sum := range split {
				s.gain(&gain, sum/at.weight)
			}
		}
		count++
		s.lives = append(s.lives, k)
		if seems := (max(cost, 0) + 1e-9) / (gain + 1e-9); best < 0 || cmp.Less(seems, least) {
			best, least = int(k), seems
		}
	}
	s.live(at, alive)
	s.work += count / 8
	return best
}

// hopeless tells that an action of so many outcomes, of which one has that chance,
// cannot say enough for its cost to come below least: two outcomes say at most
// 2 √(q (1 − q)) bits, and the others log2 of their number where they come.
func (s *solver) hopeless(cost, chance float64, outcomes int, least float64) bool {
	rest := max(0, 1-chance)
	most := 2 * math.Sqrt(chance*rest)
	if outcomes > 2 {
		most += rest * s.log2(float64(outcomes-1))
	}
	return max(cost, 0) > least*(most*1.000001+1e-6)
}

// gain adds to the bits that an action says on average those of an outcome.
func (s *solver) gain(bits *float64, chance float64) {
	if chance > 0 {
		*bits -= float64(chance * s.log2(chance))
	}
}

// mends takes off a repair's cost what the causes that it cures cost anyway: some
// repair has to be done.
func (s *solver) mends(cost *float64, a *action, at *node, v *view) {
	for k := range s.words {
		for b := at.st.s[k] & a.fixes[k]; b != 0; b &= b - 1 {
			j := k*64 + bits.TrailingZeros64(b)
			*cost -= float64(at.w[j] / at.weight * s.end(v, at.st.g, j))
		}
	}
}

// promising ranks moves as the simple policy sees them, and gives the n best, best
// first. The ranks lie on the stacks.
func (s *solver) promising(moves []move, at *node, n int) []int {
	seems, first := s.rate(moves, at, n), len(s.order)
	for i := range moves {
		s.order = append(s.order, i)
	}
	order := s.order[first:len(s.order):len(s.order)]
	inorder.By(order, func(a, b int) int { return cmp.Compare(seems[a], seems[b]) })
	return order[:min(n, len(order))]
}

// rate tells what each move is worth to the simple policy, the least the best;
// until it is asked again. Which are the n best is sure, and what these are worth;
// of the others it is only sure that they are not among them.
func (s *solver) rate(moves []move, at *node, n int) []float64 {
	s.work += len(moves) / 8
	s.seems, s.least = s.seems[:0], s.least[:0]
	if s.goal == Fix && !s.wide(at) {
		densest := s.densest(at)
		for i := range moves {
			m := &moves[i]
			seems := math.Inf(1)
			if a := &s.actions[m.action]; !a.repair || m.count == 0 || s.density(a, at) >= densest/2 {
				limit := math.Inf(1)
				if len(s.least) == n {
					limit = s.least[n-1]
				}
				seems = s.mendInTurn(m, at, limit)
				s.work += 1 + int(m.count)
				s.rank(seems, n)
			}
			s.seems = append(s.seems, seems)
		}
		return s.seems
	}
	for i := range moves {
		m := &moves[i]
		gain := 0.0
		children := s.children(m)
		for j := range children {
			s.gain(&gain, children[j].weight/at.weight)
		}
		cost := m.cost
		if a := &s.actions[m.action]; s.goal == Confirm {
			left := 0.0
			for j := range children {
				left += children[j].weight / at.weight
			}
			if q := 1 - left; q > 1e-12 {
				gain -= float64(q * s.log2(q))
			}
		} else if a.repair {
			s.mends(&cost, a, at, s.view(&at.st))
			left := 0.0
			if len(children) > 0 {
				left = children[0].weight / at.weight
			}
			s.gain(&gain, 1-left)
		}
		s.seems = append(s.seems, (max(cost, 0)+1e-9)/(gain+1e-9))
	}
	return s.seems
}

// rank notes a value among the n least, in their order.
func (s *solver) rank(x float64, n int) {
	i := len(s.least)
	if i < n {
		s.least = append(s.least, x)
	} else if i--; !(x < s.least[i]) {
		return
	}
	for ; i > 0 && x < s.least[i-1]; i-- {
		s.least[i] = s.least[i-1]
	}
	s.least[i] = x
}

// mendInTurn is the value of a move after which the repairs are done in turn; where
// that comes to limit, something from there on.
func (s *solver) mendInTurn(m *move, at *node, limit float64) float64 {
	v := m.cost
	for _, c := range s.children(m) {
		if v >= limit {
			break
		}
		n := s.enter(at, m, &c)
		share := c.weight / at.weight
		v += float64(share * s.inTurn(&n, v, share, limit))
	}
	return v
}

// density is a repair's chance for its cost. One with less than half that of the
// densest is not worth trying next in a simple policy.
func (s *solver) density(a *action, at *node) float64 {
	return s.common(&at.st.s, &a.fixes, at.w) / (a.cost + s.access(a.needs, at.st.g) + 1e-9)
}

func (s *solver) densest(at *node) float64 {
	best := 0.0
	for _, k := range s.repairs {
		if a := &s.actions[k]; a.after&^at.st.d == 0 {
			best = max(best, s.density(a, at))
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
		if v := s.inTurn(at, 0, 1, math.Inf(1)); !math.IsInf(v, 1) {
			best, act := -1.0, int32(-1)
			for _, k := range s.repairs {
				a := &s.actions[k]
				if a.after&^at.st.d != 0 {
					continue
				}
				if r := s.density(a, at); r > best {
					best, act = r, k
				}
			}
			return choice{v, act}
		}
	}
	s.gather(at)
	c, open := choice{0, -1}, at.st.g
	for k := range s.actions {
		a := &s.actions[k]
		c.value += a.cost + a.again + s.access(a.needs, open)
		open |= a.needs
		if c.act < 0 {
			top := s.mark()
			if _, ok := s.move(at, k); ok {
				c.act = int32(k)
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
	action int32
	ratio  float64 // below 0 once it was looked at
}

// inTurn is the value of repairing in the order of chance for cost. The order
// is made anew when a group is opened, as its other repairs are cheaper then.
// Where that share of it comes to limit, on top of v, it is not worked out further.
func (s *solver) inTurn(at *node, v, share, limit float64) float64 {
	st, left, sum := at.st, at.weight, 0.0
	for !st.s.empty() {
		turns := s.turns[:0]
		for _, k := range s.repairs {
			a := &s.actions[k]
			if a.after&^st.d != 0 {
				continue
			}
			if gain := s.common(&st.s, &a.fixes, at.w); gain > 0 {
				turns = append(turns, ranked{k, gain / (a.cost + s.access(a.needs, st.g) + 1e-9)})
			}
		}
		s.turns = turns
		if len(turns) == 0 {
			return math.Inf(1) // only after something else
		}
		for range turns {
			next := 0
			for i := range turns {
				if turns[i].ratio > turns[next].ratio {
					next = i
				}
			}
			turns[next].ratio = -1
			a := &s.actions[turns[next].action]
			cured := s.common(&st.s, &a.fixes, at.w)
			if cured == 0 {
				continue
			}
			opens := a.needs &^ st.g
			sum += float64((a.cost+s.access(a.needs, st.g))*left) + float64(a.again*cured)
			st.s, st.g, st.d = st.s.minus(a.fixes), st.g|a.needs, st.d|a.bit
			if v+float64(share*(sum/at.weight)) >= limit {
				return sum / at.weight
			}
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
	if !s.rolling {
		s.reset()
	}
	known := map[Action]bool{}
	for _, f := range plan.Firsts {
		known[f.Action] = true
	}
	defer s.release(s.mark())
	moves := s.moves(&start)
	moves, _ = s.boundAll(moves, &start, math.Inf(1))
	inorder.By(moves, func(a, b move) int { return cmp.Compare(a.low, b.low) })
	tried := 0
	for i := range moves {
		m := &moves[i]
		id := s.actions[m.action].id
		if known[id] || tried >= contenders && !slices.Contains(also, id) {
			continue
		}
		tried++
		for j := range int(m.count) {
			if !plan.Optimal {
				break // what is not solved within the budget is rolled out
			}
			s.budget = s.spent + rivalBudget
			s.search(s.enter(&start, m, &s.children(m)[j]), math.Inf(1))
			s.over = false
		}
		f := s.first(&start, int(m.action))
		plan.Firsts = append(plan.Firsts, f)
		if !plan.Optimal && f.Value < plan.ExpectedCost {
			plan.ExpectedCost, plan.First = f.Value, f.Action
			s.settle(&start.st, choice{f.Value, m.action})
		}
	}
	inorder.By(plan.Firsts, func(a, b First) int {
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
