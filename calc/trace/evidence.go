package trace

import (
	"encoding/json"
	"strings"
)

// Evidence is what is known so far about the device on the bench.
type Evidence struct {
	Symptoms []SymptomID `json:"symptoms"`
	Absent   []SymptomID `json:"absent"`
	Readings []Reading   `json:"readings"`
	Tried    []Mended    `json:"tried"` // mends that did not cure
	// Mended are faults that were there and are put right, while something is
	// wrong still: there were two.
	Mended []Mended  `json:"mended,omitempty"`
	Looked []BlockID `json:"looked,omitempty"` // looked into by hand in vain; "" is outside the chain
	// ByHand is what no note describes, found by hand and put right, while something
	// is wrong still.
	ByHand []ByHand  `json:"byHand,omitempty"`
	NoPart []CauseID `json:"noPart,omitempty"` // mends whose part is not to be had
	// Skipped are the tests that cannot be taken here: they are no reading, they
	// only leave the plan.
	Skipped []Skip `json:"skipped,omitempty"`
	// Suspect is the fault that somebody asks about, "" for none. It is no
	// evidence: it only turns the question.
	Suspect CauseID `json:"suspect,omitempty"`
	Terms   Terms   `json:"terms,omitzero"`
}

// Mended is a mend that was done on the way. Read from a bare string it is the
// cause, done after every reading.
type Mended struct {
	Cause  CauseID `json:"cause"`
	Before int     `json:"before"` // as many readings had been taken then; below 0 for all
}

// UnmarshalJSON reads the object, or the cause alone.
func (m *Mended) UnmarshalJSON(b []byte) error {
	m.Before = -1
	if json.Unmarshal(b, &m.Cause) == nil {
		return nil
	}
	type plain Mended
	return json.Unmarshal(b, (*plain)(m))
}

// ByHand is something put right in a block that no note describes.
type ByHand struct {
	Block  BlockID `json:"block"`  // "" is outside the chain
	Before int     `json:"before"` // as many readings had been taken then; below 0 for all
}

// after tells whether a reading was taken after the work.
func (h ByHand) after(reading int) bool { return h.Before >= 0 && reading >= h.Before }

// after tells whether a reading was taken after the mend.
func (m Mended) after(reading int) bool { return m.Before >= 0 && reading >= m.Before }

// Reading is one outcome as typed: a reading's word or a measured value.
type Reading struct {
	Test    TestID  `json:"test"`
	Value   string  `json:"value"`
	Minutes float64 `json:"minutes,omitempty"`
}

// Skip is a test that cannot be taken, and why.
type Skip struct {
	Test TestID `json:"test"`
	Why  WhyNot `json:"why,omitempty"`
}

// WhyNot is why a test cannot be taken.
type WhyNot string

// The reasons; "" where nobody says.
const (
	NoInstrument WhyNot = "no-instrument"
	NotAllowed   WhyNot = "not-allowed"
	WouldHarm    WhyNot = "would-harm"
)

// WhyNots lists the reasons.
func WhyNots() []WhyNot { return []WhyNot{NoInstrument, NotAllowed, WouldHarm} }

// none tells whether nothing is known.
func (e Evidence) none() bool {
	return len(e.Symptoms)+len(e.Absent)+len(e.Readings)+len(e.Tried)+len(e.Mended)+len(e.Looked)+len(e.ByHand)+len(e.NoPart)+len(e.Skipped) == 0 && e.Suspect == "" && !e.Terms.known()
}

// mends lists those done so far: in vain first, then those that put something
// right.
func (e Evidence) mends() []Mended {
	return append(append([]Mended(nil), e.Tried...), e.Mended...)
}

// bench is a device with the evidence about it, every word of it read once. What
// cannot be used is left out and remarked on.
type bench struct {
	*Ground // its suspects are what may be wrong, in the order of beliefs
	Evidence
	taken   []takenOn // by test, in the order of its first reading
	effort  effort
	skipped map[TestID]WhyNot
	forbids []Forbid
	remarks []Remark
	unread  unnotedReads // what faults that no note describes read
	rules   ruled        // what the rules say, as it was asked for
}

