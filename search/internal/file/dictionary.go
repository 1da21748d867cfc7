package file

import (
	"encoding/binary"
	"errors"
	"math"

	"faultleaf/search/speech"
	"faultleaf/search/words"
)

// Dictionary is what is read of an index before anything else.
type Dictionary struct {
	Rules uint32               // words.Rules when the index was written
	Mean  [len(Fields)]float64 // words of each field, over the notes that have any in it

	// By note, numbered in the order of their IDs.
	Kinds  []string // the kinds there are
	Kind   []uint8  // which of them
	Device []uint32 // which of Heard.Devices it is of, from 1; 0 for none
	Likes  []string // the common faults that notes are cases of
	Like   []uint32 // which of them, from 1; 0 for none
	Length [len(Fields)][]uint32

	Terms Terms // words of the notes and of what can be heard; for unfinished words and slips

	Heard   Heard
	Lexicon words.Table

	Words  []Run // shards of postings
	Texts  []Run // shards of texts
	Counts []int // notes in each shard of texts
}

// Heard is what can be heard.
type Heard struct {
	Complaints []speech.Complaint // without their wordings
	About      []float64          // by complaint: the notes about it, each as much as it is
	Devices    []speech.Device
	Names      Names

	OfComplaints, OfThings, OfNotes *Book // the phrases
}

// Books are the phrases that mean them.
func (h *Heard) Books() speech.Books {
	return speech.Books{Complaints: h.OfComplaints, Things: h.OfThings, Notes: h.OfNotes}
}

// Run is a shard of postings and the first stem that it holds.
type Run struct {
	Shard
	First string // of postings only
}

// Docs is how many notes the index holds.
func (d *Dictionary) Docs() int { return len(d.Kind) }

// magic begins a dictionary; its last letter counts the versions.
const magic = "fls6"

// Bytes writes the dictionary, its hash last.
func (d *Dictionary) Bytes() []byte {
	b := append([]byte(magic), recordForm)
	b = binary.BigEndian.AppendUint32(b, d.Rules)
	b = appendCount(b, d.Docs())
	for _, n := range d.Mean {
		b = binary.BigEndian.AppendUint64(b, math.Float64bits(n))
	}
	b = appendTexts(b, d.Kinds)
	b = appendTexts(b, d.Likes)
	for i := 0; i < len(d.Kind); { // kinds stand together, because IDs begin with them
		to := i
		for to < len(d.Kind) && d.Kind[to] == d.Kind[i] {
			to++
		}
		b = appendCount(appendCount(b, int(d.Kind[i])), to-i)
		i = to
	}
	b = appendColumn(appendColumn(b, d.Device), d.Like)
	for _, column := range d.Length {
		b = appendColumn(b, column)
	}
	b = d.Terms.append(b)
	b = d.Heard.append(b)
	b = appendLexicon(b, &d.Lexicon)
	b = appendCount(b, len(d.Words))
	f := front{}
	for _, r := range d.Words {
		b = f.append(b, r.First)
		b = r.append(b)
	}
	b = appendCount(b, len(d.Texts))
	for i, r := range d.Texts {
		b = r.append(appendCount(b, d.Counts[i]))
	}
	return binary.BigEndian.AppendUint64(b, Sum(b))
}

func (s Shard) append(b []byte) []byte {
	return appendCount(binary.BigEndian.AppendUint64(b, s.Sum), s.Size)
}

func (r *reader) shard() Shard { return Shard{r.u64(), r.count32()} }

var errDictionary = errors.New("the dictionary of the search index is damaged; publish again")

