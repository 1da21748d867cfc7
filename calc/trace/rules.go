package trace

import (
	"math"
	"slices"
)

// What may be done at all, and what must come before it. None of these rules is
// weighed against minutes.

// Proofs are what must read good before a device is powered from the mains: one
// with double insulation has no earth to bond, one on safe extra-low volts
// neither, and needs no proof unless a test feeds it, by its own supply say, from
// the mains. Where no note says the class, both.
func (d *Device) Proofs() []ProofKind {
	switch d.Class {
	case "II":
		return []ProofKind{Insulation}
	case "III":
		for i := range d.Tests {
			if onMains(&d.Tests[i]) {
				return []ProofKind{Insulation}
			}
		}
		return nil
	}
	return []ProofKind{Bond, Insulation}
}

// proofState is what is known of a proof.
type proofState int

const (
	missing  proofState = iota // the device has no such test
	cannot                     // its test cannot be taken here
	untested                   // not done yet
	good
	bad
)

// proven tells what is known of a proof, and which test gives it. Where several
// tests give it, each must have read good.
func (b *bench) proven(what ProofKind) (proofState, *Test) {
	state, which := missing, (*Test)(nil)
	for i := range b.Tests {
		t := &b.Tests[i]
		if t.Proves != string(what) {
			continue
		}
		now := untested
		if took := b.takenAtAll(t.ID); took != nil { // the last reading counts
			now = bad
			if took.last().surely(healthy(t)) {
				now = good
				if b.openedSince(took.last().at) {
					now = untested
				}
			}
		} else if _, skip := b.skipped[t.ID]; skip || b.shut(t.Needs) || len(t.Reads) == 0 {
			now = cannot
		}
		switch {
		case now == bad:
			return bad, t
		case which == nil || now == cannot || now == untested && state == good:
			state, which = now, t
		}
	}
	return state, which
}

// takenAtAll is all that was read on a test, whether it counts still or not.
func (b *bench) takenAtAll(id TestID) *takenOn {
	for i := range b.taken {
		if b.taken[i].test.ID == id {
			return &b.taken[i]
		}
	}
	return nil
}

// warned is the proof that comes before all else where the device tingles or trips the
// supply, and which of these; nil for none. Where it tingles that is first whether the
// earth holds, then whether something leaks, and where it trips the latter alone.
func (b *bench) warned() (*Test, About) {
	proofs, about := []ProofKind(nil), About("")
	for _, id := range b.Evidence.Symptoms {
		switch s := b.Symptom(id); {
		case s.Tingles:
			proofs, about = []ProofKind{Bond, Insulation}, TinglesFirst
		case s.Trips && about == "":
			proofs, about = []ProofKind{Insulation}, TripsFirst
		}
	}
	for _, what := range proofs { // whatever its class: its supply may leak too
		for i := range b.Tests {
			t := &b.Tests[i]
			if t.Proves != string(what) || !b.possible(t, false) {
				continue
			}
			if took := b.takenAtAll(t.ID); took == nil || b.openedSince(took.last().at) {
				if list, ok := b.before(t, false); ok && len(list) > 0 {
					return list[0], about
				} else if ok {
					return t, about
				}
			}
		}
	}
	return nil, ""
}

// asideMinutes is how long a test may take that is not weighed: what is read from
// outside before the device is opened, or beside a part before that is changed.
const asideMinutes = 3.

// provedFrom are the minutes of a mend from which it wants a reading first, though
// no part is fitted.
const provedFrom = 12.

// aside tells whether a test is quick, dangerless and can be taken now without
// opening anything but what is open, or will be for something else anyway.
func (b *bench) aside(t *Test, anyway []*Access) bool {
	if b.on(t.ID) != nil || powered(t) || t.Waits > 0 || !b.possible(t, false) || b.costOf(t, anyway) > asideMinutes {
		return false
	}
	list, ok := b.before(t, false)
	return ok && len(list) == 0
}

// beside is a test to take before a part is fitted: where the reading that speaks
// for its fault was taken over other blocks too, and a fault of such a block reads
// the same, a quick look at that block comes first; nil for none.
func (b *bench) beside(c *Cause) *Test {
	x := b.rules.cause(c, false)
	if !x.looked {
		x.beside, x.looked = b.besideNow(c), true
	}
	return x.beside
}

