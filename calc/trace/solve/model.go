package solve

import (
	"encoding/binary"
	"errors"
	"math"
	"slices"
)

// Goal says when a model's search for the fault ends.
type Goal string

// The goals. Identify ends when all causes still possible share a class or no
// test separates two classes; repairs do not count. Confirm ends when a test has
// shown what only causes of one class show, though by then nothing else may be
// possible any more; repairs do not count. Fix ends when the fault is cured,
// which one sees at once and free after a repair.
const (
	Identify Goal = "identify"
	Confirm  Goal = "confirm"
	Fix      Goal = "fix"
)

// Model is a bare fault-finding problem, solved as written: exactly one cause,
// costs in any one unit, results that are fixed properties of the device given
// the cause.
type Model struct {
	Goal    Goal
	Causes  []Cause
	Access  []Group
	Tests   []Test
	Repairs []Repair
}

// Action is a test or a repair of a model, by its place in Tests or in Repairs.
type Action struct {
	Repair bool
	At     int
}

// None is no action.
var None = Action{At: -1}

// Name is the name of an action as the model has it, "" for none.
func (m *Model) Name(a Action) string {
	switch {
	case a.At < 0:
		return ""
	case a.Repair:
		return m.Repairs[a.At].Name
	}
	return m.Tests[a.At].Name
}

// Cause is a possible cause. Priors are scaled to sum to one.
type Cause struct {
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

// Test is a test. Outcomes has one spread per cause.
type Test struct {
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
	// Succeeds is the chance that the work holds; 0 means 1. Where it does not
	// hold it is noticed as such (the new part reads bad) and done again, so a
	// cause that the repair cures pays Cost/Succeeds on average, any other Cost.
	Succeeds float64
}

// Limits of a model.
const (
	maxModel  = 4096  // causes as written
	maxCauses = 256   // causes that differ
	never     = 1e-30 // a smaller chance is none
	maxBits   = 60    // access groups, and actions that others must come after
)

// set is a set of causes.
type set [maxCauses / 64]uint64

func (s *set) has(i int) bool { return s[uint(i)/64]>>(uint(i)%64)&1 == 1 }
func (s *set) add(i int)      { s[i/64] |= 1 << (i % 64) }
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
	id     Action
	repair bool
	cost   float64
	again  float64     // of a repair: further cost under the causes it cures
	needs  uint64      // access groups with all their parents
	after  uint64      // done-bits that must be set
	bit    uint64      // its own done-bit, 0 if nothing waits for it
	fixes  set         // of a repair
	ends   set         // causes whose way it can end
	labels []string    // of a test, in order of first appearance
	parts  []set       // causes under which each label is possible
	proves []bool      // that only causes of one class show the label; for confirm
	kind   []int32     // cause by cause: those of one kind it never tells apart
	noisy  bool        // some cause gives more than one label
	like   [][]float64 // label x cause, for a noisy test, and for confirm
	digit  uint64      // place value of its result in a state's results
}

// problem is a model made ready for solving.
type problem struct {
	goal    Goal
	n       int     // causes, after merging
	words   int     // of a set that are in use
	members [][]int // the model's causes behind each
	names   []string
	prior   []float64
	class   []int32
	classes int
	all     set
	groups  []float64 // cost
	parents []uint64  // a group with all its parents
	actions []action
	noisy   []int // indices of noisy actions
	repairs []int32
}

func ready(m *Model) (*problem, error) {
	p := &problem{goal: m.Goal}
	switch {
	case m.Goal != Identify && m.Goal != Confirm && m.Goal != Fix:
		return nil, errors.New("the goal is none of identify, confirm and fix")
	case len(m.Causes) == 0:
		return nil, errors.New("the model has no causes")
	case len(m.Causes) > maxModel:
		return nil, errors.New("the model has more causes than the engine takes (4096)")
	case len(m.Access) > maxBits:
		return nil, errors.New("the model has more access groups than the engine takes (60)")
	}
	total := 0.0
	for _, c := range m.Causes {
		if !(c.Prior >= 0) || c.Prior > 1e300 {
			return nil, errors.New("the prior of " + c.Name + " is not a chance")
		}
		p.names = append(p.names, c.Name)
		total += c.Prior
	}
	if !(total > 0) || total > 1e300 {
		return nil, errors.New("all priors are zero, so nothing can have failed")
	}
	if err := p.readAccess(m.Access); err != nil {
		return nil, err
	}
	if err := check(m); err != nil {
		return nil, err
	}
	p.merge(m, total)
	if p.n > maxCauses {
		return nil, errors.New("the model has more causes that differ than the engine takes (256)")
	}
	if err := p.readActions(m); err != nil {
		return nil, err
	}
	for k := range p.actions {
		p.actions[k].ends = p.endsOf(&p.actions[k])
	}
	return p, p.confirmable()
}

