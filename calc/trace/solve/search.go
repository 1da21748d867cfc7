package solve

import (
	"math"
	"math/bits"
)

// The exact search.
//
// A state is the set of causes still possible, the access groups already open,
// the done actions that others wait for, and the results of noisy tests. Its
// value is the expected cost from there on:
//
//	value(state) = min over actions of  cost + sum over outcomes of share * value(next state)
//
// The table holds for each state what is proved of it: its value, or a bound
// from below. search(state, limit) works only until it knows the value or knows
// that it is at least limit. The root is asked again and again with a slowly
// rising limit, so states that no good policy comes to are never looked into,
// and what is proved when the budget ends is a lower bound on the whole.

// state is a key of the table.
type state struct {
	s set
	g uint64 // open access groups
	d uint64 // done actions that others wait for
	x uint64 // results of noisy tests, a digit each
}

// entry is what is proved of a state: its value lies at or above low, and is
// low if solved; act is then the action to take, -1 if none is left.
type entry struct {
	low    float64
	act    int32
	solved bool
}

// node is a state with the weights of its causes: prior times the chance of
// all that was read.
type node struct {
	st     state
	w      []float64
	weight float64 // sum over the state's causes
	// live are the actions that may change something here, nil for all: those that
	// did in the state before, until the stacks are released to where it was entered.
	live []int32
}

// child is one outcome of an action that does not end the search. It holds no
// pointer: thousands lie on the stacks, and nobody has to look through them.
type child struct {
	s      set
	x      uint64
	weight float64
	low    float64 // bound on its value
	label  int32
	own    int32 // its weights, as stacks has them; -1 where they are those of the state before
}

// move is an action in a state: its cost and what it leads to.
type move struct {
	action       int32
	first, count int32 // its children on the stacks
	cost         float64
	low          float64 // bound on its value
}

// most is above every cost; a state that is never finished is worth more.
const most = 1e100

type solver struct {
	problem
	budget   int
	brief    bool // the fallback has little to spend
	spent    int  // states looked into
	over     bool // the budget ran out
	states   table
	proved   int     // states of which something is proved
	every    []int32 // all actions
	tails    int     // states that small sets of the fallback may take
	rolling  bool    // the fallback has its budget
	seen     table   // views by open groups
	views    []view  // as seen finds them
	lastKey  viewKey // of the view that was asked for last
	lastView int
	logs     *logs
	ends     []float64 // of the views
	sharp    float64   // bits that costs nothing to know; see knapsack
	few      int       // as many causes need never more than these
	plain    bool      // no noise: weights are the priors
	waiting  bool      // some actions must come after others
	wlogw    []float64 // prior * log2(prior)
	fill     []item    // actions by cost per bit
	mass     []float64 // scratch, by class
	work     int       // looks of the simple policy
	effort   int       // how many of them the fallback may take
	stacks
	seems []float64 // scratch: what each move is rated at
	least []float64 // scratch: the best of them
	turns []ranked  // scratch: repairs in turn
	here  here
}

// here is the state whose moves are made, its causes one after the other.
type here struct {
	causes  []int32
	weights []float64
	sums    []float64 // of the weights before each
	shown   []float64 // scratch: of a test, by label
}

// gather makes ready for the moves of a state.
func (s *solver) gather(at *node) {
	h := &s.here
	h.causes, h.weights, h.sums = h.causes[:0], h.weights[:0], h.sums[:0]
	sum := 0.0
	for k := range s.words {
		for b := at.st.s[k]; b != 0; b &= b - 1 {
			i := k*64 + bits.TrailingZeros64(b)
			h.causes, h.weights, h.sums = append(h.causes, int32(i)), append(h.weights, at.w[i]), append(h.sums, sum)
			sum += at.w[i]
		}
	}
}

// alike tells whether all causes here are of one kind.
func (h *here) alike(kind []int32) bool {
	for _, i := range h.causes {
		if kind[i] != kind[h.causes[0]] {
			return false
		}
	}
	return true
}

