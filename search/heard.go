package search

import (
	"slices"

	"faultleaf/search/speech"
	"faultleaf/search/words"
)

// What is understood counts so much. The weights lie on a plateau: search/judge
// has what each was tried at.
var (
	complaintWorth = 3.2  // of a complaint, times how rare it is and how strongly a note is about it
	generalBeside  = 0.6  // of the complaint that all others are, beside another
	generalCounts  = 0.02 // of its words as words: a rare wording must not answer for all
	saidCounts     = 0.75 // of the words of another complaint
	triedCounts    = 0.2  // of the words of what was tried
	triedAgainst   = 0.6  // of a note that is about it
	deviceWorth    = 2.0  // of the notes of a device that is named, beyond 1
	hereWorth      = 0.8  // of the device in hand, as if it were named so surely
	secondCounts   = 0.4  // of a device that is named second
	surely         = 0.9  // the weight from which a named device comes first
	devicePage     = 1.01 // of a device's page, against its best note, where nothing but the general complaint is said
	kindCounts     = 8.0  // of the notes of a kind that is asked for
	leadWorth      = 1.05 // of a list or page that is asked for by name, against the best other
	shutWorth      = 1.5  // of the page of a thing that stays shut
	spreadWorth    = 0.8  // of each further note of a device, where no device was named
)

// general is the complaint that says no more than that the thing is not well.
const general = "dead"

// means is the weight from which a name means its device.
const means = 0.5

// hearing is what was understood of a question.
type hearing struct {
	heard    speech.Heard
	sentence []speech.Token
	said     []complaint
	named    []float64 // by device: how surely it was named
	kind     string    // of the notes that are asked for, or ""
	leads    []lead
	shut     map[string]bool // IDs of the pages of shut things that were named
	page     bool            // a device, and nothing but the general complaint if any
	slips    []slip
	strange  []words.Word // stand in no note
}

// complaint is one that was heard.
type complaint struct {
	number int // in the vocabulary
	worth  float64
}

// lead is a note that is asked for by a name.
type lead struct {
	doc   int     // -1 where it is none that is held
	worth float64 // against the best other
}

// slip is a word and the known one it is taken for.
type slip struct {
	words.Word
	right string
}

// kindWords are what people call the kinds of notes.
var kindWords = [...]struct {
	kind string
	said words.Set
}{{"calculator", "calculator calculators calc calculate compute"}, {"checklist", "checklist checklists list"}, {"job", "job jobs sheet sheets jobsheet"}}

// kindOf is the kind of notes that a word names, or "".
func kindOf(word string) string {
	for i := range kindWords {
		if kindWords[i].said.Has(word) {
			return kindWords[i].kind
		}
	}
	return ""
}

// hear listens to the query, with all that each of its words may mean.
func (q *question) hear(terms [][]*term, begun string, unfinished bool, o Options) {
	ix := q.ix
	q.counts = make([]float64, len(q.plain))
	for i := range q.counts {
		q.counts[i] = 1
	}
	q.named = make([]float64, len(ix.Heard.Devices))
	q.shut = map[string]bool{}
	if ix.Heard.Names.Len() == 0 && len(ix.Heard.Complaints) == 0 {
		return
	}
	place := q.tokens(terms)
	if unfinished {
		q.unfinished(begun)
	}
	q.heard = ix.ear.Hear(q.sentence)
	count := func(s speech.Said, worth float64) {
		for i := s.From; i < s.To; i++ {
			if at := place[i]; at >= 0 {
				q.counts[at] = min(q.counts[at], worth)
			}
		}
	}
	q.complaints(count)
	for _, t := range q.heard.Tried {
		count(t, triedCounts)
	}
	for i, t := range q.sentence {
		if kind := kindOf(t.Text); kind != "" && len(q.sentence) > 1 {
			q.kind = kind
			if at := place[i]; at >= 0 {
				q.counts[at] = triedCounts
			}
		}
	}
	rest := q.things(o)
	if rest == 0 && (len(q.said) == 0 || len(q.said) == 1 && q.general(q.said[0])) {
		q.page = o.Device != "" || slices.Max(append(q.named, 0)) >= means
	}
}

// tokens makes the sentence, with all that each of its words may mean. It gives by token which plain word that is, -1
// for none.
func (q *question) tokens(terms [][]*term) (place []int) {
	plain := 0 // of those so far
	for _, w := range q.ix.ear.Lexicon.All(q.text) {
		t, at := speech.Token{Word: w, May: []speech.Spelling{{Stem: w.Stem, Worth: 1}}}, -1
		if !w.Idle {
			at = plain
			plain++
			for _, list := range terms[at] {
				for _, s := range list.spellings {
					if s.stem != w.Stem {
						t.May = append(t.May, speech.Spelling{Stem: s.stem, Worth: s.worth})
					}
				}
			}
		}
		q.sentence, place = append(q.sentence, t), append(place, at)
	}
	return place
}

