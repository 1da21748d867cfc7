package trace

import (
	"math"
	"strings"
)

// Faults that no note describes. Most faults that come in are in no note, so
// each block of the chain has one more suspect: a fault of it that nobody wrote
// down. One further sits outside the chain, in a stand, a lid or a belt, where no
// test of the notes reaches. They are weighed, tested for and planned for like
// the others; to mend one is to look there by hand.

// How much weight they have. The shares come from repair records: of 278 with a
// stated cause (Open Repair Data, Open Repair Alliance), 19 % had no note and sat
// in a block, 12 % had none and sat outside the chain.
const (
	unknownCases = 4.  // of
	ownCases     = 20. // cases that a new shop begins with; the own sheets of the device join both
	outsideShare = .12 // of all cases
)

// What they show and read. Chosen on half of the starter's devices (see
// internal/openworld); the pages say that they are our choice.
const (
	unknownSymptom = .35 // a symptom, whatever it is, but for
	asItsBlock     = .40 // of it, which goes by what the noted faults of the block show
	outsideSymptom = .05 // a symptom of the chain, under a fault outside it
	unknownHealthy = .40 // the healthy reading of a test that covers the block, where no noted fault of it says more
	likeNoted      = 2.  // noted faults of the block that count as much as knowing nothing
	likeliestWell  = .33 // of what is left to one, at most, for a healthy reading, however well the noted ones read
	newReading     = .45 // a reading that no noted fault gives, where a test has such
	unknownProof   = .90 // the same of a proof, which sees a way to metal or a lost earth and nothing else
	lookMinutes    = 8.  // to look into a block by hand, once it can be reached
)

// suspect is something that may be wrong: a fault that a note describes, or one
// that none does, of a block or outside the chain.
type suspect struct {
	cause *Cause // nil for a fault that no note describes, which is then
	block BlockID
	share float64 // of the cases without a note that sit in a block; outside the chain 0
	at    int     // its number among the suspects, from 0
}

// suspectsOf lists what may be wrong with a device: the causes in the notes'
// order, then one unknown fault of each block, then the one outside.
func (d *Device) suspectsOf() []suspect {
	var list []suspect
	for i := range d.Causes {
		list = append(list, suspect{cause: &d.Causes[i], block: d.Causes[i].Block})
	}
	chain, total := d.Chain(), 0.0
	share := func(b Block) float64 {
		if b.Share > 0 && b.Share < 1e6 {
			return b.Share
		}
		return 1
	}
	for _, b := range chain {
		total += share(b)
	}
	for _, b := range chain {
		list = append(list, suspect{block: b.ID, share: share(b) / total})
	}
	return append(list, suspect{})
}

// outside tells whether a suspect is the fault outside the chain.
func (s *suspect) outside() bool { return s.cause == nil && s.block == "" }

// unknownOf is the place among the suspects of the unknown fault of a block, or
// of the one outside the chain for "", -1 for none.
func (g *Ground) unknownOf(id BlockID) int {
	for i := range g.suspects {
		if s := &g.suspects[i]; s.cause == nil && s.block == id {
			return i
		}
	}
	return -1
}

// symptom is the chance of a symptom under a suspect.
func (b *bench) symptom(s *suspect, id SymptomID) float64 {
	switch {
	case s.cause != nil:
		return s.cause.Symptoms[id].chance()
	case s.outside():
		return outsideSymptom
	}
	sum, weight := 0.0, 0.0
	for i := range b.Causes {
		if c := &b.Causes[i]; c.Block == s.block {
			sum += float64(c.weight() * c.Symptoms[id].chance())
			weight += c.weight()
		}
	}
	if weight == 0 {
		return unknownSymptom
	}
	return float64((1-asItsBlock)*unknownSymptom) + float64(asItsBlock*sum/weight)
}

// unknownShares are the shares of all cases that no note describes: in a block,
// and outside the chain.
func (s *Shop) unknownShares() (inside, outside float64) {
	own, unknown := cases(s.OwnSheets), math.Min(cases(s.UnknownSheets), cases(s.OwnSheets))
	inside = (unknownCases + unknown) / (ownCases + own)
	// sheets do not say whether an unknown cause sat in a block; the one share
	// moves with the other
	return inside, outsideShare * inside / (unknownCases / ownCases)
}

// reads is the chance that a fault which no note describes gives a reading, ""
// for one that fits no band.
func (b *bench) reads(s *suspect, t *Test, id ReadingID) float64 {
	spread := b.unnoted(s, t).spread
	for i := range t.Reads {
		if t.Reads[i].ID == id {
			return spread[i]
		}
	}
	return spread[len(t.Reads)]
}