func (b *bench) besideNow(c *Cause) *Test {
	if b.light(c) {
		return nil
	}
	for _, took := range b.taken {
		top := took.last().top()
		if took.stale() || top == healthy(took.test) || !c.States(took.test.ID, top) || b.narrowed(c, took.test) {
			continue
		}
		for i := range b.Tests {
			t := &b.Tests[i]
			if t.covers(c.Block) || !b.aside(t, b.opensFor[c.at-1]) {
				continue
			}
			if b.mayExplain(t, took.test, top) {
				return t
			}
		}
	}
	return nil
}

// mayExplain tells whether a fault that a test would show may have given a reading
// on another one that covers its block too: some noted fault gives both, or none
// of what is noted there shows on the test at all.
func (b *bench) mayExplain(t, wide *Test, read ReadingID) bool {
	within, shown := false, false
	for _, id := range t.Covers {
		within = within || wide.covers(id)
	}
	if !within {
		return false
	}
	for i := range b.Causes {
		c := &b.Causes[i]
		if !t.covers(c.Block) || !wide.covers(c.Block) || !b.statesAbnormal(c, t) {
			continue
		}
		if c.States(wide.ID, read) {
			return true
		}
		shown = true
	}
	return !shown
}

// light tells whether a mend is so little work that it is its own test: no part,
// and few minutes.
func (b *bench) light(c *Cause) bool {
	return b.Shop.MendUnmeasured || len(c.Mend.Parts) == 0 && c.Mend.None == "" && b.MendMinutes(c) < provedFrom
}

// afterMend is the test to take again because its reading forbids still, though a
// fault that states it was put right since, or by hand something in a block that the
// test covers; nil for none.
func (b *bench) afterMend() *Test {
	for _, f := range b.forbids {
		took := b.takenAtAll(f.Test)
		for _, m := range b.Mended {
			if c := b.Cause(m.Cause); m.Before > took.last().at && c.States(f.Test, f.Reading) && b.possible(took.test, false) {
				return took.test
			}
		}
		for _, h := range b.ByHand {
			if at := took.last().at; h.Before > at && (h.Block == "" || took.test.covers(h.Block)) && b.possible(took.test, false) {
				return took.test
			}
		}
	}
	return nil
}

// seenHurt is what a look showed that forbids, where one noted fault alone looks so: a
// swollen battery, say. No other mend may be done, and what is seen to be dangerous is
// not handled for the sake of more readings, however seldom it is; so it is put right
// now, or given up. The zero Action where there is none.
func (p *planned) seenHurt() Action {
	for _, f := range p.forbids {
		took := p.takenAtAll(f.Test)
		ids := p.stating(f)
		if !took.test.ByEye || len(ids) != 1 || !took.last().surely(f.Reading) {
			continue
		}
		c := p.Cause(ids[0])
		switch id, _ := c.Likeliest(f.Test); {
		case id != f.Reading:
		case c.Mend.None != "":
			return Action{Kind: Past, Cause: c.ID}
		case p.mayMend(c) && p.measureFirst(c) == nil && success(c) > 0:
			return Action{Kind: DoMend, Cause: c.ID}
		}
	}
	return Action{}
}

// showsItself is a noted fault to mend before the trace stops for what no note
// describes: read on its own block alone as only it reads, while something else was
// read that it does not explain, so that there may be two faults; nil for none.
func (p *planned) showsItself() *Cause {
	for i := range p.taken {
		t := &p.taken[i]
		top := t.last().top()
		if t.stale() || len(t.test.Covers) != 1 || !t.last().surely(top) || top == healthy(t.test) {
			continue
		}
		var own *Cause
		stating := 0
		for j := range p.Causes {
			if c := &p.Causes[j]; c.States(t.test.ID, top) {
				stating++
				own = c
			}
		}
		if stating != 1 || !p.mendable(own) {
			continue
		}
		if id, _ := own.Likeliest(t.test.ID); id != top {
			continue
		}
		for j := range p.taken {
			other := &p.taken[j]
			if want, known := expected(other.test, own); !other.stale() && abnormal(other) && known && want == healthy(other.test) && !own.States(other.test.ID, other.last().top()) {
				return own
			}
		}
	}
	return nil
}

