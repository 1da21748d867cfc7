package trace

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strings"

	"faultleaf/calc/quantity"
)

// How far planning looks; our choices.
const (
	negligible = .002 // chance, or
	ofLeader   = .01  // share of the leader's chance, below which a cause is left out of planning
	mostCauses = 120  // causes that are planned for, likeliest first
	shownLeft  = .05  // chance from which an outcome "leaves" a cause
	planBudget = 500  // states of the exact search for one step
	mostUnsure = 3    // tests that may go either way for a cause, planned as such
	mostAgain  = 2    // tests thought of once more
	catches    = .04  // chance to catch a fault that comes and goes, from which a test is thought of again
)

// Next says what to do next and why. Its error is one sentence about what is
// known: an id that is not there, a reading that cannot be read.
func Next(d *Device, k Evidence) (Advice, error) {
	return next(d, k, true)
}

// Step is Next without the comparison of other first steps, which takes most of
// the work.
func Step(d *Device, k Evidence) (Advice, error) {
	return next(d, k, false)
}

func next(d *Device, k Evidence, compare bool) (Advice, error) {
	if len(d.Causes) == 0 {
		return Advice{}, errors.New("there is no fault note on the " + d.Title + " yet; write the first one")
	}
	spent := d.spent(k)
	k, err := d.settled(k)
	if err != nil {
		return Advice{}, err
	}
	b, err := believe(d, k)
	if err != nil {
		return Advice{}, err
	}
	a := Advice{Rest: b.rest, Notes: b.notes}
	for _, what := range d.proofs() {
		if state, t := proven(d, k, what); state == bad {
			a.Notes = append(a.Notes, t.Ask+": the "+proofName(what)+" did not read good. Put that right first; the device is not powered before.")
		}
	}
	for i := range d.Causes {
		a.Chances = append(a.Chances, Chance{d.Causes[i].ID, d.Causes[i].Title, b.chance[i]})
	}
	slices.SortStableFunc(a.Chances, func(x, y Chance) int { return cmp.Compare(y.Chance, x.Chance) })
	if lead := a.Chances[0]; b.rest > lead.Chance {
		a.Kind, a.Title, a.Stop = "stop", "nothing in these notes fits well", StopUnknown
		a.Why = []string{"A fault that is not in these notes is likelier (" + quantity.Chance(b.rest) + ") than the best of them, " + lead.Title + " (" + quantity.Chance(lead.Chance) + ").",
			"Check the readings once more; then go on by hand, and write a new fault note with what you find."}
		return a, nil
	}
	p, err := plan(d, k, b, safe, compare, false)
	if err != nil {
		return Advice{}, err
	}
	if err := p.power(d, k, b, compare, &a); err != nil {
		return Advice{}, err
	}
	p.money(d, k, spent, &a)
	if k.Terms.Price > 0 && d.Shop.Rate > 0 && a.Kind == "" {
		// once more, with buying a new one among the choices at every step
		q, err := plan(d, k, b, safe, compare, true)
		if err != nil {
			return Advice{}, err
		}
		p = q
	}
	a.dear(d, k, p.FirstAction)
	if a.Kind == "" {
		a.fill(d, p, b, k)
		if compare {
			a.Flip = p.flip(d)
			a.whyFlip(d)
		}
	}
	return a, nil
}

// planned is a model of what is left to do, and its solution.
type planned struct {
	Plan
	causes  []int             // of the model, as indices into Device.Causes
	tests   map[string]*Test  // by the action's name
	mends   map[string]*Cause // by the action's name
	open    map[AccessID]bool // opened by what was done
	model   *Model
	closing float64         // minutes to close what is open
	again   map[TestID]bool // done before and thought of once more
	// readWell are the tests whose every reading was healthy.
	readWell map[TestID]bool
	splits   bool // some test tells apart what is left
}

// safe tests are done unplugged, or with the energy limited.
func safe(t *Test) bool {
	return t.Power == Off || t.Power == LowVoltage || t.Power == SeriesLamp || t.Power == ""
}