// unfinished has the last word also be what it may become.
func (q *question) unfinished(begun string) {
	n := len(q.sentence)
	if n == 0 || len(begun)+min(n-1, 1) < leastBegun || q.sentence[n-1].End != len(q.text) {
		return
	}
	last := &q.sentence[n-1]
	for _, s := range q.ix.beginning(begun) {
		if last.May[0].Stem != s.stem {
			last.May = append(last.May, speech.Spelling{Stem: s.stem, Worth: beginsWorth})
		}
	}
}

// leastBegun is from how many letters on a word being typed may be a phrase; one
// letter less may end it.
const leastBegun = 3

func (q *question) general(c complaint) bool { return q.ix.Heard.Complaints[c.number].ID == general }

// complaints weighs the complaints that were heard.
func (q *question) complaints(count func(speech.Said, float64)) {
	for _, s := range q.heard.Complaints {
		counts := saidCounts
		for _, number := range s.Means {
			q.say(number, s.Worth)
			if q.general(complaint{number: number}) {
				counts = generalCounts
			}
		}
		count(s, counts)
	}
	if len(q.said) > 1 {
		for i, c := range q.said {
			if q.general(c) {
				q.said[i].worth *= generalBeside
			}
		}
	}
}

// say adds a complaint, in the order of their numbers, once.
func (q *question) say(number int, worth float64) {
	at := 0
	for at < len(q.said) && q.said[at].number < number {
		at++
	}
	if at < len(q.said) && q.said[at].number == number {
		q.said[at].worth = max(q.said[at].worth, worth)
		return
	}
	q.said = append(q.said, complaint{})
	copy(q.said[at+1:], q.said[at:])
	q.said[at] = complaint{number, worth}
}

// things weighs the names that were heard and gives the number of words that
// belong to nothing understood.
func (q *question) things(o Options) (rest int) {
	spoken, told := 0, make([]bool, len(q.sentence))
	for _, list := range [][]speech.Said{q.heard.Complaints, q.heard.Things, q.heard.Tried} {
		for _, s := range list {
			for i := s.From; i < s.To; i++ {
				told[i] = true
			}
		}
	}
	for i, t := range q.sentence {
		if !words.Small(t.Text) {
			spoken++
			if !told[i] {
				rest++
			}
		}
	}
	first := true  // no device was named yet
	other := false // something else was
	for _, s := range q.heard.Things {
		meant := false
		for _, m := range s.Means {
			n, leads := q.ix.Heard.Names.At(m)
			worth := float64(n.Weight * s.Worth)
			switch n.Kind {
			case speech.OfDevice, speech.OfPart:
				if d := q.ix.deviceNumber(n.Of); d >= 0 {
					if !first {
						worth *= secondCounts
					}
					q.named[d] = max(q.named[d], worth)
					meant = meant || n.Weight >= means
				}
			case speech.OfShut:
				q.shut[n.Of] = true
				q.leads = append(q.leads, lead{leads, shutWorth})
			}
		}
		first, other = first && !meant, other || !meant
	}
	if here := q.ix.deviceNumber(o.Here); here >= 0 && first && !other {
		q.named[here] = max(q.named[here], hereWorth)
	}
	for _, s := range q.heard.Notes {
		for _, m := range s.Means {
			if n, leads := q.ix.Heard.Names.At(m); n.Weight == 1 || s.Words >= spoken {
				q.leads = append(q.leads, lead{leads, leadWorth})
			}
		}
	}
	return rest
}

// add brings what was understood into the scores.
func (q *question) add(total []float64) {
	ix := q.ix
	for _, c := range q.said {
		for _, f := range q.about(c.number) {
			total[f.doc] += float64(complaintWorth * float64(c.worth*float64(ix.rare[c.number]*f.value)))
		}
	}
	best := make([]float64, len(ix.Heard.Devices)) // of the notes of each device
	top := q.weigh(total, best, q.against())
	top = q.raise(total, best, top)
	for _, l := range q.leads {
		if l.doc >= 0 {
			total[l.doc] = max(total[l.doc], float64(l.worth*max(top, 1)))
		}
	}
}

// weigh brings into the scores what a note is and what it is of. It fills the best score of each device's notes,
// and gives the best of all. Of all that are met, what is not needed is not done here.
//
//go:noinline
func (q *question) weigh(total, best []float64, against map[int]bool) (top float64) {
	ix := q.ix
	kind := slices.Index(ix.Dictionary.Kinds, q.kind)
	for doc, v := range total {
		if v == 0 {
			continue
		}
		v *= ix.prior[ix.Kind[doc]]
		d := ix.device(doc)
		if d >= 0 && q.named[d] > 0 {
			v *= 1 + float64(deviceWorth*q.named[d])
		}
		if int(ix.Kind[doc]) == kind {
			v *= kindCounts
		}
		if len(against) > 0 && against[doc] {
			v *= triedAgainst
		}
		total[doc] = v
		if v > top {
			top = v
		}
		if d >= 0 && v > best[d] {
			best[d] = v
		}
	}
	return top
}

