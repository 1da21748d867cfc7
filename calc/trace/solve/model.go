package solve

import (
	"errors"
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
	bits   float64   // of a test: what it says at most
	again  float64   // of a repair: further cost under the causes it cures
	needs  uint64    // access groups with all their parents
	after  uint64    // done-bits that must be set
	bit    uint64    // its own done-bit, 0 if nothing waits for it
	fixes  set       // of a repair
	ends   set       // causes whose way it can end
	labels []string  // of a test, in order of first appearance
	parts  []set     // causes under which each label is possible
	proves []bool    // that only causes of one class show the label; for confirm
	kind   []int32   // cause by cause: those of one kind it never tells apart
	shows  []int32   // cause by cause: the label that a test shows, unless it is noisy
	noisy  bool      // some cause gives more than one label
	like   []float64 // label by label, of each cause, for a noisy test, and for confirm
	digit  uint64    // place value of its result in a state's results
}

// problem is a model made ready for solving.
type problem struct {
	model   *Model
	goal    Goal
	n       int     // causes, after merging
	words   int     // of a set that are in use
	at      []int32 // what each cause of the model was merged into, -1 for none
	lead    []int32 // the model's first cause behind each
	prior   []float64
	class   []int32
	classes int
	all     set
	groups  []float64 // cost
	parents []uint64  // a group with all its parents
	actions []action
	noisy   []int // indices of noisy actions
	repairs []int32
	places  map[string]int  // of groups, by name
	names   map[string]bool // of actions
	rooms
}

// rooms hold what the actions are described by, one after the other.
type rooms struct {
	labels   []string
	parts    []set
	confirms []bool
	kinds    []int32
	likes    []float64
	cures    []uint64  // by cause, of the repairs
	enders   [][]int32 // of each cause, the actions that can end its way
	ending   []int32   // those of all
	found    []int32   // scratch: a cause of each kind
	as       []int32   // scratch: the first cause of the same spread as each
}

// ready makes a problem of a model, in the room of the problem before it.
func (p *problem) ready(m *Model) error {
	r := p.rooms
	*p = problem{model: m, goal: m.Goal, at: p.at[:0], lead: p.lead[:0], prior: p.prior[:0], class: p.class[:0], groups: p.groups[:0], parents: p.parents[:0],
		actions: p.actions[:0], noisy: p.noisy[:0], repairs: p.repairs[:0], places: p.places, names: p.names,
		rooms: rooms{r.labels[:0], r.parts[:0], r.confirms[:0], r.kinds[:0], r.likes[:0], r.cures[:0], r.enders[:0], r.ending[:0], r.found[:0], r.as[:0]}}
	if p.names == nil {
		p.places, p.names = map[string]int{}, map[string]bool{}
	}
	clear(p.places)
	clear(p.names)
	switch {
	case m.Goal != Identify && m.Goal != Confirm && m.Goal != Fix:
		return errors.New("the goal is none of identify, confirm and fix")
	case len(m.Causes) == 0:
		return errors.New("the model has no causes")
	case len(m.Causes) > maxModel:
		return errors.New("the model has more causes than the engine takes (4096)")
	case len(m.Access) > maxBits:
		return errors.New("the model has more access groups than the engine takes (60)")
	}
	total := 0.0
	for _, c := range m.Causes {
		if !(c.Prior >= 0) || c.Prior > 1e300 {
			return errors.New("the prior of " + c.Name + " is not a chance")
		}
		total += c.Prior
	}
	if !(total > 0) || total > 1e300 {
		return errors.New("all priors are zero, so nothing can have failed")
	}
	if err := p.readAccess(m.Access); err != nil {
		return err
	}
	if err := check(m); err != nil {
		return err
	}
	p.merge(m, total)
	if p.n > maxCauses {
		return errors.New("the model has more causes that differ than the engine takes (256)")
	}
	if err := p.readActions(m); err != nil {
		return err
	}
	for k := range p.actions {
		p.actions[k].ends = p.endsOf(&p.actions[k])
	}
	p.findEnders()
	return p.confirmable()
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
				proved = proved || proves && p.actions[k].like[o*p.n+i] >= 1-1e-12
			}
		}
		if !proved {
			return errors.New("no test confirms " + p.model.Causes[p.lead[i]].Name + ", so the goal confirm cannot be reached")
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
	wide := (len(m.Repairs) + 63) / 64
	p.cures = append(p.cures, make([]uint64, wide*len(m.Causes))...)
	for k, r := range m.Repairs {
		for _, i := range r.Fixes {
			p.cures[i*wide+k/64] |= 1 << (k % 64)
		}
	}
	alike := func(i, j int) bool { // cured by the same repairs
		return slices.Equal(p.cures[i*wide:(i+1)*wide], p.cures[j*wide:(j+1)*wide])
	}
	oneClass := func(i, j int) bool {
		a, b := &m.Causes[i], &m.Causes[j]
		switch {
		case p.goal == Fix:
			return alike(i, j) // what counts is who cures it
		case a.Class == "" && b.Class == "":
			return a.Name == b.Name
		}
		return a.Class == b.Class
	}
	same := func(i, j int) bool {
		if !oneClass(i, j) || !alike(i, j) {
			return false
		}
		for k := range m.Tests {
			if !equal(m.Tests[k].Outcomes[i], m.Tests[k].Outcomes[j]) {
				return false
			}
		}
		return true
	}
	for i, c := range m.Causes {
		if c.Prior/total < never {
			p.at = append(p.at, -1)
			continue
		}
		at, class := -1, int32(p.classes)
		for k, j := range p.lead {
			if same(i, int(j)) {
				at = k
				break
			}
			if class == int32(p.classes) && oneClass(i, int(j)) {
				class = p.class[k]
			}
		}
		if at < 0 {
			at = p.n
			p.n++
			p.prior, p.lead, p.class = append(p.prior, 0), append(p.lead, int32(i)), append(p.class, class)
			p.classes = max(p.classes, int(class)+1)
			if at < maxCauses {
				p.all.add(at)
			}
		}
		p.prior[at] += c.Prior / total
		p.at = append(p.at, int32(at))
	}
	p.words = (min(p.n, maxCauses) + 63) / 64
}