// plan makes the model: causes by their chances, tests not yet done with each
// cause's likeliest reading, mends as repairs.
func plan(d *Device, k Evidence, b beliefs, allowed func(*Test) bool, compare, buying bool) (planned, error) {
	p := planned{tests: map[string]*Test{}, mends: map[string]*Cause{}, open: map[AccessID]bool{}, readWell: map[TestID]bool{}}
	m := &Model{Goal: Fix}
	p.model = m
	p.causes = likely(b)
	for _, i := range p.causes {
		m.Causes = append(m.Causes, ModelCause{Name: string(d.Causes[i].ID), Prior: b.chance[i]})
	}
	if len(p.causes) == 0 {
		return p, errors.New("no fault in the notes is likely any more; go on by hand and write a new note")
	}
	done := map[TestID]bool{}
	ready := map[Power]bool{Off: true}
	for _, r := range k.Readings {
		t := d.Test(r.Test)
		fits, err := ParseReading(t, r.Value)
		well := err == nil && top(fits) == healthy(t)
		p.readWell[t.ID] = well && (p.readWell[t.ID] || !done[t.ID])
		done[t.ID] = true
		ready[t.Power] = true
		p.opened(d, t.Needs)
	}
	for _, id := range k.Tried {
		p.opened(d, d.Causes[d.causeIndex(id)].Mend.Needs)
	}
	for _, m := range k.Mended {
		p.opened(d, d.Causes[d.causeIndex(m.Cause)].Mend.Needs)
	}
	// Opening work, and the setting-up of a power state, are both paid once.
	// What is opened will be closed, so closing is paid with opening; that of
	// what is open already has to be done whatever comes.
	for _, a := range d.Access {
		g := Group{Name: "open " + string(a.ID), Cost: a.Minutes + a.Undo}
		if p.open[a.ID] {
			g.Cost = 0
			p.closing += a.Undo
		}
		if a.Inside != "" {
			g.Inside = "open " + string(a.Inside)
		}
		m.Access = append(m.Access, g)
	}
	for _, s := range Powers() {
		g := Group{Name: "power " + string(s), Cost: d.Shop.PowerMinutes[s]}
		if ready[s] {
			g.Cost = 0
		}
		m.Access = append(m.Access, g)
	}
	p.again = p.worthAgain(d, done, allowed, b)
	var tests []*Test
	possible := map[TestID]bool{}
	for i := range d.Tests {
		t := &d.Tests[i]
		if done[t.ID] && !p.again[t.ID] || !allowed(t) || len(t.Reads) == 0 || d.shut(t.Needs) {
			continue
		}
		tests = append(tests, t)
		possible[t.ID] = true
	}
	tests = slices.DeleteFunc(tests, func(t *Test) bool { return !d.mayFollow(k, t, possible) })
	unsure := p.unsure(d, tests, b)
	for _, t := range tests {
		mt := ModelTest{Name: "test " + string(t.ID), Cost: t.Minutes + d.Shop.waits(t.Waits) + harm(d, t)}
		for _, id := range t.After {
			if !done[id] {
				mt.After = append(mt.After, "test "+string(id))
			}
		}
		for _, id := range t.Needs {
			mt.Needs = append(mt.Needs, "open "+string(id))
		}
		if t.Power != Off && t.Power != "" {
			mt.Needs = append(mt.Needs, "power "+string(t.Power))
		}
		mt.Outcomes = p.outcomes(d, t, b, unsure[t.ID] || p.again[t.ID])
		for _, o := range mt.Outcomes[1:] {
			p.splits = p.splits || o[0] != mt.Outcomes[0][0]
		}
		m.Tests = append(m.Tests, mt)
		p.tests[mt.Name] = t
	}
	for _, i := range p.causes {
		c := &d.Causes[i]
		r := Repair{Name: "mend " + string(c.ID), Cost: c.Mend.Minutes, Succeeds: success(c)}
		if k.Terms.known() {
			r.Cost += d.Shop.inMinutes(c.Mend.price())
		}
		if why, _ := d.barred(k, c); buying && why != "" {
			continue // a new one is the only way out
		}
		for _, id := range c.Mend.Needs {
			r.Needs = append(r.Needs, "open "+string(id))
		}
		for j, other := range p.causes {
			if sameMend(c, &d.Causes[other]) {
				r.Fixes = append(r.Fixes, j)
			}
		}
		m.Repairs = append(m.Repairs, r)
		p.mends[r.Name] = c
	}
	if buying {
		all := make([]int, len(p.causes))
		for j := range all {
			all[j] = j
		}
		m.Repairs = append(m.Repairs, Repair{Name: replaceIt, Cost: d.Shop.inMinutes(k.Terms.Price), Succeeds: 1, Fixes: all})
	}
	also := b.also
	if also == "" {
		also = "mend " + string(suspect(d, b))
	}
	var err error
	p.Plan, err = Solve(m, Options{Budget: planBudget, Firsts: compare, Also: also})
	return p, err
}

