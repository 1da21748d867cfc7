package trace

import (
	"math"
	"math/bits"
	"sort"
)

// Options bound the work of Solve. The bound counts table entries, never time,
// so that every machine gives the same answer.
type Options struct {
	Budget int // entries of the exact search; 0 means DefaultBudget
	// Firsts asks for the value of every first action, not of the best alone.
	Firsts bool
}

// DefaultBudget is some tenths of a second in the browser.
const DefaultBudget = 60000

// tail is the number of causes that the fallback always solves exactly.
const tail = 10

// Plan is the answer to a model.
type Plan struct {
	ExpectedCost float64 // of the policy found, in the model's unit
	LowerBound   float64 // no policy can be cheaper
	Optimal      bool    // the two are equal
	FirstAction  string  // "" if nothing is left to do
	States       int     // table entries used
	Firsts       []First // cheapest first; all of them if Options.Firsts
}

// First is one possible first action with what follows it.
type First struct {
	Action   string
	Repair   bool
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
// It searches depth first with a table of states. A state is the set of causes
// still possible, the access groups already open, and the results of noisy
// tests; its value is not normalised (weight times expected remaining cost), so
// that values add over outcomes. Where the budget runs out it rolls out a
// greedy policy with an exact tail instead, and says by the lower bound how far
// from the optimum that may be.
func Solve(m *Model, o Options) (Plan, error) {
	p, err := ready(m)
	if err != nil {
		return Plan{}, err
	}
	if o.Budget <= 0 {
		o.Budget = DefaultBudget
	}
	s := &solver{problem: p, budget: o.Budget, table: map[state]float64{}, pairs: map[uint64][]float64{}, cures: map[uint64][]float64{}, rough: map[state]float64{}}
	start := state{s: p.all}
	plan := s.exact(start, o.Firsts)
	if s.over {
		plan = s.roll(start, o.Firsts)
	}
	plan.States = len(s.table)
	return plan, nil
}

type state struct {
	s set
	g uint64 // open access groups
	d uint64 // done actions that others wait for
	x uint64 // results of noisy tests, a digit each
}

type solver struct {
	*problem
	budget int
	over   bool // the budget ran out
	table  map[state]float64
	rough  map[state]float64    // values of the greedy policy
	pairs  map[uint64][]float64 // by open groups: cheapest test between two causes
	cures  map[uint64][]float64 // by open groups: cheapest repair of a cause
	work   int
}

// child is one outcome of an action that does not end the search.
type child struct {
	st     state
	w      []float64
	label  string
	weight float64
	low    float64 // bound on its value, once asked for
}

// move is an action in a state: its own weighted cost and what it leads to.
type move struct {
	action   int
	cost     float64
	children []child
	low      float64 // bound on its value
}

func (p *problem) weight(s set, w []float64) float64 {
	sum := 0.0
	for k, b := range s {
		for ; b != 0; b &= b - 1 {
			sum += w[k*64+bits.TrailingZeros64(b)]
		}
	}
	return sum
}

func (s set) count() int {
	n := 0
	for _, b := range s {
		n += bits.OnesCount64(b)
	}
	return n
}

// access is the cost of the groups that still have to be opened.
func (p *problem) access(needs, open uint64) float64 {
	sum := 0.0
	for b := needs &^ open; b != 0; b &= b - 1 {
		sum += p.groups[bits.TrailingZeros64(b)]
	}
	return sum
}

// done tells whether nothing is left to find in a state.
func (p *problem) done(st state) bool {
	if st.s.empty() {
		return true
	}
	if p.goal == Fix {
		return false
	}
	first := -1
	for i := range p.n {
		if st.s.has(i) {
			if first < 0 {
				first = p.class[i]
			} else if p.class[i] != first {
				return false
			}
		}
	}
	return true
}

// moves lists the actions that change something in a state.
func (p *problem) moves(st state, w []float64) []move {
	total := p.weight(st.s, w)
	var out []move
	for k := range p.actions {
		a := &p.actions[k]
		if a.after&^st.d != 0 {
			continue
		}
		unlocks := a.bit&^st.d != 0
		next := state{s: st.s, g: st.g | a.needs, d: st.d | a.bit, x: st.x}
		m := move{action: k, cost: float64((a.cost + p.access(a.needs, st.g)) * total)}
		switch {
		case a.repair:
			next.s = st.s.minus(a.fixes)
			if next.s == st.s && !unlocks {
				continue
			}
			if !next.s.empty() {
				m.children = []child{{st: next, w: w, weight: p.weight(next.s, w)}}
			}
		case a.noisy:
			if st.x/a.digit%uint64(len(a.labels)+1) != 0 {
				continue // done already; again it would tell nothing new
			}
			for o, part := range a.parts {
				c := child{st: next, label: a.labels[o], w: make([]float64, p.n)}
				c.st.s = st.s.and(part)
				c.st.x += a.digit * uint64(o+1)
				if c.st.s.empty() {
					continue
				}
				for i := range p.n {
					if c.st.s.has(i) {
						c.w[i] = w[i] * a.like[o][i]
					}
				}
				c.weight = p.weight(c.st.s, c.w)
				m.children = append(m.children, c)
			}
		default:
			for o, part := range a.parts {
				c := child{st: next, w: w, label: a.labels[o]}
				c.st.s = st.s.and(part)
				if c.st.s.empty() {
					continue
				}
				c.weight = p.weight(c.st.s, w)
				m.children = append(m.children, c)
			}
			if len(m.children) == 1 && !unlocks {
				continue
			}
		}
		out = append(out, m)
	}
	return out
}

// bound never exceeds the value of a state.
//
// For identify: on the path of a cause stands a test that separates it from
// each cause of another class, with its access; so at least the dearest of the
// cheapest such tests. For fix: at least the cheapest repair of the cause.
func (s *solver) bound(st state, w []float64) float64 {
	if s.done(st) {
		return 0
	}
	sum := 0.0
	if s.goal == Fix {
		cure := s.cheapestCures(st.g)
		for i := range s.n {
			if st.s.has(i) {
				sum += float64(w[i] * cure[i])
			}
		}
		return sum
	}
	pair := s.cheapestPairs(st.g)
	members := make([]int, 0, s.n)
	for i := range s.n {
		if st.s.has(i) {
			members = append(members, i)
		}
	}
	for _, i := range members {
		most := 0.0
		for _, j := range members {
			if c := pair[i*s.n+j]; c > most {
				most = c
			}
		}
		sum += float64(w[i] * most)
	}
	return sum
}

func (s *solver) cheapestCures(open uint64) []float64 {
	if c, ok := s.cures[open]; ok {
		return c
	}
	c := make([]float64, s.n)
	for i := range c {
		c[i] = math.Inf(1)
		for k := range s.actions {
			if a := &s.actions[k]; a.repair && a.fixes.has(i) {
				c[i] = math.Min(c[i], a.cost+s.access(a.needs, open))
			}
		}
	}
	s.cures[open] = c
	return c
}

func (s *solver) cheapestPairs(open uint64) []float64 {
	if c, ok := s.pairs[open]; ok {
		return c
	}
	n := s.n
	c := make([]float64, n*n)
	for i := range c {
		c[i] = math.Inf(1)
	}
	for k := range s.actions {
		a := &s.actions[k]
		if a.repair {
			continue
		}
		cost := a.cost + s.access(a.needs, open)
		for i := range n {
			for j := range i {
				if cost < c[i*n+j] && a.separates(i, j) {
					c[i*n+j], c[j*n+i] = cost, cost
				}
			}
		}
	}
	for i := range n {
		for j := range n {
			// pairs that need not or cannot be separated ask for nothing
			if s.class[i] == s.class[j] || math.IsInf(c[i*n+j], 1) {
				c[i*n+j] = 0
			}
		}
	}
	s.pairs[open] = c
	return c
}

// separates tells whether the test can tell two causes apart.
func (a *action) separates(i, j int) bool {
	for _, part := range a.parts {
		if part.has(i) != part.has(j) {
			return true
		}
	}
	if a.noisy {
		for o := range a.like {
			if a.like[o][i] != a.like[o][j] {
				return true
			}
		}
	}
	return false
}

// value is the exact value of a state, or a lower bound once the budget ran out.
func (s *solver) value(st state, w []float64) float64 {
	if s.done(st) {
		return 0
	}
	if v, ok := s.table[st]; ok {
		return v
	}
	if len(s.table) >= s.budget {
		s.over = true
	}
	if s.over {
		return s.bound(st, w)
	}
	best, _ := s.best(s.moves(st, w), math.Inf(1))
	if math.IsInf(best, 1) {
		best = 0 // no test separates what is left: an ambiguity group
	}
	if !s.over {
		s.table[st] = best
	}
	return best
}

// best evaluates moves, most promising first, until none left can be better.
func (s *solver) best(moves []move, limit float64) (float64, int) {
	for i := range moves {
		m := &moves[i]
		m.low = m.cost
		for j := range m.children {
			c := &m.children[j]
			c.low = s.bound(c.st, c.w)
			m.low += c.low
		}
	}
	sort.SliceStable(moves, func(i, j int) bool { return moves[i].low < moves[j].low })
	best, which := limit, -1
	for i := range moves {
		m := &moves[i]
		if m.low >= best {
			break
		}
		if v := s.worth(m, best); v < best {
			best, which = v, i
		}
		if s.over {
			break
		}
	}
	return best, which
}

// worth is the exact value of a move; it gives up once above limit.
func (s *solver) worth(m *move, limit float64) float64 {
	v := m.low
	for _, c := range m.children {
		v += s.value(c.st, c.w) - c.low
		if v >= limit {
			return v
		}
	}
	// summed again in plain order, so that the value does not depend on bounds
	v = m.cost
	for _, c := range m.children {
		v += s.value(c.st, c.w)
	}
	return v
}

func (s *solver) exact(start state, firsts bool) Plan {
	if s.done(start) {
		return Plan{Optimal: true}
	}
	moves := s.moves(start, s.prior)
	if len(moves) == 0 {
		return Plan{Optimal: true}
	}
	best, which := s.best(moves, math.Inf(1))
	if s.over {
		return Plan{}
	}
	total := s.weight(start.s, s.prior)
	plan := Plan{ExpectedCost: best / total, LowerBound: best / total, Optimal: true}
	for i := range moves {
		if i != which && !firsts {
			continue
		}
		f := s.first(&moves[i], total, s.value)
		if s.over {
			// the answer stands; only this alternative is not worked out
			s.over = false
			continue
		}
		plan.Firsts = append(plan.Firsts, f)
	}
	sortFirsts(plan.Firsts, s.actions[moves[which].action].name)
	plan.FirstAction = plan.Firsts[0].Action
	return plan
}

func (s *solver) first(m *move, total float64, value func(state, []float64) float64) First {
	a := &s.actions[m.action]
	f := First{Action: a.name, Repair: a.repair}
	v := m.cost
	for _, c := range m.children {
		after := value(c.st, c.w)
		v += after
		f.Branches = append(f.Branches, Branch{c.label, c.weight / total, after / c.weight})
	}
	f.Value = v / total
	return f
}

func sortFirsts(firsts []First, chosen string) {
	sort.SliceStable(firsts, func(i, j int) bool {
		if (firsts[i].Action == chosen) != (firsts[j].Action == chosen) {
			return firsts[i].Action == chosen
		}
		return firsts[i].Value < firsts[j].Value
	})
}

// roll is the answer where the exact search is not affordable: at every state
// the action that is best when the greedy policy is used afterwards, with small
// sets solved exactly.
func (s *solver) roll(start state, firsts bool) Plan {
	// the exact search starts afresh for the small sets, with a second budget
	s.over, s.budget = false, len(s.table)+s.budget
	total := s.weight(start.s, s.prior)
	moves := s.moves(start, s.prior)
	var plan Plan
	best := math.Inf(1)
	chosen := ""
	for i := range moves {
		f := s.first(&moves[i], total, s.policy)
		if f.Value < best-1e-12 {
			best, chosen = f.Value, f.Action
		}
		plan.Firsts = append(plan.Firsts, f)
	}
	sortFirsts(plan.Firsts, chosen)
	if !firsts && len(plan.Firsts) > 1 {
		plan.Firsts = plan.Firsts[:1]
	}
	plan.FirstAction, plan.ExpectedCost = chosen, best
	plan.LowerBound = math.Min(best, s.lower(start)/total)
	plan.Optimal = plan.ExpectedCost-plan.LowerBound <= 1e-12*plan.ExpectedCost
	return plan
}

// lower is the better of the certificate and the bound by counting outcomes: an
// expected number of tests of at least H/log2(D), where a path of d tests costs
// at least the d cheapest.
func (s *solver) lower(start state) float64 {
	low := s.bound(start, s.prior)
	if s.goal != Identify {
		return low
	}
	mass := make(map[int]float64)
	total := s.weight(start.s, s.prior)
	for i := range s.n {
		if start.s.has(i) {
			mass[s.class[i]] += s.prior[i] / total
		}
	}
	h := 0.0
	for c := 0; c < s.n; c++ { // classes are numbered below n: a fixed order
		if q := mass[c]; q > 0 {
			h -= float64(q * math.Log2(q))
		}
	}
	var costs []float64
	outcomes := 2
	for k := range s.actions {
		if a := &s.actions[k]; !a.repair {
			costs = append(costs, a.cost)
			outcomes = max(outcomes, len(a.parts))
		}
	}
	sort.Float64s(costs)
	steps, sum := h/math.Log2(float64(outcomes)), 0.0
	for _, c := range costs {
		if steps <= 0 {
			break
		}
		sum += float64(c * math.Min(1, steps))
		steps--
	}
	if s.separable(start) {
		low = math.Max(low, float64(sum*total))
	}
	return low
}

// separable tells whether every pair of classes can be told apart; only then
// does the whole entropy have to be paid for.
func (s *solver) separable(start state) bool {
	for i := range s.n {
		for j := range i {
			if !start.s.has(i) || !start.s.has(j) || s.class[i] == s.class[j] {
				continue
			}
			found := false
			for k := range s.actions {
				if a := &s.actions[k]; !a.repair && a.separates(i, j) {
					found = true
					break
				}
			}
			if !found {
				return false
			}
		}
	}
	return true
}

// workLimit bounds the rollout in looked-at moves; beyond it the plain greedy
// policy goes on.
const workLimit = 400000

// policy is the value of rolling out: the action that is best when the greedy
// policy follows, then the same again.
func (s *solver) policy(st state, w []float64) float64 {
	if s.done(st) {
		return 0
	}
	if v, ok := s.small(st, w); ok {
		return v
	}
	if s.work > workLimit {
		return s.greedy(st, w)
	}
	moves := s.moves(st, w)
	if len(moves) == 0 {
		return 0
	}
	best, which := math.Inf(1), 0
	for i := range moves {
		v := moves[i].cost
		for _, c := range moves[i].children {
			v += s.greedy(c.st, c.w)
		}
		if v < best {
			best, which = v, i
		}
	}
	v := moves[which].cost
	for _, c := range moves[which].children {
		v += s.policy(c.st, c.w)
	}
	return v
}

// small solves a small set exactly while there is budget for it.
func (s *solver) small(st state, w []float64) (float64, bool) {
	if v, ok := s.table[st]; ok {
		return v, true
	}
	if st.s.count() > tail || s.noisy > 4 || len(s.table) >= s.budget {
		return 0, false
	}
	v := s.value(st, w)
	if s.over {
		s.over = false
		return 0, false
	}
	return v, true
}

// greedy is the value of the base policy. For identify: most entropy for the
// cost with its access. For fix: repairs by chance for their cost, or one test
// first where that is better.
func (s *solver) greedy(st state, w []float64) float64 {
	if s.done(st) {
		return 0
	}
	if v, ok := s.small(st, w); ok {
		return v
	}
	if v, ok := s.rough[st]; ok {
		return v
	}
	moves := s.moves(st, w)
	s.work += len(moves)
	if len(moves) == 0 {
		return 0
	}
	which, best := -1, math.Inf(1)
	for i := range moves {
		m := &moves[i]
		var v float64
		if s.goal == Fix {
			v = m.cost
			for _, c := range m.children {
				v += s.inTurn(c.st, c.w)
			}
		} else {
			total, gain := s.weight(st.s, w), 0.0
			for _, c := range m.children {
				if q := c.weight / total; q > 0 {
					gain -= float64(q * math.Log2(q))
				}
			}
			v = (m.cost + 1e-9) / (gain + 1e-9)
		}
		if v < best {
			which, best = i, v
		}
	}
	v := moves[which].cost
	for _, c := range moves[which].children {
		v += s.greedy(c.st, c.w)
	}
	s.rough[st] = v
	return v
}

// inTurn is the value of repairing in the order of chance for cost.
func (s *solver) inTurn(st state, w []float64) float64 {
	sum := 0.0
	for !st.s.empty() {
		total := s.weight(st.s, w)
		which, best, cost := -1, -1.0, 0.0
		for k := range s.actions {
			a := &s.actions[k]
			if !a.repair || a.after&^st.d != 0 {
				continue
			}
			gain := total - s.weight(st.s.minus(a.fixes), w)
			c := a.cost + s.access(a.needs, st.g)
			if r := gain / (c + 1e-9); st.s.minus(a.fixes) != st.s && r > best {
				which, best, cost = k, r, c
			}
		}
		if which < 0 {
			return math.Inf(1) // only after something else
		}
		a := &s.actions[which]
		sum += float64(cost * total)
		st.s, st.g, st.d = st.s.minus(a.fixes), st.g|a.needs, st.d|a.bit
	}
	return sum
}