// ReadDictionary reads and checks what Bytes wrote.
func ReadDictionary(b []byte) (*Dictionary, error) {
	if len(b) < len(magic)+8 || string(b[:len(magic)]) != magic {
		return nil, errors.New("this is not the dictionary of a search index; publish again")
	}
	body, sum := b[:len(b)-8], binary.BigEndian.Uint64(b[len(b)-8:])
	if Sum(body) != sum {
		return nil, errDictionary
	}
	in := &reader{b: body[len(magic):], all: string(body)}
	if form := in.take(1); form == nil || form[0] != recordForm {
		return nil, errors.New("the search index was written by another version of this program; publish again")
	}
	d := &Dictionary{}
	if b := in.take(4); b != nil {
		d.Rules = binary.BigEndian.Uint32(b)
	}
	docs := in.count() // each takes a byte or more
	for i := range d.Mean {
		d.Mean[i] = math.Float64frombits(in.u64())
		if !(d.Mean[i] >= 0 && d.Mean[i] < 1e15) {
			in.bad = true
		}
	}
	d.Kinds, d.Likes = in.texts(), in.texts()
	d.Kind = make([]uint8, 0, docs)
	for len(d.Kind) < docs && !in.bad {
		kind := in.number(min(len(d.Kinds), 256))
		n := in.number(docs - len(d.Kind) + 1)
		if n == 0 {
			in.bad = true
		}
		d.Kind = repeated(d.Kind, uint8(kind), n)
	}
	d.Device, d.Like = in.column(docs), in.column(docs)
	for f := range d.Length {
		d.Length[f] = in.column(docs)
	}
	d.Terms.read(in)
	d.Heard.read(in, docs)
	in.lexicon(&d.Lexicon)
	in.bad = in.bad || most(d.Device) > uint32(len(d.Heard.Devices)) || most(d.Like) > uint32(len(d.Likes))
	d.Words = in.words()
	d.Texts, d.Counts = in.runs(docs)
	if in.end() != nil {
		return nil, errDictionary
	}
	return d, nil
}

// words reads the shards of postings.
//
//go:noinline
func (r *reader) words() []Run {
	n := r.count()
	out := make([]Run, 0, n)
	r.last = nil
	for i := 0; i < n && !r.bad; i++ {
		out = append(out, Run{First: string(r.fronted(i == 0)), Shard: r.shard()})
	}
	return out
}

// runs reads the shards of texts, and how many of the notes stand in each.
//
//go:noinline
func (r *reader) runs(docs int) (out []Run, counts []int) {
	n := r.count()
	out, counts = make([]Run, 0, n), make([]int, 0, n)
	for ; n > 0 && !r.bad; n-- {
		k := r.number(docs + 1)
		docs -= k
		counts = append(counts, k)
		out = append(out, Run{Shard: r.shard()})
	}
	r.bad = r.bad || docs != 0
	return out, counts
}

// The loops over every document or word stand in functions of their own, and are not inlined: a browser
// translates what runs long once more, for speed, and that a whole function at a time.

//go:noinline
func repeated(list []uint8, x uint8, n int) []uint8 {
	for range n {
		list = append(list, x)
	}
	return list
}

//go:noinline
func most(column []uint32) uint32 {
	top := uint32(0)
	for _, v := range column {
		top = max(top, v)
	}
	return top
}

func (h *Heard) append(b []byte) []byte {
	b = appendCount(b, len(h.Complaints))
	for i, c := range h.Complaints {
		b = appendWeighted(appendText(appendText(b, c.ID), c.Short), c.Finds)
		b = binary.BigEndian.AppendUint64(b, math.Float64bits(h.About[i]))
	}
	b = appendCount(b, len(h.Devices))
	for _, x := range h.Devices {
		b = appendText(appendText(b, x.Name), x.Title)
	}
	b = h.Names.rows.append(b)
	for _, book := range []*Book{h.OfComplaints, h.OfThings, h.OfNotes} {
		b = book.append(b)
	}
	return b
}

func (h *Heard) read(in *reader, docs int) {
	h.complaints(in, docs)
	h.Devices = in.devices()
	h.Names.docs = docs
	h.Names.rows.read(in)
	h.OfComplaints = in.book(len(h.Complaints))
	h.OfThings, h.OfNotes = in.book(h.Names.Len()), in.book(h.Names.Len())
}