// takenOn is all that was read on one test, in order.
type takenOn struct {
	test *Test
	read []readOnce
	// counts is the first of them that still says something of what is wrong
	// now: what a fault put right since had made of the test does not.
	counts int
}

type readOnce struct {
	at    int    // among the evidence's readings
	typed string // clipped
	fits  []Fit  // an empty list fits no band
}

// top is the likeliest band of a reading, "" for none.
func (r readOnce) top() ReadingID {
	if len(r.fits) == 0 {
		return ""
	}
	return r.fits[0].Reading
}

// surely tells whether a reading is the band and no other.
func (r readOnce) surely(id ReadingID) bool { return len(r.fits) == 1 && r.fits[0].Reading == id }

func (t *takenOn) last() readOnce { return t.read[len(t.read)-1] }

// stale tells whether nothing read on the test counts any more.
func (t *takenOn) stale() bool { return t.counts >= len(t.read) }

// lay puts a device on the bench with what is known of it.
func lay(d *Device, e Evidence) *bench { return Prepare(d).lay(e) }

func (g *Ground) lay(e Evidence) *bench {
	b := &bench{Ground: g, Evidence: e, skipped: map[TestID]WhyNot{}}
	b.readSymptoms()
	b.readMends()
	b.readSkips()
	b.readReadings()
	b.settle()
	b.forbids = b.forbidden()
	b.unread = g.unnotedOf(b.Evidence.Symptoms)
	b.rules = ruled{tests: make([]ruledTest, 2*len(b.Tests)), causes: make([]ruledCause, 2*len(b.Causes))}
	return b
}

func (b *bench) remark(r Remark) { b.remarks = append(b.remarks, r) }

func (b *bench) readSymptoms() {
	seen := map[SymptomID]bool{}
	keep := func(ids []SymptomID) (out []SymptomID) {
		for _, id := range ids {
			switch {
			case b.Symptom(id) == nil:
				b.remark(Remark{About: NoSuchSymptom, Symptom: SymptomID(clip(string(id)))})
			case !seen[id]:
				seen[id] = true
				out = append(out, id)
			}
		}
		return out
	}
	b.Evidence.Symptoms = keep(b.Evidence.Symptoms)
	for _, id := range b.Absent {
		for _, s := range b.Evidence.Symptoms {
			if s == id {
				b.remark(Remark{About: ThereAndNot, Symptom: id})
			}
		}
	}
	b.Absent = keep(b.Absent)
}

// readMends drops mends of faults that no note describes, and blocks that are
// not there.
func (b *bench) readMends() {
	keep := func(list []Mended) (out []Mended) {
		for _, m := range list {
			if b.Cause(m.Cause) == nil {
				b.remark(Remark{About: NoSuchFault, Cause: CauseID(clip(string(m.Cause)))})
				continue
			}
			out = append(out, m)
		}
		return out
	}
	b.Tried, b.Mended = keep(b.Tried), keep(b.Mended)
	if b.Suspect != "" && b.Cause(b.Suspect) == nil {
		b.remark(Remark{About: NoSuchFault, Cause: CauseID(clip(string(b.Suspect)))})
		b.Suspect = ""
	}
	var looked []BlockID
	for _, id := range b.Looked {
		if b.unknownOf(id) < 0 {
			b.remark(Remark{About: NoSuchBlock, Block: BlockID(clip(string(id)))})
			continue
		}
		looked = append(looked, id)
	}
	b.Looked = looked
	var byHand []ByHand
	for _, h := range b.ByHand {
		if b.unknownOf(h.Block) < 0 {
			b.remark(Remark{About: NoSuchBlock, Block: BlockID(clip(string(h.Block)))})
			continue
		}
		byHand = append(byHand, h)
	}
	b.ByHand = byHand
}

