package trace

import "math"

// The chances that words stand for. They are this project's choice, from no
// source; the pages say so.
const (
	unmentioned  = .05 // a symptom that the note does not name
	defaultTrust = .95 // a reading is what the part gives
	coldShown    = .30 // a fault shown warm, moved or loaded, met by a test that is none of these
	priorCases   = .5  // every note counts as half a case, seen or not
	lookedMissed = .20 // a fault is missed though its block was looked into by hand
)

// Chance of a symptom for each word.
func (o Often) chance() float64 {
	switch o {
	case "always":
		return .95
	case "often":
		return .7
	case "sometimes":
		return .3
	case "rarely":
		return .08
	case "never":
		return .01
	}
	return unmentioned
}

// Oftens lists the words for how often a fault shows a symptom.
func Oftens() []Often { return []Often{"always", "often", "sometimes", "rarely", "never"} }

// shares are the readings of a fault with chances that sum to one.
func shares(reads []Read) []Read {
	total := 0.0
	for _, r := range reads {
		total += math.Max(r.Chance, 0)
	}
	out := make([]Read, len(reads))
	for i, r := range reads {
		out[i] = Read{r.Reading, 1 / float64(len(reads))}
		if total > 0 {
			out[i].Chance = math.Max(r.Chance, 0) / total
		}
	}
	return out
}

func (t *Test) trust() float64 {
	if t.Trust <= 0 || t.Trust > 1 {
		return defaultTrust
	}
	return t.Trust
}

// shows is the chance that a test, done so many times, meets a fault which
// shows only at times.
func shows(t *Test, c *Cause, times int) float64 {
	once := coldShown
	if c.Shown.Chance > 0 && c.Shown.Chance <= 1 {
		once = c.Shown.Chance
	}
	switch c.Shown.Word {
	case "", "always":
		return 1
	case "now-and-then":
	default:
		for _, w := range t.While {
			if w == c.Shown.Word {
				return 1
			}
		}
	}
	hidden := 1.0
	for range times {
		hidden *= 1 - once
	}
	return 1 - hidden
}

// chanceOf is the chance that a test gives a reading under a cause. known is
// false where nothing is known of it. A reading that fits no band is asked for
// with id "".
func chanceOf(t *Test, c *Cause, id ReadingID, times int) (p float64, known bool) {
	want, ok := expected(t, c)
	if !ok || len(t.Reads) == 0 {
		return 0, false
	}
	trust := t.trust()
	// what is not as expected may be any other band, or none
	slip := (1 - trust) / float64(len(t.Reads))
	one := func(from ReadingID) float64 {
		if id == from {
			return trust
		}
		return slip
	}
	p = one(want)
	if stated := c.Reads[t.ID]; len(stated) > 1 {
		p = 0
		for _, r := range shares(stated) {
			p += float64(r.Chance * one(r.Reading))
		}
	}
	if h := healthy(t); want != h {
		s := shows(t, c, times)
		p = float64(s*p) + float64((1-s)*one(h))
	}
	return p, true
}

// beliefs holds the chance of each suspect; they sum to one.
type beliefs []float64

// believe works the chances out from symptoms, readings, and mends and looks that
// did not cure.
func (b *bench) believe() beliefs {
	p := b.prior()
	for _, id := range b.Evidence.Symptoms {
		p.symptom(b, id, true)
	}
	for _, id := range b.Absent {
		p.symptom(b, id, false)
	}
	for _, m := range b.Mended {
		for i := range b.Causes { // put right, and the part known good
			if sameMend(b.Cause(m.Cause), &b.Causes[i]) {
				p[i] = 0
			}
		}
	}
	for _, h := range b.ByHand {
		if i := b.unknownOf(h.Block); i >= 0 {
			p[i] *= lookedMissed
		}
	}
	for i := range b.taken {
		p.reading(b, &b.taken[i])
	}
	for _, m := range b.Tried {
		for i := range b.Causes { // the same work would have cured these, too
			if c := &b.Causes[i]; sameMend(b.Cause(m.Cause), c) {
				p[i] *= 1 - success(c)
			}
		}
	}
	for _, id := range b.Looked {
		for i := range b.suspects {
			if s := &b.suspects[i]; s.block == id {
				p[i] *= lookedMissed
			}
		}
	}
	p.scale()
	return p
}

// prior are the chances before anything is known, by cases seen.
func (b *bench) prior() beliefs {
	p := make(beliefs, len(b.suspects))
	inside, outside := b.Shop.unknownShares()
	noted := 0.0
	for i := range b.Causes {
		p[i] = b.Causes[i].weight()
		noted += p[i]
	}
	all := noted / (1 - inside - outside)
	if noted == 0 {
		all = 1 // no note yet
	}
	for i := len(b.Causes); i < len(p); i++ {
		if s := &b.suspects[i]; s.outside() {
			p[i] = all * outside
		} else {
			p[i] = all * inside * s.share
		}
	}
	p.scale()
	return p
}

// Chances gives the chance of each suspect, without planning: of the causes in
// the notes' order, and of the faults that no note describes.
func Chances(d *Device, e Evidence) ([]Chance, []Unknown) { return Prepare(d).Chances(e) }