// confirmable refuses a search for a confirmation that some cause never gets.
func (p *problem) confirmable() error {
	if p.goal != Confirm {
		return nil
	}
	for i := range p.n {
		proved := false
		for k := range p.actions {
			for o, proves := range p.actions[k].proves {
				proved = proved || proves && p.actions[k].like[o][i] >= 1-1e-12
			}
		}
		if !proved {
			return errors.New("no test confirms " + p.names[p.members[i][0]] + ", so the goal confirm cannot be reached")
		}
	}
	return nil
}

// check refuses tests and repairs that do not fit the causes.
func check(m *Model) error {
	curable := make([]bool, len(m.Causes))
	for _, t := range m.Tests {
		if len(t.Outcomes) != len(m.Causes) {
			return errors.New("the test " + t.Name + " does not say its outcome for every cause")
		}
		for _, spread := range t.Outcomes {
			sum := 0.0
			for _, lc := range spread {
				if !(lc.Chance >= 0) || lc.Chance > 1+1e-9 {
					return errors.New("the test " + t.Name + " has an outcome whose chance is not between 0 and 1")
				}
				sum += lc.Chance
			}
			if sum < 1-1e-6 || sum > 1+1e-6 {
				return errors.New("the chances of the outcomes of " + t.Name + " do not sum to one for every cause")
			}
		}
	}
	for _, r := range m.Repairs {
		if !(r.Succeeds >= 0 && r.Succeeds <= 1) {
			return errors.New("the chance that " + r.Name + " succeeds is not between 0 and 1")
		}
		for _, i := range r.Fixes {
			if i < 0 || i >= len(m.Causes) {
				return errors.New("the repair " + r.Name + " cures a cause that is not there")
			}
			curable[i] = true
		}
	}
	for i, c := range m.Causes {
		if m.Goal == Fix && !curable[i] && c.Prior > 0 {
			return errors.New("no repair cures " + c.Name + ", so the goal fix cannot be reached")
		}
	}
	return nil
}

