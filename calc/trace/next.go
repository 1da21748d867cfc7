package trace

import (
	"cmp"
	"math"
	"slices"

	"faultleaf/calc/inorder"
)

// Next says what to do next and why. What is wrong with the evidence is left out
// and remarked on, so the trace always goes on; the error is one sentence about
// the device's notes.
func Next(d *Device, e Evidence) (Advice, error) {
	return Prepare(d).next(e, compared)
}

// Step is Next without the comparison of other first steps, which takes most of
// the work.
func Step(d *Device, e Evidence) (Advice, error) {
	return Prepare(d).next(e, single)
}

// Brief is Step with a small part of the looking ahead: the same rules, and a
// first action that is nearly always the same, for the many steps that are
// printed or listed before anybody asks.
func Brief(d *Device, e Evidence) (Advice, error) { return Prepare(d).Brief(e) }

// Brief is Brief of a device that was made ready.
func (g *Ground) Brief(e Evidence) (Advice, error) {
	if !e.none() {
		return g.next(e, brief)
	}
	if g.first == nil { // the root of the tree, and the step before anything is known
		a, err := g.next(e, brief)
		if err != nil {
			return a, err
		}
		g.first = &a
	}
	return *g.first, nil
}

// Bare is a brief step of which nobody asks what its outcomes would leave.
func (g *Ground) Bare(e Evidence) (Advice, error) {
	if e.none() {
		return g.Brief(e)
	}
	return g.next(e, bare)
}

// effort is how much is worked out of a step.
type effort int

const (
	single   effort = iota // the step by a plan that looks far ahead
	compared               // other first steps, too
	brief                  // the step by a plan that looks little ahead
	bare                   // without what its outcomes leave
)

// settledAt and ruledOut are the chances from which a suspect that somebody asks
// about needs no further question.
const (
	settledAt = .9
	ruledOut  = .02
)

func (g *Ground) next(e Evidence, how effort) (a Advice, err error) {
	b, compare := g.lay(e), how == compared
	b.effort = how
	chance := b.believe()
	a.Forbids = b.forbids
	a.Chances, a.Unknown = b.chances(chance)
	inorder.By(a.Chances, func(x, y Chance) int { return cmp.Compare(y.Chance, x.Chance) })
	inorder.By(a.Unknown, func(x, y Unknown) int { return cmp.Compare(y.Chance, x.Chance) })
	for _, u := range a.Unknown {
		a.Rest += u.Chance
	}
	b.remarkOnRules()
	defer func() {
		b.leftOut()
		a.Remarks = b.remarks
	}()

	if done, err := a.confirm(b, chance, compare); done || err != nil {
		return a, err
	}
	p, err := b.plan(chance, wish{compare: compare, also: []Action{b.likeliest(chance)}})
	if err != nil {
		return Advice{}, err
	}
	if p, err = a.powerUp(p); err != nil {
		return Advice{}, err
	}
	if b.Terms.known() {
		a.Money = p.money()
		if b.Terms.Price > 0 && b.Shop.Rate > 0 && a.Kind == "" {
			// once more, with buying a new one among the choices at every step
			w := p.wish
			w.buying = true
			if p, err = b.plan(chance, w); err != nil {
				return Advice{}, err
			}
		}
		a.dear(b, p.act(p.First))
	}
	if a.Kind == "" {
		if err := a.fill(&p); err != nil {
			return Advice{}, err
		}
		if compare && (a.Kind == DoTest || a.Kind == DoMend) && !slices.ContainsFunc(a.Reasons, func(r Reason) bool { return r.byRule() }) {
			a.Flip = p.flip()
		}
	}
	return a, nil
}

// likeliest is the mend of the likeliest cause: people like to do it without a
// test.
func (b *bench) likeliest(chance beliefs) Action {
	lead := -1
	for i := range b.Causes {
		if lead < 0 || chance[i] > chance[lead] {
			lead = i
		}
	}
	if lead < 0 {
		return Action{}
	}
	return Action{Kind: DoMend, Cause: b.Causes[lead].ID}
}

