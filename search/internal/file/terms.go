package file

import (
	"sort"
	"strings"
)

// Terms are unstemmed words, sorted, each with its stem and the number of notes
// that hold it; 0 for a word that only stands in what can be heard.
type Terms struct {
	text  string   // all, one behind the other
	ends  []uint32 // where each ends in text
	docs  []uint32
	stems []stem
}

// stem is a word without its last letters, and what stands in their place. In
// English that is mostly nothing, or an i for a y.
type stem struct {
	keep uint8
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
	for _, x := range list {
		all.WriteString(x.Text)
		keep := 0
		for keep < len(x.Text) && keep < len(x.Stem) && keep < 255 && x.Text[keep] == x.Stem[keep] {
			keep++
		}
		t.ends = append(t.ends, uint32(all.Len()))
		t.docs = append(t.docs, uint32(x.Docs))
		t.stems = append(t.stems, stem{uint8(keep), x.Stem[keep:]})
	}
	t.text = all.String()
	return t
}

// Len is how many there are.
func (t *Terms) Len() int { return len(t.ends) }

// Text is the i-th.
func (t *Terms) Text(i int) string {
	if i == 0 {
		return t.text[:t.ends[0]]
	}
	return t.text[t.ends[i-1]:t.ends[i]]
}

// Docs is the number of notes that hold it.
func (t *Terms) Docs(i int) int { return int(t.docs[i]) }

// Stem is its stem.
func (t *Terms) Stem(i int) string {
	s := t.stems[i]
	if s.tail == "" {
		return t.Text(i)[:s.keep]
	}
	return t.Text(i)[:s.keep] + s.tail
}

// Find gives the place of a word, or where it would stand.
func (t *Terms) Find(text string) (at int, ok bool) {
	at = sort.Search(t.Len(), func(i int) bool { return t.Text(i) >= text })
	return at, at < t.Len() && t.Text(at) == text
}

// Run gives the places of the words that begin with a text, to exclusive.
func (t *Terms) Run(text string) (from, to int) {
	from, _ = t.Find(text)
	return from, from + sort.Search(t.Len()-from, func(i int) bool { return !strings.HasPrefix(t.Text(from+i), text) })
}

func (t *Terms) append(b []byte) []byte {
	b = appendCount(b, t.Len())
	b = appendCount(b, len(t.text))
	f := front{}
	for i := range t.Len() {
		b = f.append(b, t.Text(i))
	}
	for _, n := range t.docs {
		b = appendCount(b, int(n))
	}
	for i, s := range t.stems {
		gone := len(t.Text(i)) - int(s.keep)
		if s.tail == "" {
			b = appendCount(b, gone<<1)
		} else {
			b = appendText(appendCount(b, gone<<1|1), s.tail)
		}
	}
	return b
}

func (t *Terms) read(in *reader) {
	n, size := in.count(), in.count32()
	if size > 1<<16*(n+1) {
		in.bad = true
		return
	}
	text := make([]byte, 0, min(size, 64*len(in.b)))
	t.ends = make([]uint32, 0, n)
	in.last = nil
	for i := 0; i < n && !in.bad; i++ {
		text = append(text, in.fronted(i == 0)...)
		t.ends = append(t.ends, uint32(len(text)))
	}
	if len(text) != size {
		in.bad = true
	}
	if in.bad {
		return
	}
	t.text = string(text)
	t.docs = make([]uint32, n)
	for i := range t.docs {
		t.docs[i] = uint32(in.count32())
	}
	t.stems = make([]stem, n)
	for i := range t.stems {
		gone := in.count32()
		keep := len(t.Text(i)) - gone>>1
		if keep < 0 || keep > 255 {
			in.bad = true
			return
		}
		t.stems[i].keep = uint8(keep)
		if gone&1 == 1 {
			t.stems[i].tail = in.text()
		}
	}
}
