package solve

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"faultleaf/calc/inorder"
)

// Bounds from below. None is ever above the value of a state; each is proved in
// a few words where it is computed.

// view is what a set of open groups makes of costs.
type view struct {
	ends   []float64 // cheapest action that ends the way of each cause, with access; below 0 until it is asked for
	rivals [][]rival // of each cause: others by the cost of telling them apart, dearest first
}

type viewKey struct{ open, done uint64 }

type rival struct {
	cause int32
	cost  float64
}

// item is an action as a source of knowledge.
type item struct{ cost, bits float64 }

// bound never exceeds the value of a state.
func (s *solver) bound(at *node) float64 {
	if s.done(&at.st) {
		return 0
	}
	v := s.view(&at.st)
	if s.goal != Identify {
		return s.boundEnd(at, v)
	}
	// On the way of a cause stands a test that separates it from each cause of
	// another class, with its access: so at least the dearest of the cheapest
	// such tests.
	sum := 0.0
	st := &at.st
	for k := range s.words {
		for b := st.s[k]; b != 0; b &= b - 1 {
			i := k*64 + bits.TrailingZeros64(b)
			for _, r := range v.rivals[i] {
				if st.s.has(int(r.cause)) {
					sum += float64(at.w[i] * r.cost)
					break
				}
			}
		}
	}
	return max(sum/at.weight, s.knowledge(at))
}

// boundEnd: the cheapest action that can end the way of each cause, and before it
// enough knowledge. A repair that works itself says at most one bit, a test that
// confirms as many as its labels; all other bits come from actions before it.
func (s *solver) boundEnd(at *node, v *view) float64 {
	sum := 0.0
	for k := range s.words {
		for b := at.st.s[k]; b != 0; b &= b - 1 {
			i := k*64 + bits.TrailingZeros64(b)
			sum += float64(at.w[i] * s.end(v, at.st.g, i))
		}
	}
	return sum/at.weight + s.knowledge(at)
}

// knowledge is the least cost of what has to be known before the end of a state is
// reached.
func (s *solver) knowledge(at *node) float64 {
	if at.st.s.count() <= s.few {
		return 0 // whatever their chances, so many need not be told apart
	}
	return s.knapsack(s.entropy(at) - s.sharp)
}

// entropy of the classes in a state, in bits; 0 where it need not be paid for,
// as identify with noisy tests may end in doubt.
func (s *solver) entropy(at *node) float64 {
	if !s.plain && s.goal == Identify {
		return 0
	}
	sum := 0.0
	if s.classes == s.n && !s.plain {
		for k := range s.words {
			for b := at.st.s[k]; b != 0; b &= b - 1 {
				i := k*64 + bits.TrailingZeros64(b)
				if w := at.w[i]; w == s.prior[i] {
					sum += s.wlogw[i]
				} else if w > 0 {
					sum += float64(w * s.log2(w))
				}
			}
		}
	} else if s.classes == s.n {
		for k := range s.words {
			for b := at.st.s[k]; b != 0; b &= b - 1 {
				sum += s.wlogw[k*64+bits.TrailingZeros64(b)]
			}
		}
	} else {
		for k := range s.words {
			for b := at.st.s[k]; b != 0; b &= b - 1 {
				i := k*64 + bits.TrailingZeros64(b)
				s.mass[s.class[i]] += at.w[i]
			}
		}
		for k := range s.words {
			for b := at.st.s[k]; b != 0; b &= b - 1 {
				c := s.class[k*64+bits.TrailingZeros64(b)]
				if q := s.mass[c]; q > 0 {
					sum += float64(q * s.log2(q))
					s.mass[c] = 0
				}
			}
		}
	}
	return s.log2(at.weight) - sum/at.weight
}

// knapsack is the least cost of so many bits: an action used with chance x says
// at most x log2(outcomes) bits, and is used at most once on a way; cheapest
// bits first.
func (s *solver) knapsack(need float64) float64 {
	sum := 0.0
	need -= 1e-9 // rounding of the logarithms
	for _, f := range s.fill {
		if need <= f.bits {
			if need > 0 {
				sum += float64(f.cost * (need / f.bits))
			}
			return sum
		}
		sum += f.cost
		need -= f.bits
	}
	return sum
}

func (s *solver) prepareKnapsack() {
	for k := range s.actions {
		a := &s.actions[k]
		it := item{cost: a.cost, bits: 1}
		if !a.repair {
			a.bits = s.log2(float64(len(a.parts)))
			it.bits = a.bits
		}
		if it.bits > 0 {
			s.fill = append(s.fill, it)
		}
	}
	inorder.By(s.fill, func(a, b item) int { return cmp.Compare(a.cost*b.bits, b.cost*a.bits) })
	s.few = s.hidden()
	s.sharp = log2(float64(s.few))
	switch s.goal {
	case Fix:
		s.sharp++
		s.few *= 2
	case Confirm:
		labels := 1
		for k := range s.actions {
			labels = max(labels, len(s.actions[k].parts))
		}
		s.sharp += log2(float64(labels))
		s.few *= labels
	}
}

// ends are the causes whose way an action can end.
func (p *problem) endsOf(a *action) (s set) {
	if a.repair {
		return a.fixes
	}
	for o, yes := range a.proves {
		for k := range s {
			if yes {
				s[k] |= a.parts[o][k]
			}
		}
	}
	return s
}

// findEnders lists them the other way round.
func (p *problem) findEnders() {
	for i := range min(p.n, maxCauses) {
		first := len(p.ending)
		for k := range p.actions {
			if p.actions[k].ends.has(i) {
				p.ending = append(p.ending, int32(k))
			}
		}
		p.enders = append(p.enders, p.ending[first:len(p.ending):len(p.ending)])
	}
}

