package trace

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strconv"

	"faultleaf/calc/inorder"
	"faultleaf/calc/trace/solve"
)

// How far planning looks; our choices.
const (
	negligible  = .002 // chance, or
	ofLeader    = .01  // share of the leader's chance, below which a cause is left out of planning
	unknownAt   = .06  // chance below which a fault that no note describes is left out
	mostPlanned = 120  // suspects that are planned for, likeliest first
	shownLeft   = .05  // chance from which an outcome "leaves" a suspect
	planBudget  = 500  // states of the exact search for one step
	briefBudget = 40   // the same for a step on paper
	mostUnsure  = 3    // tests that may go either way for a cause, planned as such
	mostAgain   = 2    // tests thought of once more
	mostTimes   = 3    // a test is done in all
	catches     = .04  // chance to catch a fault that comes and goes, from which a test is thought of again
	pastMinutes = 60   // what giving a thing up counts in planning, so that it is not done lightly
	mostlyWell  = .6   // chance of the healthy reading from which a fault that no note describes is planned to give it
	eyesMinutes = 1.   // how long to look or to ask takes, before a longer test
	byEyes      = .12  // chance that this shows a fault, from which it comes first
	fromOutside = .05  // chance that a test from outside shows a fault, from which it comes before opening
	fewBlocks   = 2    // that a test covers whose reading shows a fault of one of them
	savesFrom   = .03  // chance that a test takes from giving up on average, from which it comes first
	mostGroups  = 56   // access, power states and tests that others wait for
)

// odd is the label of a reading that no noted fault gives: what a fault that no
// note describes is planned to read on a test that covers its block.
const odd = "\x00odd"

// wish says what to plan for.
type wish struct {
	live       Power     // tests in this state are allowed too, whatever stands against them; "" for none
	compare    bool      // value other first steps, too
	buying     bool      // a new one may be bought
	unmeasured bool      // parts may be fitted before anything is measured
	also       []Action  // first steps to value in any case
	tell       CauseID   // only tell this cause from all others
	without    []BlockID // whose unknown faults are left out
}

// planned is a model of what is left to do, and its solution.
type planned struct {
	solve.Plan
	*bench
	chance   beliefs
	wish     wish
	model    *solve.Model
	suspects []int    // of the model, as indices into bench.suspects
	tests    []*Test  // of the model
	repairs  []Action // of the model: mends, looks, and buying a new one
	groups   []*Test  // of the model's groups: the test that one stands for, nil for other work
	open     map[AccessID]bool
	closing  float64         // minutes to close what is open
	again    map[TestID]bool // done before and thought of once more
	splits   bool            // some test tells apart what is left
	room     *planRoom
}

// planRoom is what a model is written in.
type planRoom struct {
	model   solve.Model
	spreads []solve.Spread
	names   []string
	fixes   []int
	mix     []float64
	unknown []int
}

// emptied is an empty room in the place of what was written before.
func (r *planRoom) emptied() *planRoom {
	m := &r.model
	r.model = solve.Model{Causes: m.Causes[:0], Access: m.Access[:0], Tests: m.Tests[:0], Repairs: m.Repairs[:0]}
	r.spreads, r.names, r.fixes = r.spreads[:0], r.names[:0], r.fixes[:0]
	return r
}

// plan makes a plan in which nobody stops for a fault that no note describes where
// one of the notes is clearly likelier. The suspects behind such a look are left
// out, and it is planned anew.
func (b *bench) plan(chance beliefs, w wish) (planned, error) {
	for {
		p, err := b.planAll(chance, w)
		if err != nil || len(w.without) > len(b.suspects) {
			return p, err
		}
		look := p.act(p.First)
		if look.Kind != DoLook || !p.weak(look.Block) {
			return p, nil
		}
		w.without = append(w.without[:len(w.without):len(w.without)], look.Block)
	}
}