// remarkOnRules says what keeps the device from being powered.
func (b *bench) remarkOnRules() {
	said := map[TestID]bool{} // a proof whose reading forbids power is spoken of once
	for _, f := range b.forbids {
		b.remark(Remark{About: Powerless, Test: f.Test, Reading: f.Reading, Text: f.Why, Past: b.pastMending(f)})
		said[f.Test] = true
	}
	for _, what := range b.Proofs() {
		if state, t := b.proven(what); state == bad && !said[t.ID] {
			b.remark(Remark{About: ReadBad, Proof: what, Test: t.ID})
		}
	}
	if b.Suspect != "" {
		b.remark(Remark{About: SuspectNow, Cause: b.Suspect})
	}
}

// unproved says at the end what could not be proved here, where that kept the
// device from being powered.
func (b *bench) unproved() {
	wanted := false
	for i := range b.Tests {
		t := &b.Tests[i]
		wanted = wanted || onMains(t) && (t.Power == SeriesLamp || b.Shop.AllowMains) && b.takenAtAll(t.ID) == nil
	}
	for _, what := range b.Proofs() {
		switch state, t := b.proven(what); {
		case state == cannot:
			b.remark(Remark{About: Unproved, Proof: what, Test: t.ID, Text: string(b.skipped[t.ID])})
		case state == missing && wanted:
			b.remark(Remark{About: Unproved, Proof: what})
		}
	}
}

// leftOut says of each test that was let go how many others wait for it: a skipped look
// over plug and cord, say, keeps the device from being powered, and so do its proofs.
func (b *bench) leftOut() {
	if len(b.Evidence.Skipped) == 0 {
		return
	}
	let := func(skipped ...Skip) []*Test { // what is open where only these were let go
		e := b.Evidence
		e.Skipped = skipped
		return b.Ground.lay(e).open()
	}
	all := let()
	for i := range b.Tests {
		x := &b.Tests[i]
		why, skip := b.skipped[x.ID]
		if !skip || b.takenAtAll(x.ID) != nil || slices.ContainsFunc(b.remarks, func(r Remark) bool { return r.About == Unproved && r.Test == x.ID }) {
			continue
		}
		without, n := let(Skip{x.ID, why}), 0
		for _, t := range all {
			if _, too := b.skipped[t.ID]; !too && !slices.Contains(without, t) {
				n++
			}
		}
		if n > 0 {
			b.remark(Remark{About: LeftOut, Test: x.ID, Count: n})
		}
	}
}

// open lists the tests not taken yet that may be, now or once what must come before them
// is done.
func (b *bench) open() (list []*Test) {
	for i := range b.Tests {
		t := &b.Tests[i]
		if _, may := b.before(t, true); may && b.takenAtAll(t.ID) == nil && b.possible(t, true) {
			list = append(list, t)
		}
	}
	return list
}

// confirm turns the question to the suspect, if there is one: which test best
// parts it from all others. done is false where that is settled or cannot be
// told.
func (a *Advice) confirm(b *bench, chance beliefs, compare bool) (done bool, err error) {
	if b.Suspect == "" {
		return false, nil
	}
	x := chance[b.causeIndex(b.Suspect)]
	if x >= settledAt || x <= ruledOut {
		return false, nil
	}
	p, err := b.plan(chance, wish{compare: compare, tell: b.Suspect})
	if err != nil {
		return false, err
	}
	first := p.act(p.First)
	if first.Kind != DoTest {
		a.because(Reason{About: TellsNoMore, Cause: b.Suspect})
		return false, nil
	}
	a.because(Reason{About: AskedAbout, Cause: b.Suspect, Chance: x, Test: first.Test})
	return true, a.fill(&p)
}

func (a *Advice) because(r Reason) { a.Reasons = append(a.Reasons, r) }