// hidden is a number of classes that may stay unparted at the end: where causes of
// different classes cannot be told apart by anything, or, for fix, where one
// repair cures causes of different classes.
func (s *solver) hidden() int {
	// the largest group of classes tied together
	tied := make([]int32, s.classes)
	for c := range tied {
		tied[c] = int32(c)
	}
	join := func(a, b int32) {
		from, to := tied[a], tied[b]
		for c := range tied {
			if tied[c] == from {
				tied[c] = to
			}
		}
	}
	if s.goal == Fix { // causes of two classes have not the same repairs, so a repair tells them apart
		for _, k := range s.repairs {
			one := int32(-1)
			for i := range s.n {
				if c := s.class[i]; s.actions[k].fixes.has(i) && one < 0 {
					one = c
				} else if s.actions[k].fixes.has(i) && tied[one] != tied[c] {
					join(one, c)
				}
			}
		}
	}
	for i := range s.n {
		for j := range i {
			if s.goal == Fix || s.class[i] == s.class[j] || tied[s.class[i]] == tied[s.class[j]] {
				continue
			}
			apart := false
			for k := range s.actions {
				if a := &s.actions[k]; a.kind[i] != a.kind[j] {
					apart = true
					break
				}
			}
			if !apart {
				join(s.class[i], s.class[j])
			}
		}
	}
	size := make([]int, s.classes)
	largest := 1
	for _, t := range tied {
		size[t]++
		largest = max(largest, size[t])
	}
	return largest
}

// view of what is open and which noisy tests are done, worked out once. A noisy
// test may be done and still leave two causes that it separates.
func (s *solver) view(st *state) *view {
	key := viewKey{open: st.g}
	if s.goal == Identify && st.x != 0 {
		for j, k := range s.noisy {
			if a := &s.actions[k]; st.x/a.digit%uint64(len(a.labels)+1) != 0 {
				key.done |= 1 << j
			}
		}
	}
	if s.lastView >= 0 && s.lastKey == key {
		return &s.views[s.lastView]
	}
	s.lastKey = key
	at := state{g: key.open, d: key.done}
	made := false
	if s.lastView, made = s.seen.number(&at); !made {
		return &s.views[s.lastView]
	}
	s.views = append(s.views, view{})
	open, v := st.g, &s.views[len(s.views)-1]
	if s.goal != Identify {
		if len(s.ends)+s.n > cap(s.ends) {
			s.ends = make([]float64, 0, together*s.n) // the views before keep what they have
		}
		first := len(s.ends)
		for range s.n {
			s.ends = append(s.ends, -1)
		}
		v.ends = s.ends[first:len(s.ends):len(s.ends)]
		return v
	}
	type priced struct {
		action *action
		cost   float64
	}
	var tests []priced
	for k := range s.actions {
		if j := slices.Index(s.noisy, k); j >= 0 && key.done>>j&1 == 1 {
			continue
		}
		if a := &s.actions[k]; !a.repair {
			tests = append(tests, priced{a, a.cost + s.access(a.needs, open)})
		}
	}
	inorder.By(tests, func(a, b priced) int { return cmp.Compare(a.cost, b.cost) })
	v.rivals = make([][]rival, s.n)
	for i := range s.n {
		for j := range i {
			if s.class[i] == s.class[j] {
				continue // need not be told apart
			}
			for _, t := range tests {
				if t.action.kind[i] != t.action.kind[j] {
					if t.cost > 0 {
						v.rivals[i] = append(v.rivals[i], rival{int32(j), t.cost})
						v.rivals[j] = append(v.rivals[j], rival{int32(i), t.cost})
					}
					break
				}
			}
		}
	}
	for _, list := range v.rivals {
		inorder.By(list, func(a, b rival) int { return cmp.Compare(b.cost, a.cost) })
	}
	return v
}

// end is the cost of the cheapest action that ends the way of a cause, by a view and
// what is open in it.
func (s *solver) end(v *view, open uint64, cause int) float64 {
	least := v.ends[cause]
	if least >= 0 {
		return least
	}
	least = math.Inf(1)
	for _, k := range s.enders[cause] {
		a := &s.actions[k]
		least = min(least, a.cost+a.again+s.access(a.needs, open))
	}
	v.ends[cause] = least
	return least
}

// logs are logarithms that were worked out: most are asked for again and again.
type logs [256]struct{ x, log float64 }

func (s *solver) log2(x float64) float64 {
	l := &s.logs[math.Float64bits(x)*0x9e3779b97f4a7c15>>56]
	if l.x != x {
		l.x, l.log = x, log2(x)
	}
	return l.log
}

var oneOver = [...]float64{1. / 21, 1. / 19, 1. / 17, 1. / 15, 1. / 13, 1. / 11, 1. / 9, 1. / 7, 1. / 5, 1. / 3, 1}

// log2 is the logarithm to base 2, to 1e-15. The library's differs in the last
// bit between machines, and a bound that differs may end the budget elsewhere;
// this one is made of operations that are the same everywhere.
func log2(x float64) float64 {
	m, e := math.Frexp(x)
	if m < math.Sqrt2/2 {
		m, e = m*2, e-1
	}
	// ln m = 2 (z + z³/3 + z⁵/5 + ...), |z| < 0.172
	z := (m - 1) / (m + 1)
	q, sum := z*z, 0.0
	for _, part := range &oneOver {
		sum = float64(sum*q) + part
	}
	return float64(e) + float64(float64(2*z*sum)/math.Ln2)
}