// weak tells whether a look into a block finds something too seldom to stop for
// it: a noted fault of the block that may be mended is likelier, or one of
// another block is twice as likely; outside the chain, where there is no place to put
// a finger on, any that is likelier.
func (p *planned) weak(id BlockID) bool {
	found, here, elsewhere := 0.0, 0.0, 0.0
	for i, r := range p.model.Repairs {
		sum := 0.0
		for _, j := range r.Fixes {
			sum += p.chance[p.suspects[j]]
		}
		switch act := p.repairs[i]; {
		case act.Kind == DoLook && act.Block == id:
			found = sum
		case act.Kind == DoLook || act.Kind == Replace:
		case p.Cause(act.Cause).Block == id:
			here = math.Max(here, sum)
		default:
			elsewhere = math.Max(elsewhere, sum)
		}
	}
	return found < here || found < elsewhere/2 || id == "" && found < elsewhere
}

// planAll makes the model: suspects by their chances, tests not yet done with each
// suspect's likeliest reading, mends and looks as repairs. A test that has to
// come before something else is also a group of work, paid once by the first
// action that needs it; so are the access work and the setting-up of power.
func (b *bench) planAll(chance beliefs, w wish) (planned, error) {
	p := planned{bench: b, chance: chance, wish: w, open: map[AccessID]bool{}, room: &planRoom{}}
	if b.effort >= brief { // of such a plan the model is not looked at again
		p.room = b.plans.emptied()
	}
	p.model = &p.room.model
	p.model.Goal = solve.Fix
	p.suspects = slices.DeleteFunc(b.likely(chance), func(i int) bool {
		return b.suspects[i].cause == nil && slices.Contains(w.without, b.suspects[i].block)
	})
	for _, i := range p.suspects {
		c := solve.Cause{Name: strconv.Itoa(i), Prior: chance[i]}
		if w.tell != "" {
			c.Class = "another"
			if s := b.suspects[i].cause; s != nil && s.ID == w.tell {
				c.Class = "this"
			}
		}
		p.model.Causes = append(p.model.Causes, c)
	}
	p.access()
	p.again = p.worthAgain()
	for i := range b.Tests {
		t := &b.Tests[i]
		if (b.on(t.ID) == nil || p.again[t.ID]) && p.allowed(t) {
			p.tests = append(p.tests, t)
		}
	}
	if own := p.bearing(w.tell); len(own) > 0 {
		p.tests = own
	}
	p.prerequisites()
	p.addTests()
	if w.tell != "" {
		p.model.Goal = solve.Identify
	} else {
		p.addRepairs()
	}
	o := solve.Options{Budget: planBudget, Firsts: w.compare}
	if !b.Terms.known() { // else the policy is walked, after further plans were made
		o.Room = &b.room
	}
	if b.effort >= brief {
		o.Budget, o.Brief = briefBudget, true
	}
	for _, a := range w.also {
		if at, ok := p.place(a); ok {
			o.Also = append(o.Also, at)
		}
	}
	var err error
	p.Plan, err = solve.Solve(p.model, o)
	return p, err
}

// allowed tells whether a test may be planned.
func (p *planned) allowed(t *Test) bool {
	if p.wish.live != "" && t.Power == p.wish.live {
		_, skip := p.skipped[t.ID]
		return !skip && len(t.Reads) > 0 && !p.shut(t.Needs) && len(p.forbids) == 0 && p.mayLookOver(t)
	}
	_, ok := p.before(t, false)
	return ok && p.possible(t, false)
}

// ahead lists the tests to be taken before one that is planned.
func (p *planned) ahead(t *Test) []*Test {
	list, _ := p.before(t, p.wish.live != "")
	return list
}

// likely lists the suspects to plan for, in their order.
func (b *bench) likely(chance beliefs) []int {
	most := 0.0
	for _, c := range chance {
		most = math.Max(most, c)
	}
	var list []int
	for i, c := range chance {
		least := math.Min(negligible, most*ofLeader)
		if b.suspects[i].cause == nil {
			least = math.Min(unknownAt, most/2)
		}
		if c > 0 && c >= least {
			list = append(list, i)
		}
	}
	if len(list) > mostPlanned {
		inorder.By(list, func(i, j int) int { return cmp.Compare(chance[j], chance[i]) })
		list = list[:mostPlanned]
		inorder.Up(list)
	}
	return list
}