// Chances is Chances on a device made ready.
func (g *Ground) Chances(e Evidence) ([]Chance, []Unknown) {
	b := g.lay(e)
	return b.chances(b.believe())
}

func (b *bench) chances(p beliefs) (causes []Chance, unknown []Unknown) {
	for i, s := range b.suspects {
		if s.cause != nil {
			causes = append(causes, Chance{s.cause.ID, p[i]})
		} else {
			unknown = append(unknown, Unknown{s.block, p[i]})
		}
	}
	return causes, unknown
}

// PublishedCases is what all the published shares of a device's faults weigh
// together, so that the shop's own sheets soon count for more. Our choice.
const PublishedCases = 20

// Publish turns the shares of the causes of a device, each 0 to 1 of its published
// cases, into Seen: as cases of PublishedCases. Shares that together exceed 1, as
// where a record names several parts, are taken in proportion.
func Publish(causes []Cause) {
	total := 0.0
	for i := range causes {
		total += causes[i].Share
	}
	for i := range causes {
		if c := &causes[i]; c.Share > 0 {
			c.Seen = float64(PublishedCases*c.Share) / max(1, total)
		}
	}
}

// weight is the number of cases that a cause counts for.
func (c *Cause) weight() float64 { return priorCases + cases(c.Seen) + cases(c.Jobs) }

// cases is a number of cases as a weight; nonsense is none.
func cases(x float64) float64 {
	if !(x > 0) {
		return 0
	}
	return math.Min(x, 1e6)
}

func success(c *Cause) float64 {
	if c.Mend.Succeeds <= 0 || c.Mend.Succeeds > 1 {
		return .9 // where a note does not say; our choice
	}
	return c.Mend.Succeeds
}

func (p beliefs) scale() {
	total := 0.0
	for _, x := range p {
		total += x
	}
	if !(total > 1e-300) {
		clear(p)
		p[len(p)-1], total = 1, 1 // nothing that is known is left
	}
	for i := range p {
		p[i] /= total
	}
}

func (p beliefs) symptom(b *bench, id SymptomID, present bool) {
	for i := range b.suspects {
		chance := b.symptom(&b.suspects[i], id)
		if !present {
			chance = 1 - chance
		}
		p[i] *= chance
	}
	p.scale()
}

// counting are the readings on a test that count for a suspect, by what its note
// says if it has one, and how often the test was done. A test done again tells nothing new of a fault that always
// shows: its last reading counts, as one measures again for a reason. A fault
// that shows at times has shown if one reading is its own.
func (t *takenOn) counting(f *fact) (fits []Fit, times int) {
	read := t.read[t.counts:]
	last := read[len(read)-1]
	if f == nil {
		return last.fits, 1
	}
	if !f.known || f.well || f.shows == 1 {
		return last.fits, 1
	}
	for _, r := range read {
		if r.top() == f.want {
			last = r
		}
	}
	return last.fits, len(read)
}

var noFit = []Fit{{"", 1}}

// like is the chance of a reading under a suspect; known is false where the notes
// do not say it.
func (b *bench) like(s *suspect, t *Test, fits []Fit, times int) (p float64, known bool) {
	if len(fits) == 0 {
		fits = noFit
	}
	for _, f := range fits {
		q := 0.0
		switch {
		case s.cause == nil:
			q, known = b.reads(s, t, f.Reading), true
		case times == 1:
			q, known = b.once(t, s.cause, f.Reading)
		default:
			q, known = chanceOf(t, s.cause, f.Reading, times)
		}
		p += float64(f.Weight * q)
	}
	return p, known
}

// reading updates the chances by what a test gave. Suspects of which nothing is
// known get the mean likelihood of the others, which leaves their chance as it
// was.
func (p beliefs) reading(b *bench, t *takenOn) {
	if t.stale() {
		return
	}
	like, known := b.likes[:0], b.knowns[:0]
	sum, mass := 0.0, 0.0
	for i := range b.suspects {
		s, f := &b.suspects[i], (*fact)(nil)
		if s.cause != nil {
			f = b.fact(t.test, s.cause)
		}
		fits, times := t.counting(f)
		q, ok := b.like(s, t.test, fits, times)
		if ok {
			sum += float64(p[i] * q)
			mass += p[i]
		}
		like, known = append(like, q), append(known, ok)
	}
	b.likes, b.knowns = like, known
	mean := 1.0
	if mass > 0 {
		mean = sum / mass
	}
	for i := range like {
		if !known[i] {
			like[i] = mean
		}
		p[i] *= like[i]
	}
	p.scale()
}

// after is what a reading would make of the chances.
func (p beliefs) after(b *bench, t *Test, id ReadingID) beliefs {
	then := append(beliefs(nil), p...)
	then.reading(b, &takenOn{test: t, read: []readOnce{{fits: []Fit{{id, 1}}}}})
	return then
}

// gives is the chance that a test gives a reading, as far as the notes know.
func (p beliefs) gives(b *bench, t *Test, id ReadingID) float64 {
	sum, mass, fits := 0.0, 0.0, []Fit{{id, 1}}
	for i := range b.suspects {
		if q, ok := b.like(&b.suspects[i], t, fits, 1); ok {
			sum += float64(p[i] * q)
			mass += p[i]
		}
	}
	if mass <= 0 {
		return 0
	}
	return sum / mass
}