// raise puts a device that was surely named before all others, and its page before
// its notes where nothing but the general complaint was said. It gives the most
// that any note scores then.
func (q *question) raise(total, best []float64, top float64) float64 {
	ix := q.ix
	if q.kind == "" {
		for d, w := range q.named {
			if w < surely || best[d] >= top && top > 0 {
				continue
			}
			lift := 1.0
			if best[d] > 0 {
				lift = devicePage * top / best[d]
			}
			best[d], top = ix.lift(d, lift, total, best[d], top)
		}
	}
	if q.page {
		top = ix.pages(total, best, top)
	}
	return top
}

// lift multiplies what the notes of a device score; of a device of which no note is met, its page is lifted. It gives the
// best of them and of all.
//
//go:noinline
func (ix *Index) lift(device int, by float64, total []float64, best, top float64) (float64, float64) {
	none := best == 0
	for doc := range ix.Device {
		if ix.device(doc) != device {
			continue
		}
		total[doc] *= by
		if none && ix.kind(doc) == "device" {
			total[doc] = float64(devicePage * max(top, 1))
		}
		best, top = max(best, total[doc]), max(top, total[doc])
	}
	return best, top
}

// pages puts the pages of devices before their notes, and gives the best score of all.
//
//go:noinline
func (ix *Index) pages(total, best []float64, top float64) float64 {
	for doc, v := range total {
		if d := ix.device(doc); v > 0 && d >= 0 && ix.kind(doc) == "device" {
			total[doc] = max(total[doc], float64(devicePage*best[d]))
			top = max(top, total[doc])
		}
	}
	return top
}

// against finds the notes that are about what was tried: their title names it.
func (q *question) against() map[int]bool {
	out := map[int]bool{}
	for _, s := range q.heard.Tried {
		for _, t := range q.sentence[s.From:s.To] {
			if speech.Changeable(t.Text) {
				for _, f := range q.find(t.Stem) {
					if f.title {
						out[int(f.doc)] = true
					}
				}
			}
		}
	}
	return out
}

// asked is how well a symptom answers the complaints that were heard.
func (q *question) asked(is []speech.Weighted) float64 {
	sum := 0.0
	for _, c := range q.said {
		heard := &q.ix.Heard.Complaints[c.number]
		best := 0.0
		for _, w := range is {
			if w.Name == heard.ID {
				best = max(best, w.Weight)
			}
			for _, f := range heard.Finds {
				if f.Name == w.Name {
					best = max(best, float64(f.Weight*w.Weight))
				}
			}
		}
		sum += float64(complaintWorth * float64(c.worth*float64(q.ix.rare[c.number]*best)))
	}
	return sum
}

// answer says what was understood.
func (q *question) answer() Heard {
	var h Heard
	device := -1
	for d, w := range q.named {
		if w >= means && (device < 0 || w > q.named[device]) {
			device = d
		}
	}
	if device >= 0 && len(q.plain) > 0 {
		h.Device = q.ix.Heard.Devices[device].Title
	}
	for _, c := range q.said {
		h.Complaints = append(h.Complaints, q.ix.Heard.Complaints[c.number].Short)
		h.IDs = append(h.IDs, q.ix.Heard.Complaints[c.number].ID)
	}
	h.Right = q.right
	for _, s := range q.slips {
		if s.right != "" {
			h.Right = append(h.Right, Correction{q.text[s.Start:s.End], s.right})
		}
	}
	for _, s := range q.heard.Tried {
		h.Tried = append(h.Tried, q.text[q.sentence[s.From].Start:q.sentence[s.To-1].End])
	}
	for _, w := range q.strange {
		h.Strange = append(h.Strange, q.text[w.Start:w.End])
	}
	h.Shut = len(q.shut) > 0
	if device < 0 && !h.Shut {
		q.notHeld(&h)
	}
	return h
}

// notHeld finds a thing that was named and that no note is about, and what comes
// nearest.
func (q *question) notHeld(h *Heard) {
	for _, s := range q.heard.Things {
		name, nothing := "", true
		for _, m := range s.Means {
			n, _ := q.ix.Heard.Names.At(m)
			if n.Kind == speech.OfDevice && n.Weight >= means || n.Kind == speech.OfPart {
				nothing = false
			}
			name = n.Text
		}
		if nothing {
			h.Missing = name
			break
		}
	}
	if h.Missing == "" {
		return
	}
	near := -1
	for d, w := range q.named {
		if w > 0 && (near < 0 || w > q.named[near]) {
			near = d
		}
	}
	if near >= 0 {
		c := Choice(q.ix.Heard.Devices[near])
		h.Near = &c
	}
}