//go:noinline
func (h *Heard) complaints(in *reader, docs int) {
	for n := in.count(); n > 0 && !in.bad; n-- {
		h.Complaints = append(h.Complaints, speech.Complaint{ID: in.text(), Short: in.text(), Finds: in.weighted()})
		about := math.Float64frombits(in.u64())
		if !(about >= 0 && about <= float64(docs)) {
			in.bad = true
		}
		h.About = append(h.About, about)
	}
}

//go:noinline
func (r *reader) devices() []speech.Device {
	n := r.count()
	out := make([]speech.Device, 0, n)
	for ; n > 0 && !r.bad; n-- {
		out = append(out, speech.Device{Name: r.text(), Title: r.text()})
	}
	return out
}

// appendLexicon writes a lexicon: of the words of its phrases, the stem stands only where it is another text.
func appendLexicon(b []byte, t *words.Table) []byte {
	b = appendCount(b, len(t.Spellings))
	for _, s := range t.Spellings {
		b = appendTexts(appendText(b, s.Wrong), s.Right)
	}
	b = appendCount(b, len(t.Groups))
	for _, group := range t.Groups {
		b = appendCount(b, len(group))
		for _, phrase := range group {
			b = appendCount(b, len(phrase))
			for _, w := range phrase {
				if b = appendText(b, w.Text); w.Stem == w.Text {
					b = append(b, 0)
				} else {
					b = appendText(b, w.Stem)
				}
			}
		}
	}
	b = appendCount(b, len(t.Phrases))
	for _, phrase := range t.Phrases {
		b = appendCount(b, len(phrase))
		for _, p := range phrase {
			b = appendCount(appendCount(b, p.Group), p.At)
		}
	}
	return appendText(b, t.Ordinary)
}

func (r *reader) lexicon(t *words.Table) {
	t.Spellings = r.spellings()
	for n := r.count(); n > 0 && !r.bad; n-- {
		group := make([][]words.Word, 0, 4)
		for n := r.count(); n > 0 && !r.bad; n-- {
			group = append(group, r.phrase())
		}
		t.Groups = append(t.Groups, group)
	}
	for n := r.count(); n > 0 && !r.bad; n-- {
		var phrase words.Phrase
		for n := r.count(); n > 0 && !r.bad; n-- {
			p := words.Place{Group: r.number(len(t.Groups))}
			if !r.bad {
				p.At = r.number(len(t.Groups[p.Group]))
			}
			phrase = append(phrase, p)
		}
		r.bad = r.bad || len(phrase) == 0
		t.Phrases = append(t.Phrases, phrase)
	}
	t.Ordinary = r.text()
}

//go:noinline
func (r *reader) spellings() []words.Spelling {
	n := r.count()
	out := make([]words.Spelling, 0, n)
	for ; n > 0 && !r.bad; n-- {
		out = append(out, words.Spelling{Wrong: r.text(), Right: r.texts()})
	}
	return out
}

//go:noinline
func (r *reader) phrase() []words.Word {
	phrase := make([]words.Word, 0, 2)
	for n := r.count(); n > 0 && !r.bad; n-- {
		w := words.Word{Text: r.text(), Stem: r.text()}
		if w.Stem == "" {
			w.Stem = w.Text
		}
		phrase = append(phrase, w)
	}
	r.bad = r.bad || len(phrase) == 0
	return phrase
}

func appendTexts(b []byte, list []string) []byte {
	b = appendCount(b, len(list))
	for _, s := range list {
		b = appendText(b, s)
	}
	return b
}

func (r *reader) texts() []string {
	n := r.count()
	out := make([]string, 0, n)
	for ; n > 0 && !r.bad; n-- {
		out = append(out, r.text())
	}
	return out
}