// split is the weight of the causes here that show each label of a test, until it is
// asked again.
func (h *here) split(a *action) []float64 {
	h.shown = h.shown[:0]
	for range a.parts {
		h.shown = append(h.shown, 0)
	}
	for j, i := range h.causes {
		h.shown[a.shows[i]] += h.weights[j]
	}
	return h.shown
}

// without is the weight of the causes here that are not in a set.
func (h *here) without(s *set) float64 {
	for j, i := range h.causes {
		if !s.has(int(i)) {
			continue
		}
		sum := h.sums[j]
		for j++; j < len(h.causes); j++ {
			if !s.has(int(h.causes[j])) {
				sum += h.weights[j]
			}
		}
		return sum
	}
	return 0
}

// stacks hold what is worked on in the states being searched, so that nothing is
// allocated for each of them. Who takes from them puts back with release.
type stacks struct {
	moved  []move
	spread []child
	order  []int
	lives  []int32     // actions that change something
	slabs  [][]float64 // weights of children under noisy tests
	width  int         // numbers that each weights have room for
	top    int32       // as many weights are taken from them
}

// mark is how high the stacks stood.
type mark struct {
	moved, spread, order, lives int
	top                         int32
}

func (s *stacks) mark() mark {
	return mark{len(s.moved), len(s.spread), len(s.order), len(s.lives), s.top}
}

func (s *stacks) release(m mark) {
	s.moved, s.spread, s.order, s.lives, s.top = s.moved[:m.moved], s.spread[:m.spread], s.order[:m.order], s.lives[:m.lives], m.top
}

// together is the number of weights that are taken from the heap at once.
const together = 64

// weights takes weights, of any value, from the slabs.
func (s *stacks) weights() int32 {
	at := s.top
	if s.top++; int(at/together) == len(s.slabs) {
		s.slabs = append(s.slabs, make([]float64, together*s.width))
	}
	return at
}

// own are the n weights that were taken as the at-th.
func (s *stacks) own(at int32, n int) []float64 {
	first := int(at%together) * s.width
	return s.slabs[at/together][first : first+n : first+n]
}

// children are what a move leads to, until the stacks are added to.
func (s *stacks) children(m *move) []child { return s.spread[m.first : m.first+m.count] }

// enter is the state that a child of a move stands for.
func (s *solver) enter(at *node, m *move, c *child) node {
	a := &s.actions[m.action]
	n := node{state{c.s, at.st.g | a.needs, at.st.d | a.bit, c.x}, at.w, c.weight, at.live}
	if c.own >= 0 {
		n.w = s.own(c.own, s.n)
	}
	return n
}

// begin makes a solver ready for its problem, in the room of the problem before it.
func (s *solver) begin(o Options) {
	slabs, width := s.slabs, s.width
	if s.n > width {
		slabs, width = nil, s.n
	}
	*s = solver{problem: s.problem, budget: o.Budget, brief: o.Brief, plain: len(s.noisy) == 0, states: s.states.emptied(s.words), seen: s.seen.emptied(0),
		views: s.views[:0], lastView: -1, logs: s.logs, here: s.here, every: s.every[:0], ends: s.ends[:0], wlogw: s.wlogw[:0], fill: s.fill[:0], mass: s.mass[:0], seems: s.seems, least: s.least, turns: s.turns,
		stacks: stacks{moved: s.moved[:0], spread: s.spread[:0], order: s.order[:0], lives: s.lives[:0], slabs: slabs, width: width}}
	if s.logs == nil {
		s.logs = &logs{}
	}
	s.mass = append(s.mass, make([]float64, s.classes)...)
	for _, q := range s.prior {
		s.wlogw = append(s.wlogw, q*log2(q))
	}
	for k := range s.actions {
		s.every = append(s.every, int32(k))
		s.waiting = s.waiting || s.actions[k].after != 0
	}
	s.prepareKnapsack()
}

