package file

import (
	"sort"
	"strings"
	"sync"

	"faultleaf/search/speech"
)

// Rows are texts one behind the other. They are not taken apart when they are read, because a
// page that opens an index needs few of them: a row is cut out when it is asked for.
type Rows struct {
	text string
	ends []uint32 // where each ends in text
}

// rowWriter puts rows together: thousands of them, and a text that grows by each is copied each time.
type rowWriter struct {
	text []byte
	ends []uint32
}

func (w *rowWriter) add(text string) {
	w.text = append(w.text, text...)
	w.end()
}

// end ends a row, whose text has been added.
func (w *rowWriter) end() { w.ends = append(w.ends, uint32(len(w.text))) }

func (w *rowWriter) rows() Rows { return Rows{string(w.text), w.ends} }

// Len is how many there are.
func (r *Rows) Len() int { return len(r.ends) }

// Text is the i-th.
func (r *Rows) Text(i int) string {
	if i == 0 {
		return r.text[:r.ends[0]]
	}
	return r.text[r.ends[i-1]:r.ends[i]]
}

// Find gives the place of a text among sorted ones, or where it would stand.
func (r *Rows) Find(text string) (at int, ok bool) {
	at = sort.Search(r.Len(), func(i int) bool { return r.Text(i) >= text })
	return at, at < r.Len() && r.Text(at) == text
}

func (r *Rows) append(b []byte) []byte {
	b = appendCount(b, r.Len())
	for i := range r.ends {
		b = appendCount(b, len(r.Text(i)))
	}
	return append(b, r.text...)
}

func (r *Rows) read(in *reader) {
	n := in.count()
	r.ends = in.column(n)
	end := uint32(0)
	for i, long := range r.ends {
		if end += long; end < long || uint64(end) > uint64(len(in.b)) {
			in.bad = true
			break
		}
		r.ends[i] = end
	}
	if in.bad {
		*r = Rows{}
		return
	}
	r.text = in.piece(uint64(end))
}

// Names are what documents are asked for by, and the notes that these lead to.
type Names struct {
	rows Rows
	docs int
}

// NewNames takes names, and the notes that some of them lead to, by place.
func NewNames(list []speech.Name, leads map[int]int, docs int) Names {
	var rows rowWriter
	for i, n := range list {
		doc := 0
		if at, ok := leads[i]; ok {
			doc = at + 1
		}
		b := appendCount(appendCount(appendWeight(rows.text, n.Weight), int(n.Kind)), doc)
		rows.text = append(appendText(b, n.Of), n.Text...)
		rows.end()
	}
	return Names{rows.rows(), docs}
}

// Len is how many there are.
func (n *Names) Len() int { return n.rows.Len() }

// At is the i-th, and the note that it leads to, -1 for none.
func (n *Names) At(i int) (name speech.Name, leads int) {
	in := inRow(n.rows.Text(i))
	name.Weight, name.Kind, leads = in.weight(), speech.Kind(in.number(256)), in.number(n.docs+1)-1
	name.Of = in.text()
	name.Text = in.piece(uint64(len(in.b)))
	return name, leads
}

// Book is a speech.Book as it lies in a dictionary: the phrases by the stem that they begin
// with, read when that is asked for.
type Book struct {
	firsts, phrases Rows
	things          int // the phrases mean some of so many

	mu   sync.Mutex
	held map[int][]speech.Phrase
}

// NewBook takes phrases in the order of their first stems, which mean some of so many things.
func NewBook(list []speech.Phrase, things int) *Book {
	var firsts, phrases rowWriter
	for from := 0; from < len(list); {
		first, to := list[from].Stems[0], from
		b := phrases.text
		for ; to < len(list) && list[to].Stems[0] == first; to++ {
			b = appendTexts(b, list[to].Stems[1:])
			b = appendCount(b, len(list[to].Means))
			for _, m := range list[to].Means {
				b = appendCount(b, m)
			}
		}
		firsts.add(first)
		phrases.text = b
		phrases.end()
		from = to
	}
	return &Book{firsts: firsts.rows(), phrases: phrases.rows(), things: things}
}

// Of gives the phrases that begin with a stem, the longest first.
func (b *Book) Of(stem string) []speech.Phrase {
	i, ok := b.firsts.Find(stem)
	if !ok {
		return nil
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if list, ok := b.held[i]; ok {
		return list
	}
	var list []speech.Phrase
	for in := inRow(b.phrases.Text(i)); len(in.b) > 0; {
		p := speech.Phrase{Stems: []string{stem}}
		for k := in.count(); k > 0 && !in.bad; k-- {
			p.Stems = append(p.Stems, in.text())
		}
		for k := in.count(); k > 0 && !in.bad; k-- {
			p.Means = append(p.Means, in.number(b.things))
		}
		if in.bad {
			break
		}
		list = append(list, p)
	}
	if b.held == nil {
		b.held = map[int][]speech.Phrase{}
	}
	b.held[i] = list
	return list
}

func (b *Book) append(to []byte) []byte { return b.phrases.append(b.firsts.append(to)) }

func (r *reader) book(things int) *Book {
	b := &Book{things: things}
	b.firsts.read(r)
	b.phrases.read(r)
	if b.firsts.Len() != b.phrases.Len() {
		r.bad = true
	}
	return b
}

// inRow reads a row.
func inRow(row string) *reader { return &reader{b: []byte(row), all: strings.Clone(row)} }
