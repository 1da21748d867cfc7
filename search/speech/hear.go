package speech

import (
	"cmp"
	"slices"

	"faultleaf/search/words"
)

// Token is a word of a sentence and what it may be.
type Token struct {
	words.Word
	May []Spelling
}

// Spelling is one stem that a word may stand for, and how surely, at most 1.
type Spelling struct {
	Stem  string
	Worth float64
}

// Heard is what was understood of a sentence. Places are tokens, To exclusive.
type Heard struct {
	Complaints []Said
	Things     []Said // devices and other things that were named
	Notes      []Said // lists and pages that were asked for by name
	Tried      []Said // parts that were changed or found good: they are not it
}

// Said is a phrase that was found.
type Said struct {
	From, To int
	Means    []int   // indices into the listener's complaints or names
	Worth    float64 // how surely, at most 1
	Words    int     // of the phrase
}

// mostBetween is how many small words may stand between two words of a phrase.
const mostBetween = 2

// Hear finds the phrases in a sentence.
func (l *Listener) Hear(sentence []Token) Heard {
	h := Heard{Tried: tried(sentence), Notes: l.notes.longest(sentence, nil)}
	long := slices.DeleteFunc(l.things.longest(sentence, nil), func(s Said) bool { return s.Words < 3 })
	h.Complaints = l.complaints.longest(sentence, func(s Said) bool {
		return slices.ContainsFunc(long, func(name Said) bool { return name.runsOutOf(s) })
	})
	h.Complaints = slices.DeleteFunc(h.Complaints, func(s Said) bool {
		return denied(sentence, s, h.Complaints) || slices.ContainsFunc(h.Tried, s.meets)
	})
	for _, s := range l.things.longest(sentence, func(s Said) bool {
		return slices.ContainsFunc(h.Complaints, func(c Said) bool { return sentence[c.From].Text == "not" && s.runsOutOf(c) })
	}) {
		if w := asPart(sentence, s); w > 0 {
			s.Worth *= w
			h.Things = append(h.Things, s)
		}
	}
	return h
}

// meets says whether two phrases share a word.
func (s Said) meets(o Said) bool { return s.From < o.To && o.From < s.To }

// runsOutOf says whether a phrase begins inside another and ends beyond it, as
// "power drill" in "no power drill battery".
func (s Said) runsOutOf(o Said) bool { return o.From < s.From && s.From < o.To && o.To < s.To }

// longest picks phrases that share no word, those of most words first. Those that
// except says are left out.
func (b book) longest(sentence []Token, except func(Said) bool) []Said {
	var all []Said
	for i := range sentence {
		for _, may := range sentence[i].May {
			for _, p := range b.of(may.Stem) {
				if to, worth := p.at(sentence, i); to > 0 {
					if s := (Said{i, to, p.Means, worth, len(p.Stems)}); except == nil || !except(s) {
						all = append(all, s)
					}
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Said) int {
		return cmp.Or(cmp.Compare(float64(b.Words)*b.Worth, float64(a.Words)*a.Worth), cmp.Compare(a.To-a.From, b.To-b.From), cmp.Compare(a.From, b.From))
	})
	var out []Said
	for _, s := range all {
		if !slices.ContainsFunc(out, s.meets) {
			out = append(out, s)
		}
	}
	slices.SortFunc(out, func(a, b Said) int { return a.From - b.From })
	return out
}

// at matches a phrase that begins at a token; to is 0 if it does not.
func (p Phrase) at(sentence []Token, i int) (to int, worth float64) {
	worth = 1
	for n, stem := range p.Stems {
		between := 0
		for n > 0 {
			if i >= len(sentence) || sentence[i].Cut {
				return 0, 0
			}
			if sentence[i].is(stem) > 0 {
				break
			}
			if !words.Silent(sentence[i].Text) {
				if between++; between > mostBetween || !words.Small(sentence[i].Text) {
					return 0, 0
				}
			}
			i++
		}
		worth *= sentence[i].is(stem)
		i++
	}
	return i, worth
}

// is says how surely a token is a stem.
func (t *Token) is(stem string) float64 {
	for _, m := range t.May {
		if m.Stem == stem {
			return m.Worth
		}
	}
	return 0
}

// denied says whether "not" stands before a phrase that does not begin with it,
// and belongs to no other: "no smell", but "not working, smells".
func denied(sentence []Token, s Said, all []Said) bool {
	i := s.From
	if sentence[i].Text == "not" {
		return false
	}
	for small := 0; i > 0 && !sentence[i].Cut; {
		i--
		if sentence[i].Text == "not" {
			return !slices.ContainsFunc(all, func(o Said) bool { return o.From <= i && i < o.To })
		}
		if !words.Silent(sentence[i].Text) {
			if small++; small > 1 || !words.Small(sentence[i].Text) {
				return false
			}
		}
	}
	return false
}

// parts are names that are also parts of other things.
var parts = set("lamp light lights fan bulb radio speaker speakers charger heater grill torch")

// ofAnother stand before a part's name where it is meant as a part.
var (
	ofAnother = set("not its indicator pilot warning neon cooling built internal")
	ofALight  = set("power red green amber blue white standby flashing")
	lights    = set("light lights lamp lamps")
)

// moves are what a part may well do while something else is wrong.
var moves = set("comes come works work turns turn runs run lights spins spin goes glows flashes shows")

// turns of a sentence, to what is wrong.
var but = set("but and though although yet however while")

// asPart says how surely a name means the thing itself: 0 after "no" or "its",
// little in "the light comes on but it does not boil".
func asPart(sentence []Token, s Said) float64 {
	if s.To-s.From > 1 || !parts[sentence[s.From].Text] {
		return 1
	}
	if s.From > 0 && !sentence[s.From].Cut {
		if before := sentence[s.From-1].Text; ofAnother[before] || ofALight[before] && lights[sentence[s.From].Text] {
			return 0
		}
	}
	i := s.To
	for i < len(sentence) && words.Silent(sentence[i].Text) {
		i++
	}
	if i < len(sentence) && !sentence[i].Cut && moves[sentence[i].Text] {
		for _, t := range sentence[i:] {
			if but[t.Text] || t.Cut {
				return partWorth
			}
		}
	}
	return 1
}

const partWorth = 0.3