func (p *problem) weight(s set, w []float64) float64 {
	sum := 0.0
	for k := range p.words {
		for b := s[k]; b != 0; b &= b - 1 {
			sum += w[k*64+bits.TrailingZeros64(b)]
		}
	}
	return sum
}

// common is the weight of the causes that two sets have in common.
func (p *problem) common(s, t *set, w []float64) float64 {
	sum := 0.0
	for k := range p.words {
		for b := s[k] & t[k]; b != 0; b &= b - 1 {
			sum += w[k*64+bits.TrailingZeros64(b)]
		}
	}
	return sum
}

func (s *set) count() int {
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
func (p *problem) done(st *state) bool {
	if p.goal != Identify {
		return st.s.empty()
	}
	first := int32(-1)
	for k := range p.words {
		for b := st.s[k]; b != 0; b &= b - 1 {
			c := p.class[k*64+bits.TrailingZeros64(b)]
			if first < 0 {
				first = c
			} else if c != first {
				return false
			}
		}
	}
	return true
}

// alike tells whether an action shows all causes of a set in the same way.
func (p *problem) alike(a *action, s *set) bool {
	first := int32(-1)
	for k := range p.words {
		for b := s[k]; b != 0; b &= b - 1 {
			c := a.kind[k*64+bits.TrailingZeros64(b)]
			if first < 0 {
				first = c
			} else if c != first {
				return false
			}
		}
	}
	return true
}

// meet tells whether two sets have causes in common.
func (p *problem) meet(s, t *set) bool {
	for k := range p.words {
		if s[k]&t[k] != 0 {
			return true
		}
	}
	return false
}

// proves tells whether a test can confirm one of the causes of a set.
func (p *problem) proves(a *action, s *set) bool {
	for o, yes := range a.proves {
		if part := s.and(a.parts[o]); yes && !part.empty() {
			return true
		}
	}
	return false
}

// forget drops the result of a noisy test once it weighs all causes that are
// left alike: it tells no more, and states that differ in it alone are the same.
// Not where it might still confirm: it is done only once.
func (p *problem) forget(s *set, x uint64) uint64 {
	if x == 0 || p.goal == Confirm {
		return x
	}
	for _, k := range p.noisy {
		a := &p.actions[k]
		if digit := x / a.digit % uint64(len(a.labels)+1); digit != 0 && p.alike(a, s) {
			x -= digit * a.digit
		}
	}
	return x
}

// moves puts the actions that change something in a state on the solver's
// stacks. The caller takes them off again with release.
func (s *solver) moves(at *node) []move {
	first, alive := len(s.moved), len(s.lives)
	s.gather(at)
	for _, k := range s.alive(at) {
		if m, ok := s.move(at, int(k)); ok {
			s.moved, s.lives = append(s.moved, m), append(s.lives, k)
		}
	}
	s.live(at, alive)
	moves := s.moved[first:len(s.moved):len(s.moved)]
	if s.goal == Identify && s.waiting && !s.separable(at) {
		return nil // what could still be done would unlock nothing of use
	}
	return moves
}

// alive are the actions that may change something in a state. What changes nothing
// there changes nothing in any state that it leads to, unless actions wait for others.
func (s *solver) alive(at *node) []int32 {
	if at.live == nil {
		return s.every
	}
	return at.live
}

// live notes the actions that were put on the stack since as those that change
// something in a state.
func (s *solver) live(at *node, since int) {
	if !s.waiting {
		at.live = s.lives[since:len(s.lives):len(s.lives)]
	}
}

// separable tells whether some test, locked or not, shows causes of a state
// differently. As the state holds several classes, it then tells two apart.
func (s *solver) separable(at *node) bool {
	for k := range s.actions {
		a := &s.actions[k]
		done := a.noisy && at.st.x/a.digit%uint64(len(a.labels)+1) != 0
		if !done && !s.alike(a, &at.st.s) {
			return true
		}
	}
	return false
}

// move is one of them. The state must be gathered.
func (s *solver) move(at *node, k int) (move, bool) {
	a := &s.actions[k]
	st := &at.st
	if a.after&^st.d != 0 {
		return move{}, false
	}
	unlocks := a.bit&^st.d != 0
	m := move{action: int32(k), first: int32(len(s.spread))}
	switch {
	case a.repair:
		if !unlocks && !s.meet(&st.s, &a.fixes) {
			return m, false
		}
		m.cost = a.cost + s.access(a.needs, st.g)
		left := 0.0
		if next := st.s.minus(a.fixes); !next.empty() {
			left = s.here.without(&a.fixes)
			s.spread = append(s.spread, child{s: next, x: s.forget(&next, st.x), weight: left, label: -1, own: -1})
			m.count = 1
		}
		if a.again > 0 {
			m.cost += float64(a.again * max(0, at.weight-left) / at.weight)
		}
	case a.noisy:
		if st.x/a.digit%uint64(len(a.labels)+1) != 0 || !unlocks && s.here.alike(a.kind) && !s.proves(a, &st.s) {
			return m, false // done already, or it tells nothing
		}
		m.cost = a.cost + s.access(a.needs, st.g)
		for o := range a.parts {
			if a.proves[o] || !s.meet(&st.s, &a.parts[o]) {
				continue
			}
			c := child{s: st.s.and(a.parts[o]), label: int32(o), own: s.weights()}
			w, like := s.own(c.own, s.n), a.like[o*s.n:(o+1)*s.n]
			clear(w)
			for j, i := range s.here.causes {
				if l := like[i]; l != 0 {
					w[i] = s.here.weights[j] * l
					c.weight += w[i]
				}
			}
			if !(c.weight > 0) {
				continue // too unlikely to be told from never
			}
			c.x = s.forget(&c.s, st.x+a.digit*uint64(o+1))
			s.spread = append(s.spread, c)
		}
		m.count = int32(len(s.spread)) - m.first
	default:
		if !unlocks && s.here.alike(a.shows) && !a.proves[a.shows[s.here.causes[0]]] {
			return m, false // nothing else can come of it
		}
		m.cost = a.cost + s.access(a.needs, st.g)
		for o, weight := range s.here.split(a) {
			if a.proves[o] || !(weight > 0) || !s.meet(&st.s, &a.parts[o]) {
				continue
			}
			c := child{s: st.s.and(a.parts[o]), label: int32(o), own: -1, weight: weight}
			c.x = s.forget(&c.s, st.x)
			s.spread = append(s.spread, c)
		}
		m.count = int32(len(s.spread)) - m.first
	}
	return m, true
}

// boundAll bounds moves, keeps those below limit, and tells the least bound of
// the others.
func (s *solver) boundAll(moves []move, at *node, limit float64) (kept []move, rest float64) {
	rest = math.Inf(1)
	kept = moves[:0]
	for i := range moves {
		m := &moves[i]
		m.low = m.cost
		for j := range s.children(m) {
			if m.low >= limit {
				break // what is known is enough to leave it out
			}
			c := &s.spread[int(m.first)+j]
			n := s.enter(at, m, c)
			c.low = s.low(&n)
			m.low += float64(c.low * (c.weight / at.weight))
		}
		if m.low < limit {
			kept = append(kept, *m)
		} else {
			rest = min(rest, m.low)
		}
	}
	return kept, rest
}

// promote brings the most promising move to the front, the first of equals; the
// others stay in their order.
func promote(moves []move) {
	best := 0
	for i := range moves {
		if moves[i].low < moves[best].low {
			best = i
		}
	}
	m := moves[best]
	copy(moves[1:best+1], moves[:best])
	moves[0] = m
}

// low is the best that is known of a state from below.
func (s *solver) low(at *node) float64 {
	if x := s.states.find(&at.st); x != nil && x.proved {
		return x.low
	}
	return s.bound(at)
}

// search works on a state until its value is known, or known to be at least
// limit, or the budget is gone. What it gives is never above the value.
func (s *solver) search(state node, limit float64) (low float64, solved bool) {
	at := &state
	if s.done(&at.st) {
		return 0, true
	}
	e, known := s.proof(&at.st)
	if !known {
		e = entry{low: s.bound(at), act: -1}
	}
	if e.solved || e.low >= limit || s.over {
		return e.low, e.solved
	}
	if s.spent >= s.budget {
		s.over = true
		return e.low, false
	}
	s.spent++
	top := s.mark()
	moves := s.moves(at)
	if len(moves) == 0 {
		e.low, e.solved, e.act = 0, true, -1 // no test separates what is left
		if s.goal != Identify {
			e.low = math.Inf(1)
		}
		s.prove(&at.st, e)
		s.release(top)
		return e.low, true
	}
	best := math.Inf(1)                         // value found
	moves, rest := s.boundAll(moves, at, limit) // rest bounds what is not worked out
	for i := range moves {
		promote(moves[i:]) // most are never looked at, so they are not put in order
		m := &moves[i]
		cap := min(best, limit)
		if m.low >= cap {
			rest = min(rest, m.low)
			break // so are all behind it
		}
		v, ok := s.worth(m, at, cap)
		if ok && v < best {
			best, e.act = v, m.action
		} else if !ok {
			rest = min(rest, v)
		}
	}
	if best <= rest {
		e.low, e.solved = best, true
	} else {
		e.low = max(e.low, min(best, rest))
	}
	s.prove(&at.st, e)
	s.release(top)
	return e.low, e.solved
}

// worth is the value of a move, or a bound on it that is at least limit, or
// what was proved of it when the budget ended.
func (s *solver) worth(m *move, at *node, limit float64) (v float64, exact bool) {
	v, exact = m.low, true
	for done := range int(m.count) {
		// the heaviest first: it decides most
		children := s.children(m)
		for j := done + 1; j < len(children); j++ {
			if children[j].weight > children[done].weight {
				children[j], children[done] = children[done], children[j]
			}
		}
		c := &children[done]
		share := c.weight / at.weight
		room := (limit - v) / share
		n, first := s.enter(at, m, c), c.low
		low, ok := s.search(n, first+room)
		exact = exact && ok
		if math.IsInf(low, 1) {
			return low, ok
		}
		v += float64(share * (low - first))
		s.spread[int(m.first)+done].low = low
		if v >= limit && (!ok || done < int(m.count)-1) {
			return v, false
		}
	}
	// summed again in plain order, so that the value does not depend on bounds
	v = m.cost
	for _, c := range s.children(m) {
		v += float64(c.weight / at.weight * c.low)
	}
	return v, exact
}

// exact asks the root with a rising limit until it is solved or the budget is
// gone.
func (s *solver) exact(start node) Plan {
	step := 1e-9
	for k := range s.actions {
		step += s.actions[k].cost / float64(100*len(s.actions))
	}
	limit := s.bound(&start) + step
	for {
		low, solved := s.search(start, limit)
		if solved {
			plan := Plan{ExpectedCost: low, LowerBound: low, Optimal: true, First: None}
			if e, _ := s.proof(&start.st); e.act >= 0 {
				plan.First = s.actions[e.act].id
				plan.Firsts = []First{s.first(&start, int(e.act))}
			}
			return plan
		}
		if s.over {
			return Plan{LowerBound: low}
		}
		limit = float64(max(low, limit)*1.03) + step
	}
}

// first describes an action as a first step, by what the policy does then.
func (s *solver) first(at *node, k int) First {
	a := &s.actions[k]
	f := First{Action: a.id}
	defer s.release(s.mark())
	s.gather(at)
	m, ok := s.move(at, k)
	if !ok {
		return f
	}
	f.Value = m.cost
	for j := range int(m.count) {
		c := s.children(&m)[j]
		after := s.policy(s.enter(at, &m, &c))
		f.Value += float64(c.weight / at.weight * after)
		f.Branches = append(f.Branches, Branch{a.label(int(c.label)), c.weight / at.weight, after})
	}
	return f
}
