package trace

import "errors"

// Goal says when a model's search for the fault ends.
type Goal string

// The goals. Identify ends when all causes still possible share a class or no
// test separates two classes; repairs do not count. Fix ends when the fault is
// cured, which one sees at once and free after a repair.
const (
	Identify Goal = "identify"
	Fix      Goal = "fix"
)

// Model is a bare fault-finding problem, solved as written: exactly one cause,
// costs in any one unit, results that are fixed properties of the device given
// the cause.
type Model struct {
	Goal    Goal
	Causes  []ModelCause
	Access  []Group
	Tests   []ModelTest
	Repairs []Repair
}

// ModelCause is a possible cause. Priors are scaled to sum to one.
type ModelCause struct {
	Name  string
	Prior float64
	Class string // causes of one class need not be told apart; default the name
}

// Group is access work, paid once, before the first action that needs it.
type Group struct {
	Name   string
	Cost   float64
	Inside string // group that must be open first; "" for none
}

// ModelTest is a test. Outcomes has one spread per cause.
type ModelTest struct {
	Name     string
	Cost     float64
	Needs    []string // access groups
	After    []string // actions that must have been done before
	Outcomes []Spread
}

// Spread is what a test shows under one cause: labels with chances that sum to
// one. A single label is a deterministic result.
type Spread []LabelChance

// LabelChance is one label of a spread.
type LabelChance struct {
	Label  string
	Chance float64
}

// Sure is a deterministic result.
func Sure(label string) Spread { return Spread{{label, 1}} }

// Repair cures every cause in Fixes (indices into Causes).
type Repair struct {
	Name  string
	Cost  float64
	Needs []string
	After []string
	Fixes []int
}

// Limits of a model.
const (
	maxCauses = 256
	maxBits   = 60 // access groups, and actions that others must come after
)

// set is a set of causes.
type set [maxCauses / 64]uint64

func (s set) has(i int) bool { return s[i/64]>>(i%64)&1 == 1 }
func (s *set) add(i int)     { s[i/64] |= 1 << (i % 64) }
func (s set) and(t set) set {
	for i := range s {
		s[i] &= t[i]
	}
	return s
}
func (s set) minus(t set) set {
	for i := range s {
		s[i] &^= t[i]
	}
	return s
}
func (s set) empty() bool { return s == set{} }

// action is a test or a repair in the solver's form.
type action struct {
	name   string
	repair bool
	cost   float64
	needs  uint64      // access groups with all their parents
	after  uint64      // done-bits that must be set
	bit    uint64      // its own done-bit, 0 if nothing waits for it
	fixes  set         // of a repair
	labels []string    // of a test, in order of first appearance
	parts  []set       // causes under which each label is possible
	noisy  bool        // some cause gives more than one label
	like   [][]float64 // label x cause, for a noisy test
	digit  uint64      // place value of its result in a state's results
}

// problem is a model made ready for solving.
type problem struct {
	goal    Goal
	n       int
	prior   []float64
	class   []int
	all     set
	groups  []float64 // cost
	parents []uint64  // a group with all its parents
	actions []action
	noisy   int
}

func ready(m *Model) (*problem, error) {
	p := &problem{goal: m.Goal, n: len(m.Causes)}
	switch {
	case m.Goal != Identify && m.Goal != Fix:
		return nil, errors.New("the goal is neither identify nor fix")
	case p.n == 0:
		return nil, errors.New("the model has no causes")
	case p.n > maxCauses:
		return nil, errors.New("the model has more causes than the engine takes (256)")
	case len(m.Access) > maxBits:
		return nil, errors.New("the model has more access groups than the engine takes (60)")
	}
	total := 0.0
	classes := map[string]int{}
	for _, c := range m.Causes {
		if !(c.Prior >= 0) || c.Prior > 1e300 {
			return nil, errors.New("the prior of " + c.Name + " is not a chance")
		}
		total += c.Prior
	}
	if !(total > 0) {
		return nil, errors.New("all priors are zero, so nothing can have failed")
	}
	for i, c := range m.Causes {
		p.prior = append(p.prior, c.Prior/total)
		class := c.Class
		if class == "" {
			class = "\x00" + c.Name
		}
		if _, ok := classes[class]; !ok {
			classes[class] = len(classes)
		}
		p.class = append(p.class, classes[class])
		if c.Prior > 0 { // a cause that cannot be needs no finding
			p.all.add(i)
		}
	}
	if err := p.readAccess(m.Access); err != nil {
		return nil, err
	}
	return p, p.readActions(m)
}