// access puts the opening work and the power states into the model. What is
// opened will be closed, so closing is paid with opening; that of what is open
// already has to be done whatever comes.
func (p *planned) access() {
	for i := range p.Access {
		a := &p.Access[i]
		p.open[a.ID] = p.opened(a.ID)
		g := solve.Group{Name: "a" + string(a.ID), Cost: a.Minutes + a.Undo}
		if p.open[a.ID] {
			g.Cost = 0
			p.closing += a.Undo
		}
		if a.Inside != "" {
			g.Inside = "a" + string(a.Inside)
		}
		p.group(g, nil)
	}
	for _, s := range Powers() {
		g := solve.Group{Name: "p" + string(s), Cost: p.Shop.PowerMinutes[s]}
		if p.poweredBefore(s) {
			g.Cost = 0
		}
		p.group(g, nil)
	}
}

func (p *planned) group(g solve.Group, t *Test) {
	p.model.Access = append(p.model.Access, g)
	p.groups = append(p.groups, t)
}

// bearing are the tests that reach the block of a cause or that its note claims a
// reading of: who asks about the cord is not sent to the switch while the cord can be
// read.
func (p *planned) bearing(id CauseID) (own []*Test) {
	c := p.Cause(id)
	if c == nil {
		return nil
	}
	for _, t := range p.tests {
		if _, claims := c.Reads[t.ID]; claims || slices.Contains(t.Covers, c.Block) {
			own = append(own, t)
		}
	}
	return own
}

// prerequisites makes a group of each test that something else waits for.
func (p *planned) prerequisites() {
	add := func(t *Test) {
		if !slices.Contains(p.groups, t) && p.on(t.ID) == nil && len(p.groups) < mostGroups {
			p.group(solve.Group{Name: p.bench.tests[t.at-1].name, Cost: p.bench.tests[t.at-1].counted}, t)
		}
	}
	for _, t := range p.tests {
		for _, x := range p.ahead(t) {
			add(x)
		}
	}
	if p.wish.tell != "" {
		return
	}
	for _, i := range p.suspects {
		if t := p.measureFirst(p.bench.suspects[i].cause); t != nil {
			for _, x := range p.ahead(t) {
				add(x)
			}
			add(t)
		}
	}
}

// measureFirst is the test that has to come before the mend of a cause by the
// rule that nothing is replaced before it was measured; nil for none.
func (p *planned) measureFirst(c *Cause) *Test {
	if c == nil || p.wish.unmeasured {
		return nil
	}
	if state, t := p.measure(c, p.wish.live != ""); state == first {
		return t
	}
	return p.beside(c)
}

// outside is the test that a rule of order puts before a step, with the rule; nil for
// none, or where something is open already. Before the device is opened comes what
// can be read from outside and may show a noted fault, and before a longer test what
// can be seen or asked in a minute and likely shows one: that which tells most for
// its minutes.
func (p *planned) outside(act Action) (*Test, About) {
	look := act.Kind == DoLook // to stop for what no note describes, a noted fault must have been looked for
	if !look && slices.ContainsFunc(p.Access, func(a Access) bool { return p.open[a.ID] }) {
		return nil, ""
	}
	opens, least, longest, about := []*Access(nil), fromOutside, asideMinutes, OutsideFirst
	t, c := p.Test(act.Test), p.Cause(act.Cause)
	switch {
	case look:
	case t != nil:
		opens = p.opens(t)
	case c == nil || p.light(c) || p.chance[p.causeIndex(c.ID)] >= likelyEnough:
		return nil, ""
	default:
		opens = p.opensFor[c.at-1]
	}
	if !look && !slices.ContainsFunc(opens, func(a *Access) bool { return a.Minutes+a.Undo > asideMinutes }) {
		if t == nil || p.counted(t) <= eyesMinutes {
			return nil, ""
		}
		least, longest, about = byEyes, eyesMinutes, EyesFirst
	}
	var anyway []*Access // who looks into a block by hand has opened it
	if i := p.unknownOf(act.Block); look && i >= 0 {
		anyway = p.reached[i]
	}
	var best *Test
	most := 0.0
	for _, t := range p.tests {
		if t.Proves != "" || p.counted(t) > longest || !p.aside(t, anyway) || len(p.forbids) > 0 && !t.ByEye {
			continue // a reading that forbids has told more than anybody remembers
		}
		shown := 0.0
		for _, i := range p.suspects {
			c := p.bench.suspects[i].cause
			if c == nil || len(p.forbids) > 0 && !p.statesForbidden(c) { // the mend of no other may be done now
				continue
			}
			if f := p.fact(t, c); f.known && !f.well {
				shown += float64(p.chance[i] * f.shows)
			}
		}
		if worth := shown / math.Max(p.counted(t), .5); shown >= least && worth > most {
			best, most = t, worth
		}
	}
	return best, about
}