// narrowed tells whether a reading on less than a test covers speaks for a fault.
func (b *bench) narrowed(c *Cause, wide *Test) bool {
	for _, took := range b.taken {
		if top := took.last().top(); !took.stale() && len(took.test.Covers) < len(wide.Covers) && top != healthy(took.test) && c.States(took.test.ID, top) {
			return true
		}
	}
	return false
}

// openedSince tells whether some mend that opened the device or fitted a part was
// done after a reading: a proof read before it says nothing of the wires as they
// lie now.
func (b *bench) openedSince(reading int) bool {
	for _, m := range b.mends() {
		c := b.Cause(m.Cause)
		if m.Before > reading && c != nil && len(c.Mend.Needs)+len(c.Mend.Parts) > 0 {
			return true
		}
	}
	return slices.ContainsFunc(b.ByHand, func(h ByHand) bool { return h.Before > reading })
}

// Forbid is a reading after which nothing is powered, and nothing mended but the
// faults that state it, until after the mend that test reads healthy.
type Forbid struct {
	Test    TestID    `json:"test"`
	Reading ReadingID `json:"reading"`
	Why     string    `json:"why"`
}

// forbidden lists the readings that forbid now, in the order of tests taken.
func (b *bench) forbidden() []Forbid {
	var list []Forbid
	for _, t := range b.taken {
		var now *Forbid
		at, sure := 0, false
		for _, r := range t.read {
			for _, f := range r.fits { // a reading that may be the forbidding one is taken for it
				if band := t.test.band(f.Reading); band != nil && band.Forbids != "" {
					now, at, sure = &Forbid{t.test.ID, band.ID, band.Forbids}, r.at, sure || len(r.fits) == 1
				}
			}
			// one that only might be is taken back by a better reading, any other by a mend
			if now != nil && r.surely(healthy(t.test)) && (!sure || b.mendedBetween(at, r.at)) {
				now, sure = nil, false
			}
		}
		if now != nil {
			list = append(list, *now)
		}
	}
	return list
}

// mendedBetween tells whether some mend was done after one reading and before
// another.
func (b *bench) mendedBetween(first, then int) bool {
	for _, m := range b.mends() {
		if !m.after(then) { // not yet, or nobody knows when
			continue
		}
		if m.Before > first {
			return true
		}
	}
	return slices.ContainsFunc(b.ByHand, func(h ByHand) bool { return h.after(then) && h.Before > first })
}

// statesForbidden tells whether a fault states one of the readings that forbid.
func (b *bench) statesForbidden(c *Cause) bool {
	for _, f := range b.forbids {
		if c.States(f.Test, f.Reading) {
			return true
		}
	}
	return false
}

// mendable tells whether a fault may be mended at once: its mend may be advised, stands
// behind no test and no bar, and may succeed.
func (p *planned) mendable(c *Cause) bool {
	return c.Mend.None == "" && p.mayMend(c) && p.measureFirst(c) == nil && p.barred(c).Stop == "" && success(c) > 0
}

// explains is a noted fault of a block to mend before the trace stops there for what no
// note describes, where a reading forbids the mends of all others: the likeliest that
// states this reading, if it is likelier than what no note describes; nil for none.
func (p *planned) explains(id BlockID) *Cause {
	var best *Cause
	most := p.chance.of(p.bench, id)
	for i := range p.Causes {
		c := &p.Causes[i]
		if q := p.chance[p.causeIndex(c.ID)]; q > most && c.Block == id && p.statesForbidden(c) && p.mendable(c) {
			best, most = c, q
		}
	}
	return best
}

// stating lists the faults that state a reading which forbids.
func (b *bench) stating(f Forbid) (ids []CauseID) {
	for i := range b.Causes {
		if b.Causes[i].States(f.Test, f.Reading) {
			ids = append(ids, b.Causes[i].ID)
		}
	}
	return ids
}