// shut tells whether some access on the way is one the shop does not open.
func (d *Device) shut(needs []AccessID) bool {
	for _, a := range d.Opening(needs) {
		if a.Forbidden != "" {
			return true
		}
	}
	return false
}

// mayFollow tells whether a test may be planned: what must come before it has
// read healthy, or can still be tested.
func (d *Device) mayFollow(k Evidence, t *Test, possible map[TestID]bool) bool {
	for _, id := range t.After {
		before := d.Test(id)
		if before == nil {
			continue
		}
		read, good := false, false
		for _, r := range k.Readings {
			if r.Test == id {
				fits, err := ParseReading(before, r.Value)
				read, good = true, err == nil && len(fits) == 1 && fits[0].Reading == healthy(before)
			}
		}
		if read && !good || !read && !possible[id] {
			return false
		}
	}
	return true
}

// worthAgain are the tests worth doing once more: those that read well, though
// the faults that come and go and would show on them weigh much still.
func (p *planned) worthAgain(d *Device, done map[TestID]bool, allowed func(*Test) bool, b beliefs) map[TestID]bool {
	type weighed struct {
		id   TestID
		mass float64
	}
	var list []weighed
	for i := range d.Tests {
		t := &d.Tests[i]
		if !done[t.ID] || !p.readWell[t.ID] || !allowed(t) || len(t.Reads) == 0 {
			continue
		}
		mass := 0.0
		for _, j := range p.causes {
			c := &d.Causes[j]
			id, known := expected(t, c)
			if s := shows(t, c, 1); known && id != healthy(t) && s < 1 {
				mass += float64(b.chance[j] * s)
			}
		}
		if mass > catches {
			list = append(list, weighed{t.ID, mass})
		}
	}
	slices.SortStableFunc(list, func(a, b weighed) int { return cmp.Compare(b.mass, a.mass) })
	out := map[TestID]bool{}
	for _, w := range list[:min(mostAgain, len(list))] {
		out[w.id] = true
	}
	return out
}

// suspect is the likeliest cause: people like to mend it without a test.
func suspect(d *Device, b beliefs) CauseID {
	lead := 0
	for i, c := range b.chance {
		if c > b.chance[lead] {
			lead = i
		}
	}
	return d.Causes[lead].ID
}

// likely lists the causes to plan for, in the notes' order.
func likely(b beliefs) []int {
	most := 0.0
	for _, c := range b.chance {
		most = math.Max(most, c)
	}
	var list []int
	for i, c := range b.chance {
		if c > 0 && c >= math.Min(negligible, most*ofLeader) {
			list = append(list, i)
		}
	}
	if len(list) > mostCauses {
		slices.SortStableFunc(list, func(i, j int) int { return cmp.Compare(b.chance[j], b.chance[i]) })
		list = list[:mostCauses]
		slices.Sort(list)
	}
	return list
}