// powerUp keeps the order of danger. A test behind an isolating transformer or
// on the mains is offered only when no safer test separates what is left, the
// shop allows it, nothing read so far forbids it, and earth bond and insulation
// have been read good; else the trace stops and says why.
func (a *Advice) powerUp(p planned) (planned, error) {
	if p.splits || len(p.forbids) > 0 {
		return p, nil
	}
	b := p.bench
	for _, state := range []Power{Isolated, Mains} {
		w := p.wish
		w.live = state
		live, err := b.plan(p.chance, w)
		if err != nil {
			return p, err
		}
		first := live.act(live.First)
		t := b.Test(first.Test)
		if first.Kind != DoTest || safe(t) {
			continue // mending in turn is as quick as measuring live
		}
		why := Reason{About: NothingSafer, Causes: a.leading()}
		stop := func(r Reason) {
			a.Action, a.Stop = Action{Kind: DoStop, Test: t.ID}, StopLive
			a.Caution = t.Caution
			a.because(why)
			a.because(r)
			other, again, _ := p.step()
			a.because(Reason{About: WithoutIt, Action: other, Again: again})
			a.Instead = []Instead{{other, again, math.Max(0, p.ExpectedCost-live.ExpectedCost)}}
			b.unproved()
		}
		if !b.Shop.AllowMains {
			stop(Reason{About: NoLive, Test: t.ID})
			return p, nil
		}
		for _, what := range b.Proofs() {
			switch state, x := b.proven(what); state {
			case bad:
				stop(Reason{About: ProofBad, Proof: what})
				return p, nil
			case missing:
				stop(Reason{About: ProofMissing, Proof: what})
				return p, nil
			case cannot:
				stop(Reason{About: ProofCannot, Proof: what, Test: x.ID, Text: string(b.skipped[x.ID])})
				return p, nil
			}
		}
		a.because(why)
		return live, nil
	}
	return p, nil
}

// leading lists the likely causes, at most four.
func (a *Advice) leading() (ids []CauseID) {
	for _, c := range a.Chances {
		if c.Chance >= shownLeft && len(ids) < 4 {
			ids = append(ids, c.ID)
		}
	}
	return ids
}

// step is the first step of a plan: its first action, or a test that has to come
// before it, with the reason for that.
func (p *planned) step() (act Action, again bool, why *Reason) {
	if t, about := p.warned(); t != nil {
		return Action{Kind: DoTest, Test: t.ID}, false, &Reason{About: about}
	}
	if t := p.afterMend(); t != nil {
		return Action{Kind: DoTest, Test: t.ID}, true, &Reason{About: ReadAgain, Test: t.ID}
	}
	if act := p.seenHurt(); act.Kind != "" && p.wish.tell == "" {
		return act, false, &Reason{About: SeenHurt, Cause: act.Cause}
	}
	act, again, why = p.planStep()
	if p.wish.tell != "" {
		return act, again, why
	}
	if act.Kind == Past {
		if t := p.beforeGivingUp(); t != nil {
			return Action{Kind: DoTest, Test: t.ID}, p.again[t.ID], &Reason{About: GiveUpLast, Cause: act.Cause}
		}
		act = p.lookBeforeGivingUp(act)
	}
	if act.Kind == DoLook {
		if c := p.showsItself(); c != nil {
			return Action{Kind: DoMend, Cause: c.ID}, false, &Reason{About: ShowsItself, Cause: c.ID}
		}
		if c := p.explains(act.Block); c != nil {
			return Action{Kind: DoMend, Cause: c.ID}, false, nil
		}
	}
	if t, about := p.outside(act); t != nil && t.ID != act.Test {
		return Action{Kind: DoTest, Test: t.ID}, false, &Reason{About: about, Test: t.ID}
	}
	return act, again, why
}

// planStep is step by the plan and what must come before its first action.
func (p *planned) planStep() (act Action, again bool, why *Reason) {
	act = p.act(p.First)
	if t := p.Test(act.Test); t != nil {
		list := p.ahead(t)
		if len(list) == 0 {
			return act, p.again[t.ID], nil
		}
		x := list[0]
		why = &Reason{About: TestFirst, Test: t.ID}
		for _, what := range p.Proofs() {
			if x.Proves == string(what) && onMains(t) {
				why = &Reason{About: ProofFirst, Proof: what, Test: t.ID}
			}
		}
		return Action{Kind: DoTest, Test: x.ID}, false, why
	}
	if t := p.measureFirst(p.Cause(act.Cause)); t != nil {
		x := append(p.ahead(t), t)[0]
		about := MeasureFirst
		if state, _ := p.measure(p.Cause(act.Cause), p.wish.live != ""); state == free {
			about = BesideFirst
		}
		return Action{Kind: DoTest, Test: x.ID}, false, &Reason{About: about, Cause: act.Cause}
	}
	return act, false, nil
}