// pastMending tells whether no fault that states a reading which forbids can be
// mended, or none states it at all: then nobody is told to mend and to measure
// again.
func (b *bench) pastMending(f Forbid) bool {
	for _, id := range b.stating(f) {
		if b.Cause(id).Mend.None == "" {
			return false
		}
	}
	return true
}

// safe tests are offered in the order of minutes: unplugged, from a low-voltage
// source, or through a series lamp once the proofs have read good.
func safe(t *Test) bool {
	return t.Power == Off || t.Power == "" || t.Power == LowVoltage || t.Power == SeriesLamp
}

// powered tells whether a test powers the device, and onMains whether from the
// mains.
func powered(t *Test) bool { return t.Power != Off && t.Power != "" }
func onMains(t *Test) bool { return powered(t) && t.Power != LowVoltage }

// possible tells whether a test may be taken by the rules, now or once what must
// come before it is done. live tells whether tests on the mains or behind an
// isolating transformer count.
func (b *bench) possible(t *Test, live bool) bool {
	x := b.rules.test(t, live)
	if !x.thought {
		x.possible, x.thought = b.possibleNow(t, live), true
	}
	return x.possible
}

func (b *bench) possibleNow(t *Test, live bool) bool {
	if len(t.Reads) == 0 || b.shut(t.Needs) || !live && !safe(t) {
		return false
	}
	if _, skip := b.skipped[t.ID]; skip {
		return false
	}
	if powered(t) && len(b.forbids) > 0 {
		return false
	}
	if !safe(t) && !b.Shop.AllowMains {
		return false
	}
	if onMains(t) {
		for _, what := range b.Proofs() {
			if state, _ := b.proven(what); state != good && state != untested {
				return false
			}
		}
	}
	return true
}

// looksOver tells whether a test is a glance from outside that may forbid power, and
// that comes before another test which puts power on: on the mains every such glance,
// at plug, cord and whatever else, from a battery those at the battery. An inspection
// by eye comes before any power (common practice, no source).
func (b *bench) looksOver(x, before *Test) bool {
	if !x.ByEye || powered(x) || len(x.Needs) > 0 || !powered(before) || !slices.ContainsFunc(x.Reads, func(r Band) bool { return r.Forbids != "" }) {
		return false
	}
	return onMains(before) || slices.ContainsFunc(x.Covers, func(id BlockID) bool { c := b.Block(id); return c != nil && c.Source == "battery" })
}