// oneSpread tells whether two spreads are one in memory.
func oneSpread(a, b Spread) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

// equal tells whether two spreads are written alike.
func equal(a, b Spread) bool {
	if len(a) != len(b) || oneSpread(a, b) {
		return len(a) == len(b)
	}
	for k := range a {
		if a[k] != b[k] {
			return false
		}
	}
	return true
}

func (p *problem) readAccess(groups []Group) error {
	index := p.places
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
	// names that others must come after get a done-bit
	var bits map[string]uint64
	want := func(after []string) {
		for _, name := range after {
			if _, ok := bits[name]; !ok {
				if bits == nil {
					bits = map[string]uint64{}
				}
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
	common := func(id Action, name string, cost float64, needs, after []string) (action, error) {
		a := action{id: id, cost: cost, bit: bits[name]}
		if p.names[name] {
			return a, errors.New("the name " + name + " stands for two actions")
		}
		p.names[name] = true
		if !(cost >= 0) || cost > 1e12 {
			return a, errors.New("the cost of " + name + " is not a number of minutes")
		}
		for _, g := range needs {
			i, ok := p.places[g]
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
	p.actions = slices.Grow(p.actions, len(m.Tests)+len(m.Repairs))
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
		a.kind = p.kindRoom()
		for _, i := range r.Fixes {
			if at := p.at[i]; at >= 0 {
				a.fixes.add(int(at))
				a.kind[at] = 1
			}
		}
		if p.goal == Fix {
			p.repairs = append(p.repairs, int32(len(p.actions)))
			p.actions = append(p.actions, a)
		}
	}
	for _, t := range m.Tests {
		if err := p.present(t.Name, t.After); err != nil {
			return err
		}
	}
	for _, r := range m.Repairs {
		if err := p.present(r.Name, r.After); err != nil {
			return err
		}
	}
	return nil
}

func (p *problem) present(name string, after []string) error {
	for _, b := range after {
		if !p.names[b] {
			return errors.New(name + " must come after " + b + ", which is not there")
		}
	}
	return nil
}

// kindRoom has room for one kind of each cause, all 0.
func (p *problem) kindRoom() []int32 {
	first := len(p.kinds)
	p.kinds = slices.Grow(p.kinds, p.n)[:first+p.n]
	room := p.kinds[first : first+p.n : first+p.n]
	clear(room)
	return room
}

func (p *problem) readOutcomes(a *action, t Test) {
	// most causes share the very spread of one before: as[i] is the first of them
	p.found, p.as = p.found[:0], p.as[:0]
	for i, lead := range p.lead {
		spread, as := t.Outcomes[lead], int32(i)
		for _, j := range p.found {
			if oneSpread(spread, t.Outcomes[p.lead[j]]) {
				as = j
				break
			}
		}
		if p.as = append(p.as, as); int(as) < i {
			continue
		}
		p.found = append(p.found, as)
		for _, lc := range spread {
			a.noisy = a.noisy || lc.Chance != 0 && lc.Chance < 1-1e-12
		}
	}
	weighs := a.noisy || p.goal == Confirm // else nobody asks how likely a label is
	firstLabel, firstPart, firstLike := len(p.labels), len(p.parts), len(p.likes)
	a.kind, a.shows = p.kindRoom(), p.kindRoom()
	p.found = p.found[:0]
	for i, lead := range p.lead {
		if j := int(p.as[i]); j < i && !weighs {
			a.kind[i], a.shows[i] = a.kind[j], a.shows[j]
			p.parts[firstPart+int(a.shows[i])].add(i)
			continue
		}
		for _, lc := range t.Outcomes[lead] {
			if lc.Chance == 0 {
				continue
			}
			k := slices.Index(p.labels[firstLabel:], lc.Label)
			if k < 0 {
				k = len(p.labels) - firstLabel
				p.labels, p.parts = append(p.labels, lc.Label), append(p.parts, set{})
				if weighs {
					p.likes = slices.Grow(p.likes, p.n)[:len(p.likes)+p.n]
					clear(p.likes[len(p.likes)-p.n:])
				}
			}
			p.parts[firstPart+k].add(i)
			a.shows[i] = int32(k)
			if weighs {
				p.likes[firstLike+k*p.n+i] += lc.Chance
			}
		}
		if j := int(p.as[i]); j < i {
			a.kind[i] = a.kind[j]
			continue
		}
		kind := -1
		for k, j := range p.found {
			if weighs && p.weighAlike(p.likes[firstLike:], i, int(j)) || !weighs && showAlike(t.Outcomes[lead], t.Outcomes[p.lead[j]]) {
				kind = k
				break
			}
		}
		if kind < 0 {
			kind = len(p.found)
			p.found = append(p.found, int32(i))
		}
		a.kind[i] = int32(kind)
	}
	labels := len(p.labels) - firstLabel
	a.labels, a.parts, a.like = p.labels[firstLabel:len(p.labels):len(p.labels)], p.parts[firstPart:len(p.parts):len(p.parts)], p.likes[firstLike:len(p.likes):len(p.likes)]
	for _, part := range a.parts {
		class, one := int32(-1), p.goal == Confirm
		for i := 0; one && i < p.n; i++ {
			if part.has(i) {
				one = class < 0 || class == p.class[i]
				class = p.class[i]
			}
		}
		p.confirms = append(p.confirms, one)
	}
	a.proves = p.confirms[len(p.confirms)-labels : len(p.confirms) : len(p.confirms)]
}

// weighAlike tells whether all labels weigh two causes alike.
func (p *problem) weighAlike(like []float64, i, j int) bool {
	for ; len(like) > 0; like = like[p.n:] {
		if like[i] != like[j] {
			return false
		}
	}
	return true
}

// showAlike tells whether two spreads are alike but for what never comes.
func showAlike(a, b Spread) bool {
	for {
		for len(a) > 0 && a[0].Chance == 0 {
			a = a[1:]
		}
		for len(b) > 0 && b[0].Chance == 0 {
			b = b[1:]
		}
		if len(a) == 0 || len(b) == 0 {
			return len(a) == len(b)
		}
		if a[0] != b[0] {
			return false
		}
		a, b = a[1:], b[1:]
	}
}
