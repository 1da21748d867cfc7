package file

import (
	"encoding/binary"
	"errors"
	"math"

	"faultleaf/search/speech"
)

// Dictionary is what is read of an index before anything else.
type Dictionary struct {
	Fingerprint uint32               // words.Fingerprint when the index was written
	Mean        [len(Fields)]float64 // words of each field, over the notes that have any in it

	// By note, numbered in the order of their IDs.
	Kinds  []string // the kinds there are
	Kind   []uint8  // which of them
	Device []int32  // which of Heard.Devices it is of, -1 for none
	Likes  []string // the common faults that notes are cases of
	Like   []int32  // which of them, -1 for none
	Length [len(Fields)][]uint32

	Terms Terms // words of the notes and of what can be heard; for unfinished words and slips

	Heard speech.Vocabulary // what can be heard; its complaints come without their wordings
	Books speech.Books
	About []float64   // by complaint: the notes about it, each as much as it is
	Leads map[int]int // the notes that names lead to, by place in Heard.Names

	Words  []Run // shards of postings
	Texts  []Run // shards of texts
	Counts []int // notes in each shard of texts
}

// Run is a shard of postings and the first stem that it holds.
type Run struct {
	Shard
	First string // of postings only
}

// Docs is how many notes the index holds.
func (d *Dictionary) Docs() int { return len(d.Kind) }

// magic begins a dictionary; its last letter counts the versions.
const magic = "fls4"

// Bytes writes the dictionary, its hash last.
func (d *Dictionary) Bytes() []byte {
	b := append([]byte(magic), recordForm)
	b = binary.BigEndian.AppendUint32(b, d.Fingerprint)
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
	for _, column := range [][]int32{d.Device, d.Like} {
		for _, v := range column {
			b = appendCount(b, int(v+1))
		}
	}
	for _, column := range d.Length {
		for _, v := range column {
			b = binary.AppendUvarint(b, uint64(v))
		}
	}
	b = d.Terms.append(b)
	b = d.appendHeard(b)
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
		d.Fingerprint = binary.BigEndian.Uint32(b)
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
		for range n {
			d.Kind = append(d.Kind, uint8(kind))
		}
	}
	column := func() []int32 {
		out := make([]int32, docs)
		for i := range out {
			out[i] = int32(in.count32()) - 1
		}
		return out
	}
	d.Device, d.Like = column(), column()
	for f := range d.Length {
		d.Length[f] = make([]uint32, docs)
		for i := range docs {
			d.Length[f][i] = uint32(in.count32())
		}
	}
	d.Terms.read(in)
	d.readHeard(in)
	for _, v := range d.Device {
		in.bad = in.bad || int(v) >= len(d.Heard.Devices)
	}
	for _, v := range d.Like {
		in.bad = in.bad || int(v) >= len(d.Likes)
	}
	n := in.count()
	in.last = nil
	for i := 0; i < n && !in.bad; i++ {
		d.Words = append(d.Words, Run{First: string(in.fronted(i == 0)), Shard: in.shard()})
	}
	left := docs
	for n := in.count(); n > 0 && !in.bad; n-- {
		k := in.number(left + 1)
		left -= k
		d.Counts = append(d.Counts, k)
		d.Texts = append(d.Texts, Run{Shard: in.shard()})
	}
	if in.end() != nil || left != 0 {
		return nil, errDictionary
	}
	return d, nil
}

func (d *Dictionary) appendHeard(b []byte) []byte {
	b = appendCount(b, len(d.Heard.Complaints))
	for i, c := range d.Heard.Complaints {
		b = appendWeighted(appendText(appendText(b, c.ID), c.Short), c.Finds)
		b = binary.BigEndian.AppendUint64(b, math.Float64bits(d.About[i]))
	}
	b = appendCount(b, len(d.Heard.Devices))
	for _, x := range d.Heard.Devices {
		b = appendText(appendText(b, x.Name), x.Title)
	}
	b = appendCount(b, len(d.Heard.Names))
	for i, n := range d.Heard.Names {
		b = appendCount(appendWeight(appendText(appendText(b, n.Text), n.Of), n.Weight), int(n.Kind))
		if doc, leads := d.Leads[i]; leads {
			b = appendCount(b, doc+1)
		} else {
			b = append(b, 0)
		}
	}
	b = appendText(b, d.Heard.Words)
	for _, book := range [][]speech.Phrase{d.Books.Complaints, d.Books.Things, d.Books.Notes} {
		b = appendCount(b, len(book))
		for _, p := range book {
			b = appendTexts(b, p.Stems)
			b = appendCount(b, len(p.Means))
			for _, m := range p.Means {
				b = appendCount(b, m)
			}
		}
	}
	return b
}

func (d *Dictionary) readHeard(in *reader) {
	for n := in.count(); n > 0 && !in.bad; n-- {
		d.Heard.Complaints = append(d.Heard.Complaints, speech.Complaint{ID: in.text(), Short: in.text(), Finds: in.weighted()})
		about := math.Float64frombits(in.u64())
		if !(about >= 0 && about <= float64(d.Docs())) {
			in.bad = true
		}
		d.About = append(d.About, about)
	}
	for n := in.count(); n > 0 && !in.bad; n-- {
		d.Heard.Devices = append(d.Heard.Devices, speech.Device{Name: in.text(), Title: in.text()})
	}
	d.Leads = map[int]int{}
	n := in.count()
	d.Heard.Names = make([]speech.Name, 0, n)
	for i := 0; i < n && !in.bad; i++ {
		name := speech.Name{Text: in.text(), Of: in.text(), Weight: in.weight(), Kind: speech.Kind(in.number(256))}
		if doc := in.number(d.Docs() + 1); doc > 0 {
			d.Leads[i] = doc - 1
		}
		d.Heard.Names = append(d.Heard.Names, name)
	}
	d.Heard.Words = in.text()
	d.Books.Complaints = in.book(len(d.Heard.Complaints))
	d.Books.Things = in.book(len(d.Heard.Names))
	d.Books.Notes = in.book(len(d.Heard.Names))
}

// book reads phrases that mean some of so many things.
func (r *reader) book(things int) []speech.Phrase {
	n := r.count()
	out := make([]speech.Phrase, 0, n)
	for ; n > 0 && !r.bad; n-- {
		p := speech.Phrase{Stems: r.texts()}
		k := r.count()
		for p.Means = carve(&r.numbers, k); k > 0 && !r.bad; k-- {
			p.Means = append(p.Means, r.number(things))
		}
		if len(p.Stems) == 0 {
			r.bad = true
		}
		out = append(out, p)
	}
	return out
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
	out := carve(&r.strings, n)
	for ; n > 0 && !r.bad; n-- {
		out = append(out, r.text())
	}
	return out
}