// mayLookOver tells whether every glance that must come before a test was taken or may
// be.
func (b *bench) mayLookOver(t *Test) bool {
	for i := range b.Tests {
		if x := &b.Tests[i]; b.looksOver(x, t) && b.takenAtAll(x.ID) == nil && !b.possible(x, false) {
			return false
		}
	}
	return true
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

// before lists the tests that must have read good before another and have not
// been taken yet, or not since the device was opened and mended; ok is false where one of them read otherwise or cannot be
// taken.
func (b *bench) before(t *Test, live bool) (list []*Test, ok bool) {
	if !powered(t) && len(t.After) == 0 {
		return nil, true
	}
	x := b.rules.test(t, live)
	if !x.asked {
		x.before, x.may = b.beforeBut(t, live, map[TestID]bool{t.ID: true})
		x.asked = true
	}
	return x.before, x.may
}

func (b *bench) beforeBut(t *Test, live bool, seen map[TestID]bool) (list []*Test, ok bool) {
	add := func(x *Test) bool {
		if took := b.takenAtAll(x.ID); took != nil {
			if good := took.last().surely(healthy(x)); !good || x.Proves == "" || !b.openedSince(took.last().at) {
				return good
			}
		}
		if seen[x.ID] {
			return true
		}
		seen[x.ID] = true
		more, ok := b.beforeBut(x, live, seen)
		if !ok || !b.possible(x, live) {
			return false
		}
		list = append(append(list, more...), x)
		return true
	}
	for i := range b.Tests { // whatever it read: what forbids, forbids
		if x := &b.Tests[i]; b.looksOver(x, t) && b.takenAtAll(x.ID) == nil && !add(x) {
			return nil, false
		}
	}
	if onMains(t) {
		for _, what := range b.Proofs() {
			for i := range b.Tests {
				if x := &b.Tests[i]; x.Proves == string(what) && x.ID != t.ID && !add(x) {
					return nil, false
				}
			}
		}
	}
	for _, id := range t.After {
		if x := b.Test(id); x != nil && x.ID != t.ID && !add(x) {
			return nil, false
		}
	}
	return list, true
}

// measured is how far a mend is from being allowed by the rule that nothing is
// replaced before it was measured.
type measured int

const (
	free    measured = iota // nothing to measure, or it was
	first                   // a test has to come first
	against                 // it was measured, and read well
)

// measure applies the rule to a fault: a part is fitted only after a reading on
// it, or on as little as the notes allow, was abnormal, if there is a test for
// that which may be taken and costs less than the mend. A fault that shows only
// moved, warm or now and then needs the test taken in that state. A mend that
// fits no part needs none. The test is the one to come first.
func (b *bench) measure(c *Cause, live bool) (measured, *Test) {
	x := b.rules.cause(c, live)
	if !x.measured {
		x.state, x.test = b.measureNow(c, live)
		x.measured = true
	}
	return x.state, x.test
}

func (b *bench) measureNow(c *Cause, live bool) (measured, *Test) {
	if b.light(c) {
		return free, nil
	}
	atTimes := c.Shown.Word != "" && c.Shown.Word != "always"
	var best *Test
	done, anyway := (*takenOn)(nil), b.opensFor[c.at-1]
	narrow := func(t *Test) int {
		n := len(t.Covers)
		if atTimes && b.fact(t, c).shows < 1 && c.Shown.Word != "now-and-then" {
			n += 1000 // not taken in the state that it shows in
		}
		return n
	}
	for _, t := range b.measures[c.at-1] {
		took := b.on(t.ID)
		if took == nil {
			if _, ok := b.before(t, live); !ok || !b.possible(t, live) || b.costOf(t, anyway) >= b.mendCost(c) {
				continue
			}
		}
		better := best == nil || narrow(t) < narrow(best)
		if !better && narrow(t) == narrow(best) {
			// what was taken counts before what would have to be, then the cheaper
			better = took != nil && done == nil || (took != nil) == (done != nil) && b.costOf(t, anyway) < b.costOf(best, anyway)
		}
		if better {
			best, done = t, took
		}
	}
	if best == nil {
		return free, nil
	}
	for i := range b.taken { // any abnormal reading on as little will do
		if t := &b.taken[i]; !t.stale() && t.test.covers(c.Block) && len(t.test.Covers) <= len(best.Covers) && abnormal(t) {
			return free, nil
		}
	}
	switch {
	case done == nil:
		return first, best
	case atTimes:
		return free, nil
	}
	return against, best
}

// abnormal tells whether the last reading that counts is not the healthy one.
func abnormal(t *takenOn) bool { return t.last().top() != healthy(t.test) }

// statesAbnormal tells whether a test measures a fault: its note names, as the
// likeliest reading there, one that a healthy device does not give. A good reading
// is nothing against a fault that mostly reads so.
func (b *bench) statesAbnormal(c *Cause, t *Test) bool {
	f := b.fact(t, c)
	return f.stated && !f.well
}

// costOf is what a test costs in minutes besides what is opened for a mend
// anyway.
func (b *bench) costOf(t *Test, anyway []*Access) float64 {
	sum := b.tests[t.at-1].counted
	for _, a := range b.opens(t) {
		if !slices.Contains(anyway, a) && !b.opened(a.ID) {
			sum += a.Minutes + a.Undo
		}
	}
	if powered(t) && !b.poweredBefore(t.Power) {
		sum += b.Shop.PowerMinutes[t.Power]
	}
	return sum
}

// counted is what a test itself counts in minutes.
func (d *Device) counted(t *Test) float64 {
	return math.Max(0, t.Minutes) + d.Shop.waits(t.Waits) + harm(d, t)
}

// mendCost is what a mend costs in minutes, parts included at the shop's rate.
func (d *Device) mendCost(c *Cause) float64 {
	return c.Mend.Minutes + d.Shop.inMinutes(c.Mend.price())
}

// harm is the expected damage of a test in minutes of the shop's rate.
func harm(d *Device, t *Test) float64 {
	if t.Harms.Chance <= 0 || t.Harms.Cost <= 0 || d.Shop.Rate <= 0 {
		return 0
	}
	return t.Harms.Chance * t.Harms.Cost / d.Shop.Rate * 60
}

// poweredBefore tells whether a power state was set up before.
func (b *bench) poweredBefore(s Power) bool {
	for _, t := range b.taken {
		if t.test.Power == s {
			return true
		}
	}
	return false
}

// opened tells whether an access was opened by what was done.
func (b *bench) opened(id AccessID) bool {
	if !b.rules.openKnown {
		b.rules.openKnown = true
		for i := range b.taken {
			b.rules.open = append(b.rules.open, b.opens(b.taken[i].test)...)
		}
		for _, m := range b.mends() {
			b.rules.open = append(b.rules.open, b.opensFor[b.causeIndex(m.Cause)]...)
		}
		for _, block := range b.Looked {
			b.rules.open = append(b.rules.open, b.reached[b.unknownOf(block)]...)
		}
		for _, h := range b.ByHand {
			b.rules.open = append(b.rules.open, b.reached[b.unknownOf(h.Block)]...)
		}
	}
	return slices.ContainsFunc(b.rules.open, func(a *Access) bool { return a.ID == id })
}

// inVain tells whether a mend was done and did not cure, and no reading taken
// since speaks for its fault. The same work for another fault counts as the mend.
func (b *bench) inVain(c *Cause) bool {
	tried := false
	for _, m := range b.Tried {
		if sameMend(b.Cause(m.Cause), c) {
			tried = !b.speaksFor(c, m) // the last time counts
		}
	}
	return tried
}

// speaksFor tells whether a reading taken after a mend is one that the fault
// states and a healthy device does not give.
func (b *bench) speaksFor(c *Cause, m Mended) bool {
	for _, t := range b.taken {
		for _, r := range t.read {
			if m.after(r.at) && r.top() != healthy(t.test) && c.States(t.test.ID, r.top()) {
				return true
			}
		}
	}
	return false
}

// barred says why a mend cannot be done here; "" if it can.
func (b *bench) barred(c *Cause) Barred {
	if c.Mend.Forbidden != "" {
		return Barred{Stop: StopForbidden, Text: c.Mend.Forbidden}
	}
	for _, a := range b.opensFor[c.at-1] {
		if a.Forbidden != "" {
			return Barred{Stop: StopForbidden, Text: a.Forbidden}
		}
	}
	for _, id := range b.NoPart {
		if id == c.ID {
			return Barred{Stop: StopNoPart}
		}
	}
	for _, p := range c.Mend.Parts {
		if p.Gone {
			return Barred{Stop: StopNoPart, Text: p.Part}
		}
	}
	return Barred{}
}

// Barred is why a mend cannot be done here.
type Barred struct {
	Stop StopFor
	Text string // in the note's words; of a part its name
}

// ruled is what the rules said of tests and causes with what is known, so that
// nothing is thought out twice. Of each there are two, the second for where live
// tests count.
type ruled struct {
	tests     []ruledTest
	causes    []ruledCause
	open      []*Access // by what was done
	openKnown bool
}

type ruledTest struct {
	before                        []*Test
	may, asked, possible, thought bool
}

type ruledCause struct {
	test, beside     *Test
	state            measured
	measured, looked bool
}

// test and cause find what was said; of a test or cause from elsewhere nothing is
// kept.
func (r *ruled) test(t *Test, live bool) *ruledTest {
	if t.at == 0 || len(r.tests) == 0 {
		return &ruledTest{}
	}
	return &r.tests[second(t.at-1, len(r.tests)/2, live)]
}

func (r *ruled) cause(c *Cause, live bool) *ruledCause {
	if c.at == 0 || len(r.causes) == 0 {
		return &ruledCause{}
	}
	return &r.causes[second(c.at-1, len(r.causes)/2, live)]
}

func second(at, n int, live bool) int {
	if live {
		return at + n
	}
	return at
}
