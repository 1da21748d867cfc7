package speech

import (
	"cmp"
	"slices"
	"strings"

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
	Alike bool // it is another word that means the same, and counts only inside a phrase
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
	h := Heard{Tried: tried(sentence), Notes: longest(l.Notes, sentence, nil)}
	named := strict(sentence)
	names := longest(l.Things, named, nil)
	long := slices.DeleteFunc(slices.Clone(names), func(s Said) bool { return s.Words < 3 })
	h.Complaints = longest(l.Complaints, l.wide(sentence), func(s Said) bool {
		return slices.ContainsFunc(long, func(name Said) bool { return name.runsOutOf(s) })
	})
	h.Complaints = slices.DeleteFunc(h.Complaints, func(s Said) bool {
		return denied(sentence, s, h.Complaints) || slices.ContainsFunc(h.Tried, s.meets) || slices.ContainsFunc(names, s.within)
	})
	for _, s := range longest(l.Things, named, func(s Said) bool {
		return slices.ContainsFunc(h.Complaints, func(c Said) bool { return sentence[c.From].Text == "not" && s.runsOutOf(c) })
	}) {
		if w := asPart(sentence, s); w > 0 {
			s.Worth *= w
			h.Things = append(h.Things, s)
		}
	}
	return h
}

// strict leaves out of a sentence what no name is heard in: a slip in the first letter, which
// people rarely miss. A "fixer" is no mixer.
func strict(sentence []Token) []Token {
	out := slices.Clone(sentence)
	for i := range out {
		t := &out[i]
		t.May = slices.DeleteFunc(slices.Clone(t.May), func(m Spelling) bool {
			return m.Stem != t.Stem && m.Stem != "" && t.Text != "" && m.Stem[0] != t.Text[0]
		})
	}
	return out
}

// wide lets the words of a sentence also be what means the same, as a lead is a cord, and lets
// what denies the next word be "not": "stopped heating", "fails to start", "all works except the light".
func (l *Listener) wide(sentence []Token) []Token {
	out := slices.Clone(sentence)
	for i := range out {
		t := &out[i]
		t.May = slices.Clone(t.May)
		for _, other := range l.Lexicon.Others(t.Stem) {
			t.May = append(t.May, Spelling{other, alikeWorth, true})
		}
		if i+1 < len(sentence) && !sentence[i+1].Cut {
			next := sentence[i+1].Text
			if stops.Has(t.Stem) && strings.HasSuffix(next, "ing") || fails.Has(t.Stem) && next == "to" || t.Text == "apart" && next == "from" || t.Text == "except" || t.Text == "but" && next == "for" {
				t.May = append(t.May, Spelling{"not", alikeWorth, true})
			}
		}
	}
	return out
}

// alikeWorth is how surely a word is another one that means the same.
const alikeWorth = 0.95

// stops before a word in -ing and fails before "to" deny what follows.
var (
	stops = words.Set("stop ceas quit")
	fails = words.Set("fail ceas")
)

// meets says whether two phrases share a word.
func (s Said) meets(o Said) bool { return s.From < o.To && o.From < s.To }

// within says whether a phrase is no more than a part of another: a hot plate need not be hot.
func (s Said) within(o Said) bool { return o.Words > s.Words && o.From <= s.From && s.To <= o.To }

// runsOutOf says whether a phrase begins inside another and ends beyond it, as
// "power drill" in "no power drill battery".
func (s Said) runsOutOf(o Said) bool { return o.From < s.From && s.From < o.To && o.To < s.To }

// longest picks phrases that share no word, those of most words first. Those that
// except says are left out.
func longest(b Book, sentence []Token, except func(Said) bool) []Said {
	var all []Said
	for i := range sentence {
		for _, may := range sentence[i].May {
			for _, p := range b.Of(may.Stem) {
				if may.Alike && len(p.Stems) == 1 {
					continue
				}
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
	slices.SortStableFunc(out, func(a, b Said) int { return a.From - b.From })
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
				if between++; between > mostBetween || !words.Small(sentence[i].Text) || against.Has(sentence[i].Text) {
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
var parts = words.Set("lamp light lights fan bulb radio speaker speakers charger heater grill torch")

// ofAnother stand before a part's name where it is meant as a part.
var (
	ofAnother = words.Set("not its indicator pilot warning neon cooling built internal except apart from")
	ofALight  = words.Set("power red green amber blue white standby flashing")
	lights    = words.Set("light lights lamp lamps")
)

// moves are what a part may well do while something else is wrong.
var moves = words.Set("comes come works work turns turn runs run lights spins spin goes glows flashes shows")

// turns of a sentence, to what is wrong: against sets what follows against what went before, so
// that no phrase goes on behind it: "it is charged but does not work".
var (
	but     = words.Set("but and though although yet however while")
	against = words.Set("but though although yet however")
)

// asPart says how surely a name means the thing itself: 0 after "no" or "its" and in "lights
// up", little in "the light comes on but it does not boil" and in "no heat, fan ok".
func asPart(sentence []Token, s Said) float64 {
	if s.To-s.From > 1 || !parts.Has(sentence[s.From].Text) {
		return 1
	}
	if i := s.From; i > 0 && !sentence[i].Cut {
		for i--; i > 0 && !sentence[i].Cut && (sentence[i].Text == "the" || sentence[i].Text == "a"); {
			i--
		}
		if before := sentence[i].Text; ofAnother.Has(before) || ofALight.Has(before) && lights.Has(sentence[s.From].Text) {
			return 0
		}
	}
	i := s.To
	for i < len(sentence) && words.Silent(sentence[i].Text) {
		i++
	}
	if i < len(sentence) && !sentence[i].Cut && lights.Has(sentence[s.From].Text) && sentence[i].Text == "up" {
		return 0
	}
	if i < len(sentence) && !sentence[i].Cut && s.From > 0 && (sound.Has(sentence[i].Text) || sentence[i].Text == "on" && ends(sentence, i+1)) {
		return partWorth
	}
	if i < len(sentence) && !sentence[i].Cut && moves.Has(sentence[i].Text) {
		for _, t := range sentence[i:] {
			if but.Has(t.Text) || t.Cut {
				return partWorth
			}
		}
	}
	return 1
}

const partWorth = 0.3

// ends says whether a sentence, or what it says of one thing, ends before a token.
func ends(sentence []Token, i int) bool {
	return i >= len(sentence) || sentence[i].Cut || but.Has(sentence[i].Text)
}