// lost is the chance that what is wrong is past mending, of what is planned for.
func (p *planned) lost(chance beliefs) (sum float64) {
	for i, r := range p.model.Repairs {
		if p.repairs[i].Kind == Past {
			for _, j := range r.Fixes {
				sum += chance[p.suspects[j]]
			}
		}
	}
	return sum
}

// beforeGivingUp is the test to take before the thing is given up, which nobody takes
// back, though a fault that can be mended may be seldom: that which takes most chance from
// giving up for its minutes, or another that comes before it; nil where it is as good as
// certain, or where no test tells.
func (p *planned) beforeGivingUp() *Test {
	lost := p.lost(p.chance)
	if lost >= settledAt {
		return nil
	}
	var best *Test
	most := 0.0
	for _, t := range p.tests {
		if len(p.forbids) > 0 && !t.ByEye {
			continue // a reading that forbids is not measured away
		}
		shows := 0.0
		for _, band := range t.Reads {
			shows += p.chance.gives(p.bench, t, band.ID) * math.Max(0, lost-p.lost(p.chance.after(p.bench, t, band.ID)))
		}
		if worth := shows / math.Max(p.costOf(t, nil), .5); shows >= savesFrom && worth > most {
			best, most = t, worth
		}
	}
	if best == nil {
		return nil
	}
	return append(p.ahead(best), best)[0]
}

// lookBeforeGivingUp is a look where a fault that no note describes is likeliest, before
// the thing is given up for one that is only what is left: the readings do not point to
// it, and none on its own block shows it.
func (p *planned) lookBeforeGivingUp(past Action) Action {
	c := p.Cause(past.Cause)
	shown := slices.ContainsFunc(p.taken, func(t takenOn) bool {
		return !t.stale() && len(t.test.Covers) <= fewBlocks && t.test.covers(c.Block) && abnormal(&t) && c.States(t.test.ID, t.last().top())
	})
	if shown || p.lost(p.chance) >= likelyEnough {
		return past
	}
	act, most := past, unknownAt
	for i, x := range p.chance { // of all, as a look that the plan found weak is not in it
		if s := &p.bench.suspects[i]; s.cause == nil && x >= most && !slices.Contains(p.Looked, s.block) {
			act, most = Action{Kind: DoLook, Block: s.block}, x
		}
	}
	return act
}

// needs are the groups that an action needs which needs these itself and takes these
// tests, in this order.
func (p *planned) needs(own []string, tests ...*Test) []string {
	first := len(p.room.names)
	add := func(names ...string) {
		for _, name := range names {
			if !slices.Contains(p.room.names[first:], name) {
				p.room.names = append(p.room.names, name)
			}
		}
	}
	take := func(t *Test) {
		add(p.bench.tests[t.at-1].by...)
		if slices.Contains(p.groups, t) {
			add(p.bench.tests[t.at-1].name)
		}
	}
	add(own...)
	for _, t := range tests {
		for _, x := range p.ahead(t) {
			take(x)
		}
		take(t)
	}
	return p.room.names[first:len(p.room.names):len(p.room.names)]
}

func (p *planned) addTests() {
	unsure := p.unsure()
	for _, t := range p.tests {
		mt := solve.Test{Name: p.bench.tests[t.at-1].name, Cost: p.bench.tests[t.at-1].counted, Needs: p.needs(nil, t), Outcomes: p.outcomes(t, unsure[t.ID] || p.again[t.ID])}
		if slices.Contains(p.groups, t) {
			mt.Cost = 0 // paid with its group
		}
		p.splits = p.splits || p.parts(mt.Outcomes)
		p.model.Tests = append(p.model.Tests, mt)
	}
}

// parts tells whether a test parts what is left: the noted causes, and what is
// likely enough of the others.
func (p *planned) parts(outcomes []solve.Spread) bool {
	var before *solve.LabelChance
	for j, i := range p.suspects {
		if p.bench.suspects[i].cause == nil && p.chance[i] < shownLeft {
			continue
		}
		o := &outcomes[j][0]
		if before != nil && *before != *o {
			return true
		}
		before = o
	}
	return false
}