// fill turns the plan into advice.
func (a *Advice) fill(p *planned) error {
	act, again, why := p.step()
	if act.Kind == "" {
		return errNothing
	}
	a.Action, a.Again = act, again
	a.MinutesFromHere, a.LowerBound, a.Optimal = p.ExpectedCost+p.closing, p.LowerBound+p.closing, p.Optimal
	if a.GivenUp = p.lost(p.chance); a.GivenUp > 0 {
		a.GivesUp = p.givingUp()
	}
	if why != nil && why.byRule() {
		// a rule put it before the plan's own first step: it may save what it costs
		if first := p.act(p.First); act.Kind == DoTest && first.Test != act.Test {
			a.MinutesFromHere += p.costOf(p.Test(act.Test), nil)
			a.Optimal = false
		}
	}
	switch act.Kind {
	case DoTest:
		t := p.Test(act.Test)
		a.work(p, t.Minutes+t.Waits, t.Needs, t.Power)
		a.Waits, a.Caution = t.Waits, t.Caution
		a.outcomes(p, t)
		if why != nil && why.About == MeasureFirst {
			why.Minutes = p.costOfMeasuring()
		}
		a.whyTest(p, t, why)
	case DoMend, Past:
		c := p.Cause(act.Cause)
		if barred := p.barred(c); barred.Stop != "" {
			a.Action, a.Stop = Action{Kind: DoStop, Cause: c.ID}, barred.Stop
			a.because(Reason{About: IsBarred, Cause: c.ID, Text: barred.Text})
			p.unproved()
			return nil
		}
		if why != nil && (why.About == ShowsItself || why.About == SeenHurt) {
			a.because(*why)
		}
		if act.Kind == DoMend {
			a.work(p, c.Mend.Minutes, c.Mend.Needs, Off)
		}
		if p.act(p.First).Cause != act.Cause { // a rule put it in the place of the plan's look
			a.MinutesFromHere, a.Optimal = max(a.MinutesFromHere, a.Minutes), false
		}
		a.whyMend(p, c)
		p.unproved()
	case DoLook:
		if c := p.another(act.Block); c != nil {
			a.twofold(p, c)
		} else {
			a.located(p, act.Block)
		}
		p.unproved()
		return nil
	}
	for _, f := range p.Firsts {
		if other := p.act(f.Action); other != act && len(a.Instead) < 4 && f.Action != p.First {
			a.Instead = append(a.Instead, Instead{other, p.again[other.Test], math.Max(0, f.Value-p.ExpectedCost)})
		}
	}
	return nil
}

// costOfMeasuring is what measuring before parts are fitted costs in minutes on
// average.
func (p *planned) costOfMeasuring() float64 {
	if !p.wish.compare {
		return 0
	}
	w := p.wish
	w.unmeasured, w.compare, w.also = true, false, nil
	q, err := p.bench.plan(p.chance, w)
	if err != nil {
		return 0
	}
	return math.Max(0, p.ExpectedCost-q.ExpectedCost)
}

// work fills in what has to be opened, and the minutes with that and with the
// setting-up of power.
func (a *Advice) work(p *planned, minutes float64, needs []AccessID, power Power) {
	minutes = math.Max(0, minutes)
	a.Minutes = minutes
	if power != Off && power != "" && !p.poweredBefore(power) {
		a.Minutes += p.Shop.PowerMinutes[power]
	}
	for _, acc := range p.Opening(needs) {
		if !p.open[acc.ID] {
			a.Open = append(a.Open, acc.ID)
			a.Minutes += acc.Minutes
		}
	}
	a.Opens = a.Minutes - minutes
}

