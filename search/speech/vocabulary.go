// Package speech hears what people say of a thing: which thing it is, what they
// complain of, and what they have tried already.
//
// The words of a sentence come with what each may mean (a slip, the beginning of
// a word still being typed); phrases of a vocabulary are found in them, the
// longest first, never across punctuation. Every negation is "not", and small
// words between the words of a phrase do not matter.
package speech

import (
	"cmp"
	_ "embed"
	"maps"
	"slices"
	"sort"
	"strings"
	"sync"

	"faultleaf/search/words"
)

// Vocabulary is what can be heard. It is kept with an index.
type Vocabulary struct {
	Complaints []Complaint
	Devices    []Device
	Names      []Name
	Words      string // a shop's own lines of spellings and of phrases that mean the same
}

// Complaint is one thing that an owner may say is wrong.
type Complaint struct {
	ID       string
	Short    string // as it is said back: "does nothing"
	Wordings []string
	Finds    []Weighted // complaints that a question about this one finds too
}

// Weighted names a thing and says how well it fits, above 0 and at most 1.
type Weighted struct {
	Name   string
	Weight float64
}

// Device is a device that has notes.
type Device struct{ Name, Title string }

// Name is what a document is asked for by.
type Name struct {
	Text   string
	Of     string  // a device's name, or a document's ID; empty for a thing that no note is about
	Weight float64 // from means on it means a device; less only comes near it
	Kind   Kind
}

// means is the weight from which a name means its device.
const means = 0.5

// Kind is what a name leads to.
type Kind uint8

// The kinds of names.
const (
	OfDevice  Kind = iota
	OfNote         // another document: a list, a page
	OfShut         // a page that says why a thing stays shut
	OfNothing      // a thing that people bring and that no note is about
	OfPart         // what comes near a device and is nothing that people bring by itself: its bulb
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

// Listener hears the phrases of one vocabulary.
type Listener struct {
	Vocabulary
	Lexicon    *words.Lexicon
	complaints book
	things     book     // devices, shut things and things without a note
	notes      book     // lists and pages
	terms      []string // every word of a phrase, unstemmed, sorted
}

// book holds phrases in the order of their first stems; of those with one first stem the
// longest come first.
type book []Phrase

// of gives the phrases that begin with a stem.
func (b book) of(stem string) []Phrase {
	from := sort.Search(len(b), func(i int) bool { return b[i].Stems[0] >= stem })
	to := from
	for to < len(b) && b[to].Stems[0] == stem {
		to++
	}
	return b[from:to]
}

// Phrase is one that is listened for.
type Phrase struct {
	Stems []string
	Means []int // indices into the complaints or the names
}

// Books are the phrases of a listener, sorted. They are kept with an index, so that
// nothing is cut and stemmed again when it is opened.
type Books struct{ Complaints, Things, Notes []Phrase }

// Books gives the phrases that a listener knows.
func (l *Listener) Books() Books { return Books{l.complaints, l.things, l.notes} }

// Open makes the listener again whose vocabulary and books these are.
func Open(v Vocabulary, books Books) *Listener {
	return &Listener{Vocabulary: v, Lexicon: words.WithOwn(v.Words), complaints: books.Complaints, things: books.Things, notes: books.Notes}
}

// Listen makes the phrases of a vocabulary ready.
func Listen(v Vocabulary) *Listener {
	l := &Listener{Vocabulary: v, Lexicon: words.WithOwn(v.Words)}
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
	l.complaints, l.things, l.notes = complaints.book(), aThing.book(), aNote.book()
	for text := range known {
		l.terms = append(l.terms, text)
	}
	slices.Sort(l.terms)
	return l
}

// Terms lists every word of the phrases, unstemmed and sorted, of a listener that
// Listen made.
func (l *Listener) Terms() []string { return l.terms }

// learned are phrases by the stem of their first word.
type learned map[string][]Phrase

func (l learned) book() book {
	var out book
	for _, first := range slices.Sorted(maps.Keys(l)) {
		slices.SortStableFunc(l[first], func(a, b Phrase) int {
			return cmp.Or(cmp.Compare(len(b.Stems), len(a.Stems)), slices.Compare(a.Stems, b.Stems))
		})
		out = append(out, l[first]...)
	}
	return out
}

// learn adds a phrase and gives its stems.
func (l *Listener) learn(to learned, text string, meaning int, known map[string]bool, complaint bool) string {
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