func (p *planned) addRepairs() {
	noted := len(p.Causes)
	looks := make([][]int, len(p.bench.suspects)-noted) // what a look into each block would find
	look := func(block BlockID, j int) {
		i := p.unknownOf(block) - noted
		looks[i] = append(looks[i], j)
	}
	var mends []int
	for j, i := range p.suspects {
		s := &p.bench.suspects[i]
		switch {
		case s.cause == nil:
			look(s.block, j)
		case !p.mayMend(s.cause):
			// a fault that may not be mended on the evidence so far is found, if at
			// all, by looking into its block
			at := s.block
			if p.unknownOf(at) < 0 {
				at = ""
			}
			look(at, j)
		default:
			mends = append(mends, j)
		}
	}
	cause := func(j int) *Cause { return p.bench.suspects[p.suspects[j]].cause }
	for n, j := range mends {
		c := cause(j)
		// one repair for all faults that the same work cures, named by the likeliest
		first := len(p.room.fixes)
		lead := true
		for m, k := range mends {
			if p.lead[c.at-1] == p.lead[cause(k).at-1] {
				p.room.fixes = append(p.room.fixes, k)
				x, y := p.chance[p.suspects[k]], p.chance[p.suspects[j]]
				lead = lead && (x < y || x == y && m >= n)
			}
		}
		fixes := p.room.fixes[first:len(p.room.fixes):len(p.room.fixes)]
		if barred := p.barred(c); !lead || p.wish.buying && barred.Stop != "" {
			continue // buying a new one is the only way out
		}
		r := solve.Repair{Name: "m" + string(c.ID), Cost: c.Mend.Minutes, Succeeds: success(c), Fixes: fixes}
		act := Action{Kind: DoMend, Cause: c.ID}
		if p.Terms.known() {
			r.Cost += p.Shop.inMinutes(c.Mend.price())
		}
		if c.Mend.None != "" {
			act.Kind = Past
			r.Cost, r.Succeeds = p.givingUp(), 1
		}
		if t := p.measureFirst(c); t == nil {
			r.Needs = p.needs(p.mendsBy[c.at-1])
		} else {
			r.Needs = p.needs(p.mendsBy[c.at-1], t)
			if !slices.Contains(p.groups, t) {
				r.Cost += p.counted(t)
			}
		}
		p.repair(r, act)
	}
	for i, fixes := range looks {
		if s := &p.bench.suspects[noted+i]; len(fixes) > 0 {
			p.repair(solve.Repair{Name: "l" + string(s.block), Cost: lookMinutes, Needs: p.needs(p.looksBy[s.at]), Fixes: fixes}, Action{Kind: DoLook, Block: s.block})
		}
	}
	if p.wish.buying {
		all := make([]int, len(p.suspects))
		for j := range all {
			all[j] = j
		}
		p.repair(solve.Repair{Name: "new", Cost: p.Shop.inMinutes(p.Terms.Price), Fixes: all}, Action{Kind: Replace})
	}
}

// givingUp is what it counts in minutes to give the thing up.
func (b *bench) givingUp() float64 {
	return math.Max(pastMinutes, b.Shop.inMinutes(b.Terms.Price))
}

func (p *planned) repair(r solve.Repair, a Action) {
	p.model.Repairs = append(p.model.Repairs, r)
	p.repairs = append(p.repairs, a)
}

// mayMend tells whether a fault's mend may be advised at all on what is known:
// not if a reading forbids it, not if it was done in vain, not if the part was
// measured and read well. To give a thing up mends and powers nothing.
func (p *planned) mayMend(c *Cause) bool {
	if len(p.forbids) > 0 && !p.statesForbidden(c) && c.Mend.None == "" || p.inVain(c) {
		return false
	}
	for _, m := range p.Tried { // once more only where the readings point to it
		if sameMend(p.Cause(m.Cause), c) && p.chance[p.causeIndex(c.ID)] < likelyEnough {
			return false
		}
	}
	if p.wish.unmeasured {
		return true
	}
	state, _ := p.measure(c, p.wish.live != "")
	return state != against
}