// outcomes says for each reading how likely it is and what it leaves.
func (a *Advice) outcomes(p *planned, t *Test) {
	closing := p.closing
	for _, acc := range p.opens(t) {
		if !p.open[acc.ID] {
			closing += acc.Undo
		}
	}
	after := map[string]float64{}
	for _, f := range p.Firsts {
		if p.act(f.Action).Test == t.ID {
			for _, br := range f.Branches {
				after[br.Label] = br.Value + closing
			}
		}
	}
	for _, band := range t.Reads {
		o := Outcome{Reading: band.ID, Chance: p.chance.gives(p.bench, t, band.ID), MinutesAfter: after[string(band.ID)]}
		if p.effort == bare {
			a.Outcomes = append(a.Outcomes, o)
			continue
		}
		then := p.chance.after(p.bench, t, band.ID)
		var left []int
		for i, q := range then {
			if q >= shownLeft {
				left = append(left, i)
			}
		}
		inorder.By(left, func(x, y int) int { return cmp.Compare(then[y], then[x]) })
		for _, i := range left {
			if s := p.bench.suspects[i]; s.cause != nil {
				o.Leaves = append(o.Leaves, s.cause.ID)
			} else {
				o.LeavesUnknown = append(o.LeavesUnknown, s.block)
			}
		}
		a.Outcomes = append(a.Outcomes, o)
	}
}

func (a *Advice) whyTest(p *planned, t *Test, why *Reason) {
	if why != nil {
		a.because(*why)
	} else {
		a.whyOthers(p)
	}
	if a.Again {
		a.because(Reason{About: ComesAndGoes, Test: t.ID})
	}
	if len(t.While) > 0 {
		a.because(Reason{About: DoneWhile, Test: t.ID})
	}
}

// whyOthers compares with other first steps.
func (a *Advice) whyOthers(p *planned) {
	if len(p.suspects) == 1 {
		a.because(Reason{About: ConfirmsLast})
		return
	}
	if len(p.Firsts) < 2 {
		return
	}
	other := p.Firsts[1]
	act := p.act(other.Action)
	extra := other.Value - p.ExpectedCost
	if extra < .05 {
		a.because(Reason{About: AsGood, Action: act, Again: p.again[act.Test]})
		return
	}
	a.because(Reason{About: CostsMore, Action: act, Again: p.again[act.Test], Minutes: extra})
	// desoldering the part that is suspected most, without a test
	suspected, ok := p.place(p.likeliest(p.chance))
	for _, f := range p.Firsts {
		if extra := f.Value - p.ExpectedCost; ok && f.Action == suspected && f.Action != other.Action && extra >= 1 {
			a.because(Reason{About: SuspectFirst, Action: p.act(f.Action), Minutes: extra})
		}
	}
}

// likelyEnough is the chance from which the readings point to a fault.
const likelyEnough = .8

func (a *Advice) whyMend(p *planned, c *Cause) {
	chance := p.chance[p.causeIndex(c.ID)]
	if c.Mend.None != "" {
		a.because(Reason{About: NoMend, Cause: c.ID, Text: c.Mend.None, Chance: chance})
	} else {
		a.because(Reason{About: MendDoes, Cause: c.ID})
	}
	switch { // what was seen to be dangerous is not tried for its chance
	case slices.ContainsFunc(a.Reasons, func(r Reason) bool { return r.About == SeenHurt }):
	case chance >= likelyEnough:
		a.because(Reason{About: PointsTo, Cause: c.ID, Chance: chance})
	default:
		a.because(Reason{About: BestTry, Cause: c.ID, Chance: chance})
	}
	for _, f := range p.forbids {
		if c.Mend.None != "" {
			break // nothing is mended
		}
		a.because(Reason{About: OnlyStated, Test: f.Test, Text: f.Why, Causes: p.stating(f)})
	}
	if len(c.Takes) > 0 {
		p.remark(Remark{About: TakesOthers, Cause: c.ID})
	}
	if c.Protective {
		p.remark(Remark{About: Protects, Cause: c.ID})
	}
}

