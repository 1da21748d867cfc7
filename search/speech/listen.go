//go:build !js

package speech

import (
	"cmp"
	_ "embed" // as in words
	"maps"
	"slices"
	"sort"
	"strings"
	"sync"

	"faultleaf/search/words"
)

//go:embed things.txt
var thingsText string

// things are the names of things that people bring to be mended. A name of a
// device, a list or a shut thing takes precedence.
var things = sync.OnceValue(func() []string {
	var out []string
	for _, line := range strings.Split(thingsText, "\n") {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			for _, name := range strings.Split(line, ",") {
				out = append(out, strings.TrimSpace(name))
			}
		}
	}
	return out
})

// Learned is a listener, and what it was made of.
type Learned struct {
	Listener
	Vocabulary          // with the things that no note is about
	Terms      []string // every word of a phrase, unstemmed, sorted
	Of         struct{ Complaints, Things, Notes Phrases }
}

// Listen makes the phrases of a vocabulary ready.
func Listen(v Vocabulary) *Learned {
	l := &Learned{Vocabulary: v, Listener: Listener{Lexicon: words.WithOwn(v.Words)}}
	l.Names = slices.Clone(v.Names)
	complaints, aThing, aNote := learned{}, learned{}, learned{}
	known := map[string]bool{}
	for i, c := range v.Complaints {
		for _, w := range c.Wordings {
			l.learn(complaints, w, i, known, true)
		}
	}
	brought := map[string]string{} // the things, by their stems
	if len(v.Complaints)+len(v.Names) > 0 {
		for _, name := range things() {
			brought[strings.Join(stems(l.Lexicon.All(name), false), " ")] = name
		}
	}
	taken := map[string]bool{}
	for i, n := range v.Names {
		to := aThing
		if n.Kind == OfNote {
			to = aNote
		}
		key := l.learn(to, n.Text, i, known, false)
		if n.Kind == OfDevice && n.Weight < means && brought[key] == "" {
			l.Names[i].Kind = OfPart
		}
		if n.Kind != OfDevice || n.Weight > 0 {
			taken[key] = true
		}
	}
	for _, key := range slices.Sorted(maps.Keys(brought)) {
		if taken[key] {
			continue
		}
		l.Names = append(l.Names, Name{Text: brought[key], Kind: OfNothing})
		l.learn(aThing, brought[key], len(l.Names)-1, known, false)
	}
	l.Of.Complaints, l.Of.Things, l.Of.Notes = complaints.book(), aThing.book(), aNote.book()
	l.Books = Books{l.Of.Complaints, l.Of.Things, l.Of.Notes}
	l.Terms = slices.Sorted(maps.Keys(known))
	return l
}

// Phrases are a book: in the order of their first stems, of those with one first stem the
// longest first.
type Phrases []Phrase

// Of gives the phrases that begin with a stem.
func (b Phrases) Of(stem string) []Phrase {
	from := sort.Search(len(b), func(i int) bool { return b[i].Stems[0] >= stem })
	to := from
	for to < len(b) && b[to].Stems[0] == stem {
		to++
	}
	return b[from:to]
}

// learned are phrases by the stem of their first word.
type learned map[string][]Phrase

func (l learned) book() Phrases {
	var out Phrases
	for _, first := range slices.Sorted(maps.Keys(l)) {
		slices.SortStableFunc(l[first], func(a, b Phrase) int {
			return cmp.Or(cmp.Compare(len(b.Stems), len(a.Stems)), slices.Compare(a.Stems, b.Stems))
		})
		out = append(out, l[first]...)
	}
	return out
}

// learn adds a phrase and gives its stems.
func (l *Learned) learn(to learned, text string, meaning int, known map[string]bool, complaint bool) string {
	ws := l.Lexicon.All(text)
	list := stems(ws, complaint)
	if len(list) == 0 {
		return ""
	}
	for _, w := range ws {
		if !w.Idle {
			known[w.Text] = true
		}
	}
	for i, p := range to[list[0]] {
		if slices.Equal(p.Stems, list) {
			if !slices.Contains(p.Means, meaning) {
				to[list[0]][i].Means = append(p.Means, meaning)
			}
			return strings.Join(list, " ")
		}
	}
	to[list[0]] = append(to[list[0]], Phrase{list, []int{meaning}})
	return strings.Join(list, " ")
}

// stems of a phrase. Silent words are left out of a complaint; a name keeps them, because
// without its "can" a can opener would be whatever does not open.
func stems(ws []words.Word, complaint bool) []string {
	var out []string
	for _, w := range ws {
		if !complaint || !words.Silent(w.Text) {
			out = append(out, w.Stem)
		}
	}
	return out
}