// sameMend: the same work on the same part cures either fault.
func sameMend(a, b *Cause) bool {
	return a.ID == b.ID || a.Block == b.Block && a.Mend.Does == b.Mend.Does && a.Mend.Does != ""
}

// act is an action of the model at the bench; its kind is "" for none.
func (p *planned) act(a solve.Action) Action {
	switch {
	case a.At < 0:
		return Action{}
	case a.Repair:
		return p.repairs[a.At]
	}
	return Action{Kind: DoTest, Test: p.tests[a.At].ID}
}

// place is where an action stands in the model.
func (p *planned) place(a Action) (solve.Action, bool) {
	for i, r := range p.repairs {
		if r == a {
			return solve.Action{Repair: true, At: i}, true
		}
		if c, same := p.Cause(r.Cause), p.Cause(a.Cause); a.Kind == r.Kind && c != nil && same != nil && sameMend(c, same) {
			return solve.Action{Repair: true, At: i}, true
		}
	}
	for i, t := range p.tests {
		if a.Kind == DoTest && t.ID == a.Test {
			return solve.Action{At: i}, true
		}
	}
	return solve.None, false
}

// worthAgain are the tests worth doing once more: those that read well, though
// the faults that come and go and would show on them weigh much still.
func (p *planned) worthAgain() map[TestID]bool {
	type weighed struct {
		id   TestID
		mass float64
	}
	var list []weighed
	for i := range p.taken {
		t := p.taken[i].test
		if p.taken[i].stale() || !p.taken[i].well() || len(p.taken[i].read) >= mostTimes || !repeatable(t) || !p.allowed(t) {
			continue
		}
		mass := 0.0
		for _, j := range p.suspects {
			c := p.bench.suspects[j].cause
			if c == nil {
				continue
			}
			if f := p.fact(t, c); f.known && !f.well && f.shows < 1 {
				mass += float64(p.chance[j] * f.shows)
			}
		}
		if mass > catches {
			list = append(list, weighed{t.ID, mass})
		}
	}
	inorder.By(list, func(a, b weighed) int { return cmp.Compare(b.mass, a.mass) })
	out := map[TestID]bool{}
	for _, w := range list[:min(mostAgain, len(list))] {
		out[w.id] = true
	}
	return out
}

// repeatable tells whether a test may give another answer when it is done once more:
// one that measures, or that moves, warms or loads something. Who is asked again, or
// looks again, says the same.
func repeatable(t *Test) bool {
	return len(t.While) > 0 || slices.ContainsFunc(t.Reads, func(r Band) bool { return r.Low != nil || r.High != nil })
}

// well tells whether every reading that counts was healthy.
func (t *takenOn) well() bool {
	for _, r := range t.read[t.counts:] {
		if r.top() != healthy(t.test) {
			return false
		}
	}
	return true
}

// unsure picks the tests that are planned as telling nothing about the causes
// whose reading no note states, or as going either way: those where such causes
// weigh most.
func (p *planned) unsure() map[TestID]bool {
	type weighed struct {
		id   TestID
		mass float64
	}
	var list []weighed
	for _, t := range p.tests {
		w := weighed{id: t.ID}
		for _, i := range p.suspects {
			c := p.bench.suspects[i].cause
			if c == nil {
				continue
			}
			if f := p.fact(t, c); !f.known || f.shows < 1 && !f.well || f.several {
				w.mass += p.chance[i]
			}
		}
		if w.mass > 0 {
			list = append(list, w)
		}
	}
	inorder.By(list, func(a, b weighed) int { return cmp.Compare(b.mass, a.mass) })
	out := map[TestID]bool{}
	for _, w := range list[:min(mostUnsure, len(list))] {
		out[w.id] = true
	}
	return out
}