func (p *problem) readAccess(groups []Group) error {
	index := map[string]int{}
	for i, g := range groups {
		if _, twice := index[g.Name]; twice {
			return errors.New("the access " + g.Name + " is declared twice")
		}
		if !(g.Cost >= 0) || g.Cost > 1e12 {
			return errors.New("the cost of the access " + g.Name + " is not a number of minutes")
		}
		index[g.Name] = i
		p.groups = append(p.groups, g.Cost)
	}
	for i, g := range groups {
		closure := uint64(1) << i
		for steps, at := 0, g; at.Inside != ""; steps++ {
			j, ok := index[at.Inside]
			if !ok {
				return errors.New("the access " + at.Name + " lies inside " + at.Inside + ", which is not declared")
			}
			if steps > len(groups) {
				return errors.New("the access " + g.Name + " lies inside itself")
			}
			closure |= 1 << j
			at = groups[j]
		}
		p.parents = append(p.parents, closure)
	}
	return nil
}

func (p *problem) readActions(m *Model) error {
	groupIndex := map[string]int{}
	for i, g := range m.Access {
		groupIndex[g.Name] = i
	}
	// names that others must come after get a done-bit
	bits := map[string]uint64{}
	want := func(after []string) {
		for _, name := range after {
			if _, ok := bits[name]; !ok {
				bits[name] = 1 << len(bits)
			}
		}
	}
	for _, t := range m.Tests {
		want(t.After)
	}
	for _, r := range m.Repairs {
		want(r.After)
	}
	if len(bits) > maxBits {
		return errors.New("more actions are prerequisites than the engine takes (60)")
	}
	names := map[string]bool{}
	common := func(name string, cost float64, needs, after []string) (action, error) {
		a := action{name: name, cost: cost, bit: bits[name]}
		if names[name] {
			return a, errors.New("the name " + name + " stands for two actions")
		}
		names[name] = true
		if !(cost >= 0) || cost > 1e12 {
			return a, errors.New("the cost of " + name + " is not a number of minutes")
		}
		for _, g := range needs {
			i, ok := groupIndex[g]
			if !ok {
				return a, errors.New(name + " needs the access " + g + ", which is not declared")
			}
			a.needs |= p.parents[i]
		}
		for _, b := range after {
			a.after |= bits[b]
		}
		return a, nil
	}
	digit := uint64(1)
	for _, t := range m.Tests {
		a, err := common(t.Name, t.Cost, t.Needs, t.After)
		if err != nil {
			return err
		}
		if len(t.Outcomes) != p.n {
			return errors.New("the test " + t.Name + " does not say its outcome for every cause")
		}
		if err := p.readOutcomes(&a, t); err != nil {
			return err
		}
		if a.noisy {
			a.digit = digit
			size := uint64(len(a.labels) + 1)
			if digit > (1<<62)/size {
				return errors.New("the model has more noisy tests than the engine takes")
			}
			digit *= size
			p.noisy++
		}
		p.actions = append(p.actions, a)
	}
	var curable set
	for _, r := range m.Repairs {
		a, err := common(r.Name, r.Cost, r.Needs, r.After)
		if err != nil {
			return err
		}
		a.repair = true
		for _, i := range r.Fixes {
			if i < 0 || i >= p.n {
				return errors.New("the repair " + r.Name + " cures a cause that is not there")
			}
			a.fixes.add(i)
			curable.add(i)
		}
		if p.goal == Fix {
			p.actions = append(p.actions, a)
		}
	}
	for name := range bits {
		if !names[name] {
			return errors.New("an action must come after " + name + ", which is not there")
		}
	}
	if left := p.all.minus(curable); p.goal == Fix && !left.empty() {
		for i, c := range m.Causes {
			if left.has(i) {
				return errors.New("no repair cures " + c.Name + ", so the goal fix cannot be reached")
			}
		}
	}
	return nil
}

func (p *problem) readOutcomes(a *action, t ModelTest) error {
	index := map[string]int{}
	for i, spread := range t.Outcomes {
		sum := 0.0
		for _, lc := range spread {
			if !(lc.Chance >= 0) || lc.Chance > 1+1e-9 {
				return errors.New("the test " + t.Name + " has an outcome whose chance is not between 0 and 1")
			}
			sum += lc.Chance
			if lc.Chance == 0 {
				continue
			}
			k, ok := index[lc.Label]
			if !ok {
				k = len(a.labels)
				index[lc.Label] = k
				a.labels = append(a.labels, lc.Label)
				a.parts = append(a.parts, set{})
				a.like = append(a.like, make([]float64, p.n))
			}
			a.parts[k].add(i)
			a.like[k][i] += lc.Chance
			if lc.Chance < 1-1e-12 {
				a.noisy = true
			}
		}
		if sum < 1-1e-6 || sum > 1+1e-6 {
			return errors.New("the chances of the outcomes of " + t.Name + " do not sum to one for every cause")
		}
	}
	return nil
}