// asLikely is the share of the likeliest block's chance from which another block
// is named beside it (beside what lies outside the chain one is named sooner, as
// that is no place to put a finger on), mostNamed how many are.
const (
	asLikely  = .5
	beside    = .25
	mostNamed = 3
)

// located stops and names the blocks in which a fault that no note describes is
// likeliest.
func (a *Advice) located(p *planned, first BlockID) {
	a.Action, a.Stop = Action{Kind: DoStop, Block: first}, StopUnknown
	chance := func(id BlockID) float64 { return p.chance.of(p.bench, id) }
	least := asLikely * chance(first)
	if first == "" {
		least = beside * chance("")
	}
	var blocks []BlockID
	for _, s := range p.bench.suspects {
		if s.cause == nil && !s.outside() && chance(s.block) >= least {
			blocks = append(blocks, s.block)
		}
	}
	inorder.By(blocks, func(x, y BlockID) int { return cmp.Compare(chance(y), chance(x)) })
	if first != "" {
		blocks = slices.DeleteFunc(blocks, func(id BlockID) bool { return id == first })
		blocks = append([]BlockID{first}, blocks...)
	} else {
		a.because(Reason{About: UnknownOut, Chance: chance("")})
	}
	a.Located = blocks[:min(mostNamed, len(blocks))]
	for _, id := range a.Located {
		a.because(Reason{About: UnknownIn, Block: id, Chance: chance(id), Reads: p.readOn(id)})
	}
	a.work(p, lookMinutes, p.reach(first), Off)
	if len(a.Chances) > 0 {
		a.because(Reason{About: BestNote, Cause: a.Chances[0].ID, Chance: a.Chances[0].Chance})
	}
	for _, f := range p.forbids {
		a.because(Reason{About: OnlyStated, Test: f.Test, Text: f.Why, Causes: p.stating(f)})
	}
}

// another is the fault of a block that was found, by a reading that it states, beside
// one that a forbidding reading tells of: likelier than one that no note describes, and
// not to be mended before that reading is good; nil for none.
func (p *planned) another(id BlockID) *Cause {
	if len(p.forbids) == 0 {
		return nil
	}
	best, most := (*Cause)(nil), p.chance.of(p.bench, id)
	for _, i := range p.suspects {
		c := p.bench.suspects[i].cause
		if c == nil || c.Block != id || p.chance[i] <= most || p.statesForbidden(c) {
			continue
		}
		if slices.ContainsFunc(p.taken, func(t takenOn) bool { return !t.stale() && abnormal(&t) && c.States(t.test.ID, t.last().top()) }) {
			best, most = c, p.chance[i]
		}
	}
	return best
}

// twofold stops before the mend of a fault that does not explain what forbids it.
func (a *Advice) twofold(p *planned, c *Cause) {
	a.Action, a.Stop = Action{Kind: DoStop, Cause: c.ID}, StopTwo
	a.because(Reason{About: TwoFaults, Cause: c.ID, Chance: p.chance[p.causeIndex(c.ID)]})
	for _, f := range p.forbids {
		a.because(Reason{About: OnlyStated, Test: f.Test, Text: f.Why, Causes: p.stating(f)})
	}
}

// of is the chance that a fault which no note describes sits in a block.
func (p beliefs) of(b *bench, id BlockID) float64 {
	if i := b.unknownOf(id); i >= 0 {
		return p[i]
	}
	return 0
}

// readOn lists what was read on the tests that cover a block, the narrowest
// first.
func (b *bench) readOn(id BlockID) []Read1 {
	var list []*takenOn
	for i := range b.taken {
		if t := &b.taken[i]; !t.stale() && t.test.covers(id) {
			list = append(list, t)
		}
	}
	inorder.By(list, func(x, y *takenOn) int { return cmp.Compare(len(x.test.Covers), len(y.test.Covers)) })
	var out []Read1
	for _, t := range list {
		out = append(out, Read1{t.test.ID, t.last().top(), t.last().typed})
	}
	return out
}