// outcomes are what planning takes each suspect to read on a test.
//
// Where a note does not state the reading, any outcome must leave the chance of
// that cause as it was. So the cause is planned to give each reading as often as
// the others together do, which is just what an outcome that tells nothing about
// it looks like. Only a few tests can be planned so, as each multiplies the
// states; on further ones such a cause gives the reading that is likeliest. So it
// is with a cause that may read in several ways.
func (p *planned) outcomes(t *Test, unsure bool) []solve.Spread {
	first := len(p.room.spreads)
	p.room.spreads = slices.Grow(p.room.spreads, len(p.suspects))[:first+len(p.suspects)]
	out := p.room.spreads[first : first+len(p.suspects) : first+len(p.suspects)]
	x := &p.bench.tests[t.at-1]
	unknown := p.room.unknown[:0]
	for j, i := range p.suspects {
		switch s := &p.bench.suspects[i]; {
		case s.cause == nil:
			out[j] = p.unnotedSpread(s, t)
		case !p.fact(t, s.cause).known:
			unknown = append(unknown, j)
		default:
			out[j] = p.spread(t, s.cause, unsure)
		}
	}
	p.room.unknown = unknown
	if len(unknown) == 0 {
		return out
	}
	mix := p.room.mix[:0] // by band, of those that are known
	for range t.Reads {
		mix = append(mix, 0)
	}
	p.room.mix = mix
	total := 0.0
	for j, i := range p.suspects {
		if s := &p.bench.suspects[i]; s.cause == nil || !p.fact(t, s.cause).known {
			continue
		}
		total += p.chance[i]
		for _, lc := range out[j] {
			if k := bandOf(t, lc.Label); k >= 0 {
				mix[k] += float64(p.chance[i] * lc.Chance)
			}
		}
	}
	spread := solve.Spread{}
	best := -1
	for k, r := range t.Reads { // in the order of the bands
		if k = bandOf(t, string(r.ID)); mix[k] > 0 {
			spread = append(spread, solve.LabelChance{Label: string(r.ID), Chance: mix[k] / total})
			if best < 0 || mix[k] > mix[best] {
				best = k
			}
		}
	}
	switch {
	case len(spread) == 0:
		spread = x.sure[x.well]
	case !unsure:
		spread = x.sure[best]
	}
	for _, j := range unknown {
		out[j] = spread
	}
	return out
}

// bandOf is the place of a reading among the bands of a test, the first of that
// name; -1 for none.
func bandOf(t *Test, label string) int {
	for k := range t.Reads {
		if string(t.Reads[k].ID) == label {
			return k
		}
	}
	return -1
}

// unnotedSpread is what a fault that no note describes is planned to read on a test:
// the healthy reading, if it mostly gives that; else one that the noted faults of its
// block give, or one of its own, whichever is likelier.
func (p *planned) unnotedSpread(s *suspect, t *Test) solve.Spread {
	x := &p.bench.tests[t.at-1]
	if s.outside() || !t.covers(s.block) || p.again[t.ID] {
		return x.sure[x.well]
	}
	u := p.unnoted(s, t)
	if u.well > mostlyWell {
		return x.sure[x.well]
	}
	spread := u.spread
	best, at, own := 0.0, -1, spread[len(t.Reads)]
	for i, band := range t.Reads {
		switch {
		case band.ID == x.healthy:
		case !x.claimed[i]:
			own += spread[i]
		case spread[i] > best:
			best, at = spread[i], i
		}
	}
	if own >= best {
		return x.odd()
	}
	return x.sure[at]
}

// spread is what a cause reads on a test whose reading it states, or that does
// not cover it.
func (p *planned) spread(t *Test, c *Cause, unsure bool) solve.Spread {
	f, x := p.fact(t, c), &p.bench.tests[t.at-1]
	h, s, likeliest := x.healthy, f.shows, f.want
	if f.well {
		s = 1
	}
	switch {
	case !unsure && s < .5:
		return x.sure[x.well]
	case f.sure >= 0 && (!unsure || s == 1 && !f.several && f.sure < len(t.Reads)):
		return x.sure[f.sure]
	case !unsure:
		return solve.Sure(string(likeliest))
	}
	sum := make([]float64, len(t.Reads)) // by band
	add := func(id ReadingID, chance float64) {
		if k := bandOf(t, string(id)); k >= 0 {
			sum[k] += chance
		}
	}
	add(h, 1-s)
	if f.several {
		for _, r := range shares(c.Reads[t.ID]) {
			add(r.Reading, float64(s*r.Chance))
		}
	} else {
		add(likeliest, s)
	}
	var out solve.Spread
	for k, r := range t.Reads {
		if sum[k] > 0 {
			out = append(out, solve.LabelChance{Label: string(r.ID), Chance: sum[k]})
		}
	}
	return out
}

var errNothing = errors.New("nothing is left to do")