// unnoted is what a fault that no note describes reads on a test: a chance for each
// band, and one for none of them. On a test that does not cover its block it is as
// any other fault's. Else it reads partly like the noted faults of its block that
// show what this one shows (two cracks in one joint look alike to a meter at the
// pins), and partly as no noted one does.
func (b *bench) unnoted(s *suspect, t *Test) *unnoted {
	kept := &b.unread[(t.at-1)*(len(b.suspects)-len(b.Causes))+s.at-len(b.Causes)]
	if *kept != nil {
		return *kept
	}
	out := make([]float64, len(t.Reads)+1)
	u := &unnoted{spread: out}
	*kept = u
	h := b.healthy(t)
	if h == "" {
		for i := range out {
			out[i] = 1 / float64(len(out))
		}
		return u
	}
	covered := !s.outside() && t.covers(s.block)
	well := t.trust()
	if covered {
		well = unknownHealthy
		if t.Proves != "" {
			well = unknownProof
		}
	}
	for i := range out {
		out[i] = (1 - well) / float64(len(t.Reads)) // every other band, and none, as likely as the next
		if i < len(t.Reads) && t.Reads[i].ID == h {
			out[i] = well
		}
	}
	if !covered {
		u.well = well
		return u
	}
	// the noted faults of the block, weighed by how well they fit the complaint
	noted, weight, count := make([]float64, len(out)), 0.0, 0.0
	for i := range b.Causes {
		c := &b.Causes[i]
		if c.Block != s.block {
			continue
		}
		if !b.fact(t, c).known {
			continue
		}
		w := c.weight() * b.fits(c)
		weight += w
		count++
		for j := range t.Reads {
			p, _ := b.once(t, c, t.Reads[j].ID)
			noted[j] += float64(w * p)
		}
	}
	if weight > 0 {
		share := count / (count + likeNoted)
		for i := range out {
			out[i] = float64((1-share)*out[i]) + float64(share*noted[i]/weight)
		}
	}
	// readings that no noted fault gives are kept for those that nobody wrote, and a
	// figure that fits no band is one of them
	var unclaimed []int
	if t.Kind != "" {
		unclaimed = append(unclaimed, len(t.Reads))
	}
	for i, band := range t.Reads {
		if !band.Healthy && !b.tests[t.at-1].claimed[i] {
			unclaimed = append(unclaimed, i)
		}
	}
	if len(unclaimed) > 0 && t.Proves == "" {
		kept := newReading * 2 / float64(1+len(t.Covers)) // a wide test has them of many blocks
		for i := range out {
			out[i] *= 1 - kept
		}
		for _, i := range unclaimed {
			out[i] += kept / float64(len(unclaimed))
		}
	}
	total := 0.0
	for _, x := range out {
		total += x
	}
	for i := range out {
		out[i] /= total
	}
	for i := range t.Reads {
		if t.Reads[i].ID != h {
			continue
		}
		// that the noted faults of the block read well is no reason that one which
		// nobody wrote does
		u.well = out[i]
		if most := well + float64((1-well)*likeliestWell); u.well > most {
			for j := range out {
				out[j] *= (1 - most) / (1 - u.well)
			}
			out[i] = most
		}
	}
	return u
}

// unnoted is what a fault that no note describes reads on a test: the chances of the
// bands and of none; and how often it would read well, by the noted faults of its
// block.
type unnoted struct {
	spread []float64
	well   float64
}

// unnotedReads are those of the faults that no note describes on each test, as they
// were asked for. They rest on the device and on what it shows.
type unnotedReads []*unnoted

func (g *Ground) unnotedOf(symptoms []SymptomID) unnotedReads {
	var key strings.Builder
	for _, id := range symptoms {
		key.WriteString(string(id) + "\n")
	}
	kept, ok := g.unread[key.String()]
	if !ok {
		kept = make(unnotedReads, len(g.Tests)*(len(g.suspects)-len(g.Causes)))
		g.unread[key.String()] = kept
	}
	return kept
}

// fits is the chance of what the device shows under a noted fault.
func (b *bench) fits(c *Cause) float64 {
	p := 1.0
	for _, id := range b.Evidence.Symptoms {
		p *= c.Symptoms[id].chance()
	}
	return p
}

// claimed tells whether some noted fault gives a reading.
func (d *Device) claimed(t *Test, id ReadingID) bool {
	for i := range d.Causes {
		if d.Causes[i].States(t.ID, id) {
			return true
		}
	}
	return false
}

// reach is the access that looking into a block by hand needs: the cheapest that
// one of its mends needs, else that one of the tests on it alone does.
func (d *Device) reach(id BlockID) []AccessID {
	if id == "" {
		return nil
	}
	best, least := []AccessID(nil), math.Inf(1)
	consider := func(needs []AccessID) {
		sum := 0.0
		for _, a := range d.Opening(needs) {
			sum += a.Minutes + a.Undo
		}
		if sum < least {
			best, least = needs, sum
		}
	}
	for i := range d.Causes {
		if c := &d.Causes[i]; c.Block == id {
			consider(c.Mend.Needs)
		}
	}
	if best == nil && math.IsInf(least, 1) {
		for i := range d.Tests {
			if t := &d.Tests[i]; len(t.Covers) == 1 && t.Covers[0] == id {
				consider(t.Needs)
			}
		}
	}
	return best
}