// unsure picks the tests that are planned as telling nothing about the causes
// whose reading no note states: those where such causes weigh most.
func (p *planned) unsure(d *Device, tests []*Test, b beliefs) map[TestID]bool {
	type weighed struct {
		id   TestID
		mass float64
	}
	var list []weighed
	for _, t := range tests {
		w := weighed{id: t.ID}
		for _, i := range p.causes {
			id, ok := expected(t, &d.Causes[i])
			if !ok {
				w.mass += b.chance[i]
			} else if s := shows(t, &d.Causes[i], 1); s < 1 && id != healthy(t) {
				w.mass += b.chance[i]
			}
		}
		if w.mass > 0 {
			list = append(list, w)
		}
	}
	slices.SortStableFunc(list, func(a, b weighed) int { return cmp.Compare(b.mass, a.mass) })
	out := map[TestID]bool{}
	for _, w := range list[:min(mostUnsure, len(list))] {
		out[w.id] = true
	}
	return out
}

// sameMend: the same work on the same part cures either fault.
func sameMend(a, b *Cause) bool {
	return a.ID == b.ID || a.Block == b.Block && a.Mend.Does == b.Mend.Does && a.Mend.Does != ""
}

// harm is the expected damage of a test in minutes of the shop's rate.
func harm(d *Device, t *Test) float64 {
	if t.Harms.Chance <= 0 || t.Harms.Cost <= 0 || d.Shop.Rate <= 0 {
		return 0
	}
	return t.Harms.Chance * t.Harms.Cost / d.Shop.Rate * 60
}

// Opening lists what has to be opened for needs, outermost first.
func (d *Device) Opening(needs []AccessID) []*Access {
	var list []*Access
	seen := map[AccessID]bool{}
	var add func(AccessID)
	add = func(id AccessID) {
		for i := range d.Access {
			if a := &d.Access[i]; a.ID == id && !seen[id] {
				seen[id] = true
				if a.Inside != "" {
					add(a.Inside)
				}
				list = append(list, a)
			}
		}
	}
	for _, id := range needs {
		add(id)
	}
	return list
}

func (p *planned) opened(d *Device, needs []AccessID) {
	for _, a := range d.Opening(needs) {
		p.open[a.ID] = true
	}
}

// outcomes are what planning takes each cause to read on a test.
//
// Where a note does not state the reading, any outcome must leave the chance of
// that cause as it was. So the cause is planned to give each reading as often as
// the others together do, which is just what an outcome that tells nothing about
// it looks like. Only a few tests can be planned so, as each multiplies the
// states; on further ones such a cause gives the reading that is likeliest.
func (p *planned) outcomes(d *Device, t *Test, b beliefs, unsure bool) []Spread {
	out := make([]Spread, len(p.causes))
	mix := map[ReadingID]float64{}
	total := 0.0
	var unknown []int
	for j, i := range p.causes {
		id, ok := expected(t, &d.Causes[i])
		if !ok {
			unknown = append(unknown, j)
			continue
		}
		total += b.chance[i]
		if h, s := healthy(t), shows(t, &d.Causes[i], 1); id != h && s < 1 {
			if unsure {
				out[j] = Spread{{string(id), s}, {string(h), 1 - s}}
				mix[id] += float64(b.chance[i] * s)
				mix[h] += float64(b.chance[i] * (1 - s))
				continue
			}
			if s < .5 {
				id = h
			}
		}
		out[j] = Sure(string(id))
		mix[id] += b.chance[i]
	}
	if len(unknown) == 0 {
		return out
	}
	spread := Spread{}
	best := ReadingID("")
	for _, r := range t.Reads { // in the order of the bands
		if mix[r.ID] > 0 {
			spread = append(spread, LabelChance{string(r.ID), mix[r.ID] / total})
			if best == "" || mix[r.ID] > mix[best] {
				best = r.ID
			}
		}
	}
	switch {
	case len(spread) == 0:
		spread = Sure(string(healthy(t)))
	case !unsure:
		spread = Sure(string(best))
	}
	for _, j := range unknown {
		out[j] = spread
	}
	return out
}

