package file

import (
	"sort"
	"strings"
)

// Terms are unstemmed words, sorted, each with its stem and the number of notes
// that hold it; 0 for a word that only stands in what can be heard.
type Terms struct {
	Rows
	docs    []uint32
	stems   []uint32 // which of endings
	endings []ending
}

// ending makes a stem of a word: so many letters are taken off, and others put in their place. In
// English that is mostly nothing, or an i for a y.
type ending struct {
	gone int
	tail string
}

// Term is one of them, for writing.
type Term struct {
	Text, Stem string
	Docs       int
}

// NewTerms takes sorted terms, each once.
func NewTerms(list []Term) Terms {
	var t Terms
	var all strings.Builder
	known := map[ending]int{}
	for _, x := range list {
		all.WriteString(x.Text)
		keep := 0
		for keep < len(x.Text) && keep < len(x.Stem) && x.Text[keep] == x.Stem[keep] {
			keep++
		}
		e := ending{len(x.Text) - keep, x.Stem[keep:]}
		if _, there := known[e]; !there {
			known[e] = len(t.endings)
			t.endings = append(t.endings, e)
		}
		t.ends = append(t.ends, uint32(all.Len()))
		t.docs = append(t.docs, uint32(x.Docs))
		t.stems = append(t.stems, uint32(known[e]))
	}
	t.text = all.String()
	return t
}

// Docs is the number of notes that hold it.
func (t *Terms) Docs(i int) int { return int(t.docs[i]) }

// Stem is its stem.
func (t *Terms) Stem(i int) string {
	text, e := t.Text(i), t.endings[t.stems[i]]
	text = text[:max(len(text)-e.gone, 0)]
	if e.tail == "" {
		return text
	}
	return text + e.tail
}

// Run gives the places of the words that begin with a text, to exclusive.
func (t *Terms) Run(text string) (from, to int) {
	from, _ = t.Find(text)
	return from, from + sort.Search(t.Len()-from, func(i int) bool { return !strings.HasPrefix(t.Text(from+i), text) })
}

// longestTerm is far beyond what words.Split gives.
const longestTerm = 255

// append writes of each word what it does not share with the one before: half of what a large shop's take.
func (t *Terms) append(b []byte) []byte {
	b = appendCount(b, t.Len())
	same, rest := make([]uint32, t.Len()), make([]uint32, t.Len())
	var own []byte
	last := ""
	for i := range same {
		text, n := t.Text(i), 0
		for n < len(last) && n < len(text) && last[n] == text[n] {
			n++
		}
		same[i], rest[i] = uint32(n), uint32(len(text)-n)
		own = append(own, text[n:]...)
		last = text
	}
	b = append(appendColumn(appendColumn(b, same), rest), own...)
	b = appendColumn(b, t.docs)
	b = appendColumn(b, t.stems)
	b = appendCount(b, len(t.endings))
	for _, e := range t.endings {
		b = appendText(appendCount(b, e.gone), e.tail)
	}
	return b
}

func (t *Terms) read(in *reader) {
	n := in.count()
	same, ends := in.column(n), in.column(n)
	text := in.terms(same, ends)
	if in.bad {
		return
	}
	t.Rows = Rows{string(text), ends}
	t.docs, t.stems = in.column(t.Len()), in.column(t.Len())
	for k := in.count(); k > 0 && !in.bad; k-- {
		t.endings = append(t.endings, ending{in.count32(), in.text()})
	}
	in.bad = in.bad || len(t.stems) > 0 && most(t.stems) >= uint32(len(t.endings))
}

// terms reads the words, each without what it shares with the one before, and puts where each ends in
// the place of how long its rest is.
//
//go:noinline
func (r *reader) terms(same, ends []uint32) []byte {
	text := make([]byte, 0, 2*len(r.b))
	last := 0 // where the word before begins
	for i, rest := range ends {
		if r.bad || int(same[i]) > len(text)-last || same[i]+rest > longestTerm || int(rest) > len(r.b) {
			r.bad = true
			break
		}
		at := len(text)
		text = append(append(text, text[last:last+int(same[i])]...), r.b[:rest]...)
		r.b = r.b[rest:]
		ends[i], last = uint32(len(text)), at
	}
	return text
}