// readSkips takes out what cannot be tested here: what was said so, and what the
// bench has no instrument for.
func (b *bench) readSkips() {
	for _, s := range b.Skipped {
		if b.Test(s.Test) == nil {
			b.remark(Remark{About: NoSuchTest, Test: TestID(clip(string(s.Test)))})
			continue
		}
		b.skipped[s.Test] = s.Why
	}
	for i := range b.Tests {
		if t := &b.Tests[i]; !b.Shop.has(t.With) {
			if _, said := b.skipped[t.ID]; !said {
				b.skipped[t.ID] = NoInstrument
			}
		}
	}
}

// has tells whether the bench has all instruments; a shop that lists none has
// everything.
func (s *Shop) has(with []string) bool {
	if len(s.Instruments) == 0 {
		return true
	}
	for _, id := range with {
		there := false
		for _, i := range s.Instruments {
			there = there || i.ID == id
		}
		if !there {
			return false
		}
	}
	return true
}

func (b *bench) readReadings() {
	at := map[TestID]int{}
	for n, r := range b.Readings {
		t := b.Test(r.Test)
		if t == nil {
			b.remark(Remark{About: NoSuchTest, Test: TestID(clip(string(r.Test))), Typed: clip(r.Value)})
			continue
		}
		fits, err := ParseReading(t, r.Value)
		if err != nil {
			b.remark(Remark{About: Unreadable, Test: t.ID, Typed: clip(r.Value), Text: err.Error()})
			continue
		}
		i, ok := at[t.ID]
		if !ok {
			i = len(b.taken)
			at[t.ID] = i
			b.taken = append(b.taken, takenOn{test: t})
		}
		b.taken[i].read = append(b.taken[i].read, readOnce{n, clip(strings.TrimSpace(r.Value)), fits})
	}
	for i := range b.taken {
		b.oddities(&b.taken[i])
	}
}

// oddities remarks on readings that differ, fit no band, or lie on an edge.
func (b *bench) oddities(t *takenOn) {
	last := t.last()
	for _, r := range t.read[:len(t.read)-1] {
		if r.top() != last.top() {
			b.remark(Remark{About: ReadDifferently, Test: t.test.ID})
			return
		}
	}
	switch {
	case len(last.fits) == 0 || last.top() == "":
		b.remark(Remark{About: FitsNone, Test: t.test.ID, Typed: last.typed})
	case len(last.fits) > 1 && limitOnly(t.test, last.typed) != "":
		b.remark(Remark{About: OnlyALimit, Test: t.test.ID, Typed: last.typed, Text: limitOnly(t.test, last.typed)})
	case len(last.fits) > 1:
		r := Remark{About: OnEdge, Test: t.test.ID, Typed: last.typed, Reading: last.fits[0].Reading, Other: last.fits[1].Reading}
		r.Edge, r.Needs = t.test.edge(last)
		b.remark(r)
	}
}

// settle finds the readings that no longer count: what a fault put right since
// had made of a test says nothing about what is wrong now. What was put right by hand
// no note describes, so that every odd reading over its block may have been its own.
func (b *bench) settle() {
	for i := range b.taken {
		t := &b.taken[i]
		for n, r := range t.read {
			for _, m := range b.Mended {
				want, known := expected(t.test, b.Cause(m.Cause))
				if !m.after(r.at) && known && want != healthy(t.test) && r.top() == want {
					t.counts = n + 1
				}
			}
			for _, h := range b.ByHand {
				if !h.after(r.at) && r.top() != healthy(t.test) && (h.Block == "" || t.test.covers(h.Block)) {
					t.counts = n + 1
				}
			}
		}
	}
}

// on is what was read on a test, nil if nothing that counts.
func (b *bench) on(id TestID) *takenOn {
	for i := range b.taken {
		if t := &b.taken[i]; t.test.ID == id && !t.stale() {
			return t
		}
	}
	return nil
}