// power keeps the order of danger. An isolated or mains test is offered only
// when no safer test separates what is left, the shop allows it, and earth bond
// and insulation have been read good; else the trace stops and says why.
func (p *planned) power(d *Device, k Evidence, b beliefs, compare bool, a *Advice) error {
	if p.splits {
		return nil // a safer test still separates something
	}
	for _, state := range []Power{Isolated, Mains} {
		live, err := plan(d, k, b, func(t *Test) bool { return safe(t) || t.Power == state }, compare, false)
		if err != nil {
			return err
		}
		t := live.tests[live.FirstAction]
		if t == nil || safe(t) {
			continue // mending in turn is as quick as measuring live
		}
		why := []string{"No safer test tells apart what is left: " + strings.Join(titles(a.Chances), ", ") + "."}
		stop := func(sentence string) {
			a.Kind, a.ID, a.Title, a.Stop = "stop", string(t.ID), "the next test would be a live one", StopLive
			a.Why = append(why, sentence, "Without it: "+p.title(p.FirstAction)+" is the best thing to do.")
			a.Caution = t.Caution
			a.Instead = []Instead{{p.kind(p.FirstAction), p.id(p.FirstAction), p.title(p.FirstAction), math.Max(0, p.ExpectedCost-live.ExpectedCost)}}
		}
		if !d.Shop.AllowMains {
			stop("This shop does not allow live tests: “" + t.Ask + "” is left to people licensed for it where the law says so.")
			return nil
		}
		for _, proof := range d.proofs() {
			state, first := proven(d, k, proof)
			switch state {
			case good:
				continue
			case bad:
				stop("The " + proofName(proof) + " did not read good, so the device is not powered before that is put right.")
			case missing:
				stop("The device has no test that proves its " + proofName(proof) + ", so it is not powered.")
			default:
				a.Kind, a.ID, a.Title = "test", string(first.ID), first.Ask
				a.Why = append(why, "Before anything live, the "+proofName(proof)+" must read good.")
				a.Caution = first.Caution
				a.MinutesFromHere = live.ExpectedCost + live.closing
				a.step(d, *p, k, first.Minutes+first.Waits, first.Needs, first.Power)
				a.outcomes(d, first, *p, b)
			}
			return nil
		}
		*p = live
		a.Notes = append(a.Notes, why...)
		return nil
	}
	return nil
}

// proofs are what must read good before a device is powered for a live test:
// one with double insulation has no earth to bond, one on safe extra-low volts
// neither. Where no note says the class, both.
func (d *Device) proofs() []string {
	switch d.Class {
	case "II":
		return []string{"insulation"}
	case "III":
		return nil
	}
	return []string{"bond", "insulation"}
}

func proofName(proof string) string {
	if proof == "bond" {
		return "earth bond"
	}
	return "insulation"
}

// proof is what is known of a safety test.
type proof int

const (
	missing proof = iota // the device has no such test
	open                 // not done yet
	good
	bad
)

// proven tells what is known of a proof, and which test gives it.
func proven(d *Device, k Evidence, what string) (proof, *Test) {
	state, first := missing, (*Test)(nil)
	for i := range d.Tests {
		t := &d.Tests[i]
		if t.Proves != what {
			continue
		}
		now := open
		for _, r := range k.Readings { // the last reading counts
			if r.Test == t.ID {
				now = bad
				if fits, err := ParseReading(t, r.Value); err == nil && len(fits) == 1 && fits[0].Reading == healthy(t) {
					now = good
				}
			}
		}
		if now == bad {
			return bad, t
		}
		if first == nil || now == open {
			state, first = now, t
		}
	}
	return state, first
}

func titles(chances []Chance) []string {
	var out []string
	for _, c := range chances {
		if c.Chance >= shownLeft && len(out) < 4 {
			out = append(out, c.Title)
		}
	}
	return out
}

func (p *planned) kind(action string) string {
	switch {
	case p.tests[action] != nil:
		return "test"
	case action == replaceIt:
		return "replace"
	}
	return "mend"
}

func (p *planned) id(action string) string {
	_, id, _ := strings.Cut(action, " ")
	return id
}

func (p *planned) title(action string) string {
	if t := p.tests[action]; t != nil {
		if p.again[t.ID] {
			return t.Ask + " (once more)"
		}
		return t.Ask
	}
	if c := p.mends[action]; c != nil {
		return c.Title
	}
	if action == replaceIt {
		return "Buying a new one"
	}
	return ""
}