// merge makes one cause of those that no action and no class tells apart, and
// leaves out causes that cannot be. Order is that of the first of each.
func (p *problem) merge(m *Model, total float64) {
	index := map[string]int{}
	classes := map[string]int32{}
	cures := make([][]byte, len(m.Causes))
	for k, r := range m.Repairs {
		for _, i := range r.Fixes {
			cures[i] = append(cures[i], byte(k), byte(k>>8), byte(k>>16))
		}
	}
	var key []byte // used again for each cause: what tells it from others, its class first
	for i, c := range m.Causes {
		if c.Prior/total < never {
			continue
		}
		switch key = key[:0]; {
		case p.goal == Fix:
			key = append(key, cures[i]...) // what counts is who cures it
		case c.Class == "":
			key = append(append(key, 0), c.Name...)
		default:
			key = append(key, c.Class...)
		}
		class := len(key)
		key = append(append(key, 0), cures[i]...)
		for _, t := range m.Tests {
			key = append(key, 1)
			for _, lc := range t.Outcomes[i] {
				key = append(append(key, lc.Label...), 2)
				key = binary.LittleEndian.AppendUint64(key, math.Float64bits(lc.Chance))
			}
		}
		at, ok := index[string(key)]
		if !ok {
			at = p.n
			index[string(key)] = at
			p.n++
			p.prior = append(p.prior, 0)
			p.members = append(p.members, nil)
			n, known := classes[string(key[:class])]
			if !known {
				n = int32(len(classes))
				classes[string(key[:class])] = n
			}
			p.class = append(p.class, n)
			if at < maxCauses {
				p.all.add(at)
			}
		}
		p.prior[at] += c.Prior / total
		p.members[at] = append(p.members[at], i)
	}
	p.classes = len(classes)
	p.words = (min(p.n, maxCauses) + 63) / 64
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
		if p.goal == Fix {
			want(r.After)
		}
	}
	if len(bits) > maxBits {
		return errors.New("more actions are prerequisites than the engine takes (60)")
	}
	names := map[string]bool{}
	common := func(id Action, name string, cost float64, needs, after []string) (action, error) {
		a := action{id: id, cost: cost, bit: bits[name]}
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
	p.actions = make([]action, 0, len(m.Tests)+len(m.Repairs))
	digit := uint64(1)
	for i, t := range m.Tests {
		a, err := common(Action{At: i}, t.Name, t.Cost, t.Needs, t.After)
		if err != nil {
			return err
		}
		p.readOutcomes(&a, t)
		if a.noisy {
			a.digit = digit
			size := uint64(len(a.labels) + 1)
			if digit > (1<<62)/size {
				return errors.New("the model has more noisy tests than the engine takes")
			}
			digit *= size
			p.noisy = append(p.noisy, len(p.actions))
		}
		p.actions = append(p.actions, a)
	}
	at := make([]int, len(m.Causes)) // merged cause of each, -1 for none
	for i := range at {
		at[i] = -1
	}
	for j, list := range p.members {
		for _, i := range list {
			at[i] = j
		}
	}
	for i, r := range m.Repairs {
		a, err := common(Action{Repair: true, At: i}, r.Name, r.Cost, r.Needs, r.After)
		if err != nil {
			return err
		}
		a.repair = true
		if r.Succeeds > 0 {
			a.again = r.Cost/r.Succeeds - r.Cost
			if a.again > 1e12 {
				return errors.New("the chance that " + r.Name + " succeeds is too small to work with")
			}
		}
		a.kind = make([]int32, p.n)
		for _, i := range r.Fixes {
			if at[i] >= 0 {
				a.fixes.add(at[i])
				a.kind[at[i]] = 1
			}
		}
		if p.goal == Fix {
			p.repairs = append(p.repairs, int32(len(p.actions)))
			p.actions = append(p.actions, a)
		}
	}
	for _, t := range m.Tests {
		if err := present(names, t.Name, t.After); err != nil {
			return err
		}
	}
	for _, r := range m.Repairs {
		if err := present(names, r.Name, r.After); err != nil {
			return err
		}
	}
	return nil
}

func present(names map[string]bool, name string, after []string) error {
	for _, b := range after {
		if !names[b] {
			return errors.New(name + " must come after " + b + ", which is not there")
		}
	}
	return nil
}

func (p *problem) readOutcomes(a *action, t Test) {
	for _, list := range p.members {
		for _, lc := range t.Outcomes[list[0]] {
			a.noisy = a.noisy || lc.Chance != 0 && lc.Chance < 1-1e-12
		}
	}
	weighs := a.noisy || p.goal == Confirm // else nobody asks how likely a label is
	kinds := map[string]int32{}
	a.kind = make([]int32, p.n)
	var key []byte
	for i, list := range p.members {
		key = key[:0]
		for _, lc := range t.Outcomes[list[0]] {
			if lc.Chance == 0 {
				continue
			}
			k := slices.Index(a.labels, lc.Label)
			if k < 0 {
				k = len(a.labels)
				a.labels = append(a.labels, lc.Label)
				a.parts = append(a.parts, set{})
				if weighs {
					a.like = append(a.like, make([]float64, p.n))
				}
			}
			a.parts[k].add(i)
			if weighs {
				a.like[k][i] += lc.Chance
			} else {
				key = binary.LittleEndian.AppendUint64(append(key, byte(k), byte(k>>8)), math.Float64bits(lc.Chance))
			}
		}
		for k := range a.like {
			if x := a.like[k][i]; x != 0 {
				key = binary.LittleEndian.AppendUint64(append(key, byte(k), byte(k>>8)), math.Float64bits(x))
			}
		}
		kind, ok := kinds[string(key)]
		if !ok {
			kind = int32(len(kinds))
			kinds[string(key)] = kind
		}
		a.kind[i] = kind
	}
	for _, part := range a.parts {
		class, one := int32(-1), true
		for i := range p.n {
			if part.has(i) {
				one = one && (class < 0 || class == p.class[i])
				class = p.class[i]
			}
		}
		a.proves = append(a.proves, one && p.goal == Confirm)
	}
}
