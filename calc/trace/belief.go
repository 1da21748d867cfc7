package trace

import (
	"errors"
	"math"
	"strings"

	"faultleaf/calc/quantity"
)

// The chances that words stand for. They are this project's choice, from no
// source; the pages say so.
const (
	unmentioned  = .05 // a symptom that the note does not name
	defaultTrust = .95 // a reading is what the part gives
	coldShown    = .30 // a fault shown warm, moved or loaded, met by a test that is none of these
	restCases    = .5  // weight of "not in these notes", in cases seen
	restHealthy  = .70 // a good reading under a fault that no note describes
	restSymptom  = .30 // a symptom under a fault that no note describes
	priorCases   = .5  // every note counts as half a case, seen or not
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

func words(bands []Band) string {
	var names []string
	for _, b := range bands {
		names = append(names, string(b.ID))
	}
	return strings.Join(names, ", ")
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// expected is the reading that a cause gives on a test; known is false where
// the notes do not say. A cause gives what its note states; else, if its block
// is not among those the test covers, the healthy reading; else nothing is
// known, and the reading moves its chance neither way.
func expected(t *Test, c *Cause) (id ReadingID, known bool) {
	if id, ok := c.Likeliest(t.ID); ok {
		return id, true
	}
	for _, b := range t.Covers {
		if b == c.Block {
			return "", false
		}
	}
	return healthy(t), true
}

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

func healthy(t *Test) ReadingID {
	for _, b := range t.Reads {
		if b.Healthy {
			return b.ID
		}
	}
	return ""
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
	trust := t.Trust
	if trust <= 0 || trust > 1 {
		trust = defaultTrust
	}
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

// beliefs holds the chance of each cause and of the rest; they sum to one.
type beliefs struct {
	chance []float64
	rest   float64
	notes  []string
	also   string // a first action to value in the plan, "" for the suspect's mend
}

// believe works the chances out from symptoms, readings and mends that did not
// cure.
func believe(d *Device, k Evidence) (beliefs, error) {
	b := beliefs{chance: make([]float64, len(d.Causes)), rest: restCases}
	for i := range d.Causes {
		c := &d.Causes[i]
		b.chance[i] = priorCases + cases(c.Seen) + cases(c.Jobs)
	}
	for _, id := range k.Symptoms {
		if err := b.symptom(d, id, true); err != nil {
			return b, err
		}
	}
	for _, id := range k.Absent {
		if err := b.symptom(d, id, false); err != nil {
			return b, err
		}
	}
	for _, m := range k.Mended {
		b.chance[d.causeIndex(m.Cause)] = 0 // put right, and the part known good
	}
	taken, err := taken(d, k)
	if err != nil {
		return b, err
	}
	for _, r := range taken {
		b.reading(d, r)
		b.notes = append(b.notes, r.notes()...)
	}
	for _, id := range k.Tried {
		i := d.causeIndex(id)
		if i < 0 {
			return b, errors.New("there is no fault “" + clip(string(id)) + "” among the notes on the " + d.Title)
		}
		b.chance[i] *= 1 - success(&d.Causes[i])
	}
	b.scale()
	return b, nil
}

// Chances gives the chance of each cause in the notes' order, and of one that is
// not in these notes, without planning. Its error is one sentence.
func Chances(d *Device, k Evidence) (chances []Chance, rest float64, err error) {
	if k, err = d.settled(k); err != nil {
		return nil, 0, err
	}
	b, err := believe(d, k)
	if err != nil {
		return nil, 0, err
	}
	for i := range d.Causes {
		chances = append(chances, Chance{d.Causes[i].ID, d.Causes[i].Title, b.chance[i]})
	}
	return chances, b.rest, nil
}

// settled leaves out the readings that no longer count: what a fault put right
// since had made of a test says nothing about what is wrong now. Its error is
// one sentence.
func (d *Device) settled(k Evidence) (Evidence, error) {
	for _, m := range k.Mended {
		if d.causeIndex(m.Cause) < 0 {
			return k, errors.New("there is no fault “" + clip(string(m.Cause)) + "” among the notes on the " + d.Title)
		}
	}
	if len(k.Mended) == 0 {
		return k, nil
	}
	explained := func(i int, r Reading) bool {
		t := d.Test(r.Test)
		if t == nil {
			return false
		}
		fits, err := ParseReading(t, r.Value)
		for _, m := range k.Mended {
			want, known := expected(t, d.Cause(m.Cause))
			if i < m.Before && err == nil && known && want != healthy(t) && top(fits) == want {
				return true
			}
		}
		return false
	}
	var counting []Reading
	for i, r := range k.Readings {
		if !explained(i, r) {
			counting = append(counting, r)
		}
	}
	k.Readings = counting
	return k, nil
}

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

func (b *beliefs) scale() {
	total := b.rest
	for _, p := range b.chance {
		total += p
	}
	if !(total > 0) {
		b.rest, total = 1, 1
	}
	b.rest /= total
	for i := range b.chance {
		b.chance[i] /= total
	}
}

func (b *beliefs) symptom(d *Device, id SymptomID, present bool) error {
	known := false
	for _, s := range d.Symptoms {
		known = known || s.ID == id
	}
	if !known {
		return errors.New("there is no symptom “" + clip(string(id)) + "” on the " + d.Title + "; its symptoms are " + d.symptomNames())
	}
	side := func(p float64) float64 {
		if present {
			return p
		}
		return 1 - p
	}
	for i := range d.Causes {
		b.chance[i] *= side(d.Causes[i].Symptoms[id].chance())
	}
	b.rest *= side(restSymptom)
	b.scale()
	return nil
}

// taken is all that was read on one test, in order.
type takenOn struct {
	test  *Test
	fits  [][]Fit // of each reading; an empty one fits no band
	typed []string
}

// taken gathers the readings by test. Its error is one sentence.
func taken(d *Device, k Evidence) ([]takenOn, error) {
	var out []takenOn
	at := map[TestID]int{}
	for _, r := range k.Readings {
		t := d.Test(r.Test)
		if t == nil {
			return nil, errors.New("there is no test “" + clip(string(r.Test)) + "” on the " + d.Title + "; its tests are " + d.testNames())
		}
		fits, err := ParseReading(t, r.Value)
		if err != nil {
			return nil, errors.New(t.Ask + ": " + err.Error())
		}
		i, ok := at[t.ID]
		if !ok {
			i = len(out)
			at[t.ID] = i
			out = append(out, takenOn{test: t})
		}
		out[i].fits, out[i].typed = append(out[i].fits, fits), append(out[i].typed, clip(strings.TrimSpace(r.Value)))
	}
	return out, nil
}

// notes say what is odd about the readings.
func (r *takenOn) notes() []string {
	last := len(r.fits) - 1
	fits, typed := r.fits[last], r.typed[last]
	for _, f := range r.fits[:last] {
		if top(f) != top(fits) {
			return []string{r.test.Ask + ": this was read in different ways. Clean the probes and press them on; if it still differs, the fault comes and goes."}
		}
	}
	switch {
	case len(fits) == 0:
		return []string{r.test.Ask + ": " + typed + " fits no band of this test. Measure again, then think of a fault that is not in these notes."}
	case len(fits) > 1 && limitOnly(r.test, typed) != "":
		return []string{r.test.Ask + ": " + limitOnly(r.test, typed)}
	case len(fits) > 1:
		return []string{r.test.Ask + ": " + typed + " lies within the meter's error of an edge, so it cannot tell " + Plain(string(fits[0].Reading)) + " from " +
			Plain(string(fits[1].Reading)) + ". " + r.test.better(typed, fits)}
	}
	return nil
}

// better says which measurement would tell two bands apart, where a value lies
// too near to their common edge.
func (t *Test) better(typed string, fits []Fit) string {
	v, err := quantity.Parse(t.Kind, typed)
	edge, found := math.Inf(1), false
	for _, b := range t.Reads {
		for _, e := range []*float64{b.Low, b.High} {
			if e != nil && math.Abs(*e-v.Num) < math.Abs(edge-v.Num) && (b.ID == fits[0].Reading || b.ID == fits[1].Reading) {
				edge, found = *e, true
			}
		}
	}
	if err != nil || !found || v.Num == 0 {
		return "Measure again with a better range or meter."
	}
	text := "The edge is at " + quantity.Of(t.Kind, edge).Text()
	need := math.Abs(edge-v.Num) / math.Abs(v.Num)
	if need < 5e-4 {
		return text + ", and no bench meter parts them; go by the other tests."
	}
	text += "; a meter good to " + quantity.Of(quantity.Percent, math.Floor(need*1000)/1000).Text() + " of the reading would tell"
	if t.Kind == quantity.Resistance && edge < 20 {
		return text + ", with the leads' own resistance taken off (touch the probes together first)."
	}
	return text + ". Use the lowest range that shows it."
}

// top is the likeliest band of a reading, "" for none.
func top(fits []Fit) ReadingID {
	if len(fits) == 0 {
		return ""
	}
	return fits[0].Reading
}

// of is the reading that counts for a cause, and how often the test was done.
// A test done again tells nothing new of a fault that always shows: its last
// reading counts, as one measures again for a reason. A fault that shows at
// times has shown if one reading is its own.
func (r *takenOn) of(c *Cause) (fits []Fit, times int) {
	last := r.fits[len(r.fits)-1]
	want, known := expected(r.test, c)
	if !known || want == healthy(r.test) || shows(r.test, c, 1) == 1 {
		return last, 1
	}
	for _, f := range r.fits {
		if top(f) == want {
			last = f
		}
	}
	return last, len(r.fits)
}

// reading updates the chances by what a test gave. Causes of which nothing is
// known get the mean likelihood of the others, which leaves their chance as it
// was. The rest reads as restReads says.
func (b *beliefs) reading(d *Device, r takenOn) {
	like := make([]float64, len(d.Causes))
	known := make([]bool, len(d.Causes))
	lastFits := r.fits[len(r.fits)-1]
	unknown := 0.0
	for _, f := range lastFits {
		unknown += float64(f.Weight * restReads(r.test, f.Reading))
	}
	if len(lastFits) == 0 {
		unknown = restReads(r.test, "")
	}
	sum, mass := float64(b.rest*unknown), b.rest
	for i := range d.Causes {
		fits, times := r.of(&d.Causes[i])
		if len(fits) == 0 {
			fits = []Fit{{"", 1}}
		}
		for _, f := range fits {
			p, ok := chanceOf(r.test, &d.Causes[i], f.Reading, times)
			known[i] = ok
			like[i] += float64(f.Weight * p)
		}
		if known[i] {
			sum += float64(b.chance[i] * like[i])
			mass += b.chance[i]
		}
	}
	mean := unknown
	if mass > 0 {
		mean = sum / mass
	}
	for i := range like {
		if !known[i] {
			like[i] = mean
		}
		b.chance[i] *= like[i]
	}
	b.rest *= unknown
	b.scale()
}

// restReads is the chance that a fault which no note describes gives a reading:
// most tests look at parts that it leaves as they should be; every other band,
// and none, is as likely as the next.
func restReads(t *Test, id ReadingID) float64 {
	if h := healthy(t); h != "" {
		if id == h {
			return restHealthy
		}
		return (1 - restHealthy) / float64(len(t.Reads))
	}
	return 1 / float64(len(t.Reads)+1)
}

// Test finds a test; nil if the device has none of that id.
func (d *Device) Test(id TestID) *Test {
	for i := range d.Tests {
		if d.Tests[i].ID == id {
			return &d.Tests[i]
		}
	}
	return nil
}

// Cause finds a cause; nil if no note describes one of that id.
func (d *Device) Cause(id CauseID) *Cause {
	if i := d.causeIndex(id); i >= 0 {
		return &d.Causes[i]
	}
	return nil
}

func (d *Device) causeIndex(id CauseID) int {
	for i := range d.Causes {
		if d.Causes[i].ID == id {
			return i
		}
	}
	return -1
}

func (d *Device) testNames() string {
	var names []string
	for _, t := range d.Tests {
		names = append(names, string(t.ID))
	}
	return strings.Join(names, ", ")
}

func (d *Device) symptomNames() string {
	var names []string
	for _, s := range d.Symptoms {
		names = append(names, string(s.ID))
	}
	return strings.Join(names, ", ")
}

// Plain makes an id readable: "as-rated" becomes "as rated".
func Plain(id string) string { return strings.ReplaceAll(id, "-", " ") }

// InSentence begins a title in small letters, for use inside a sentence, unless
// it begins with an abbreviation.
func InSentence(title string) string {
	r := []rune(title)
	if len(r) > 1 && r[1] >= 'a' && r[1] <= 'z' {
		return strings.ToLower(string(r[:1])) + string(r[1:])
	}
	return title
}