// fill turns the plan into advice.
func (a *Advice) fill(d *Device, p planned, b beliefs, k Evidence) {
	first := p.FirstAction
	a.Kind, a.ID, a.Title = p.kind(first), p.id(first), p.title(first)
	a.MinutesFromHere, a.LowerBound, a.Optimal = p.ExpectedCost+p.closing, p.LowerBound+p.closing, p.Optimal
	if t := p.tests[first]; t != nil {
		a.step(d, p, k, t.Minutes+t.Waits, t.Needs, t.Power)
		a.Waits = t.Waits
		a.Caution = t.Caution
		a.outcomes(d, t, p, b)
		a.whyTest(p, t)
	} else if c := p.mends[first]; c != nil {
		if why, says := d.barred(k, c); why != "" {
			a.bar(c, why, says)
			return
		}
		a.step(d, p, k, c.Mend.Minutes, c.Mend.Needs, Off)
		a.whyMend(d, p, c, b)
	}
	for _, f := range p.Firsts {
		if f.Action == first || len(a.Instead) == 4 {
			continue
		}
		a.Instead = append(a.Instead, Instead{p.kind(f.Action), p.id(f.Action), p.title(f.Action), math.Max(0, f.Value-p.ExpectedCost)})
	}
}

// bar stops at a mend that cannot be done here.
func (a *Advice) bar(c *Cause, why StopFor, says string) {
	a.Kind, a.ID, a.Stop = "stop", string(c.ID), why
	a.Title = "it is most likely “" + c.Title + "”, and this shop does not mend that"
	if why == StopNoPart {
		a.Title = "it is most likely “" + c.Title + "”, and there is no part for it"
	}
	a.Why = append(a.Why, says, "Say so to the owner, with what was found; nothing is left open or bypassed.")
}

// step fills in what has to be opened, and the minutes with that and with the
// setting-up of power.
func (a *Advice) step(d *Device, p planned, k Evidence, minutes float64, needs []AccessID, power Power) {
	a.Minutes = minutes
	defer func() { a.Opens = a.Minutes - minutes }()
	if power != Off && power != "" && !poweredBefore(d, k, power) {
		a.Minutes += d.Shop.PowerMinutes[power]
	}
	for _, acc := range d.Opening(needs) {
		if !p.open[acc.ID] {
			a.Open = append(a.Open, acc.ID)
			a.Minutes += acc.Minutes
		}
	}
}

func poweredBefore(d *Device, k Evidence, s Power) bool {
	for _, r := range k.Readings {
		if t := d.Test(r.Test); t != nil && t.Power == s {
			return true
		}
	}
	return false
}

// outcomes says for each reading how likely it is and which causes it leaves.
func (a *Advice) outcomes(d *Device, t *Test, p planned, b beliefs) {
	closing := p.closing
	for _, acc := range d.Opening(t.Needs) {
		if !p.open[acc.ID] {
			closing += acc.Undo
		}
	}
	after := map[string]float64{}
	for _, f := range p.Firsts {
		if f.Action == "test "+string(t.ID) {
			for _, br := range f.Branches {
				after[br.Label] = br.Value + closing
			}
		}
	}
	for _, band := range t.Reads {
		o := Outcome{Reading: band.ID, Text: band.Text, MinutesAfter: after[string(band.ID)]}
		then := beliefs{chance: append([]float64(nil), b.chance...), rest: b.rest}
		then.reading(d, takenOn{test: t, fits: [][]Fit{{{band.ID, 1}}}, typed: []string{""}})
		o.Chance = outcomeChance(d, t, b, band.ID)
		type left struct {
			id CauseID
			p  float64
		}
		var lefts []left
		for i, q := range then.chance {
			if q >= shownLeft {
				lefts = append(lefts, left{d.Causes[i].ID, q})
			}
		}
		slices.SortStableFunc(lefts, func(x, y left) int { return cmp.Compare(y.p, x.p) })
		for _, l := range lefts {
			o.Leaves = append(o.Leaves, l.id)
		}
		a.Outcomes = append(a.Outcomes, o)
	}
}

// outcomeChance is the chance that a test gives a reading, as far as the notes
// know.
func outcomeChance(d *Device, t *Test, b beliefs, id ReadingID) float64 {
	sum, mass := float64(b.rest*restReads(t, id)), b.rest
	for i := range d.Causes {
		if q, ok := chanceOf(t, &d.Causes[i], id, 1); ok {
			sum += float64(b.chance[i] * q)
			mass += b.chance[i]
		}
	}
	if mass <= 0 {
		return 0
	}
	return sum / mass
}

func (a *Advice) whyTest(p planned, t *Test) {
	switch {
	case len(p.Firsts) > 1:
		other := p.Firsts[1]
		if extra := other.Value - p.ExpectedCost; extra >= .05 {
			verb := "Starting with “" + p.title(other.Action) + "” instead"
			if other.Repair {
				verb = "Going straight for the mend of “" + p.title(other.Action) + "”"
			}
			a.Why = append(a.Why, verb+" costs "+quantity.Minutes(extra)+" more on average.")
		} else {
			a.Why = append(a.Why, "“"+p.title(other.Action)+"” would be as good a start.")
		}
		// desoldering the part that is suspected most, without a test
		suspect := "mend " + string(a.Chances[0].ID)
		for _, f := range p.Firsts {
			if extra := f.Value - p.ExpectedCost; f.Action == suspect && f.Action != other.Action && extra >= 1 {
				a.Why = append(a.Why, "Mending the suspect first (“"+p.title(f.Action)+"”) costs "+quantity.Minutes(extra)+" more on average.")
			}
		}
	case len(p.causes) == 1:
		a.Why = append(a.Why, "One fault is left; this confirms it before the mend.")
	}
	if p.again[t.ID] {
		a.Why = append(a.Why, "It read well before, but what is suspected comes and goes: move, tap, warm or load it while you look.")
	}
	if len(t.While) > 0 {
		a.Why = append(a.Why, "Do it while the device is "+strings.Join(t.While, " or ")+".")
	}
}

// whyFlip says for which shares of the leading cause the step stands.
func (a *Advice) whyFlip(d *Device) {
	if a.Flip == nil || a.Flip.Below == nil && a.Flip.Above == nil {
		return
	}
	title := d.Causes[d.causeIndex(a.Flip.Cause)].Title
	better := func(f *FlipsTo) string {
		if f.Kind == "mend" {
			return "mending “" + f.Title + "” would be better"
		}
		return "“" + f.Title + "” would be better"
	}
	switch below, above := a.Flip.Below, a.Flip.Above; {
	case above == nil:
		a.Why = append(a.Why, "This stands down to "+quantity.Chance(below.Share)+" for “"+title+"”; below that "+better(below)+".")
	case below == nil:
		a.Why = append(a.Why, "This stands up to "+quantity.Chance(above.Share)+" for “"+title+"”; above that "+better(above)+".")
	default:
		a.Why = append(a.Why, "This stands from "+quantity.Chance(below.Share)+" to "+quantity.Chance(above.Share)+" for “"+title+"”; below that "+
			better(below)+", above it "+better(above)+".")
	}
}

func (a *Advice) whyMend(d *Device, p planned, c *Cause, b beliefs) {
	chance := b.chance[d.causeIndex(c.ID)]
	a.Why = append(a.Why, c.Mend.Does+".")
	switch {
	case chance >= .8:
		a.Why = append(a.Why, "The readings point to it: "+quantity.Chance(chance)+".")
	default:
		a.Why = append(a.Why, "No test left tells enough for its minutes; this mend is the best next try ("+quantity.Chance(chance)+").")
	}
	if len(c.Takes) > 0 {
		a.Notes = append(a.Notes, "It often takes others with it: test or renew "+strings.Join(c.Takes, ", ")+" too, or the new part follows the old one.")
	}
	if c.Protective {
		a.Notes = append(a.Notes, "This is a protective part: find the reason it opened before closing the job, or write “reason not found” and pass a loaded soak. Never leave it bypassed.")
	}
}
