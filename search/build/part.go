package build

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"unsafe"

	"faultleaf/search"
	"faultleaf/search/internal/file"
	"faultleaf/search/words"
)

// part is what was made of some documents that follow each other.
type part struct {
	base   int // number of the first among all
	heads  []head
	length [len(file.Fields)][]uint32
	seen   []file.Term // unstemmed words, sorted; without stems
	stems  []stemOf    // sorted
	texts  []file.Shard
	shards [][]byte // they, where they have just been made
}

// head is what the whole index takes from a note.
type head struct {
	ID, Kind, Device, DeviceTitle, Like string

	asked *asked // nil where nothing asks for it by a name
}

// asked is what a note is asked for by.
type asked struct {
	Title        string
	Names        []search.Weighted
	Unlike, Shut []string
}

// byTitle are the kinds of notes that their titles lead to.
var byTitle = map[string]bool{"device": true, "block": true, "checklist": true, "page": true, "calculator": true}

func headOf(d *search.Document) head {
	h := head{ID: d.ID, Kind: d.Kind, Device: d.Device, DeviceTitle: d.DeviceTitle, Like: d.Like}
	if byTitle[d.Kind] || len(d.Unlike)+len(d.Shut) > 0 {
		h.asked = &asked{d.Title, d.Names, d.Unlike, d.Shut}
	}
	return h
}

// stemOf is a stem in a part.
type stemOf struct {
	stem string
	list file.List
	freq int // in the first field, of all notes
}

// partForm counts the forms of a kept part, and what goes into one without standing
// in its documents.
const partForm = 4

// Hash is the hash of a document.
type Hash [16]byte

// hashOf is the hash of all that stands in a document.
func hashOf(d *search.Document) (sum Hash) {
	b := make([]byte, 0, len(d.Text)+2048) // mostly enough
	count := func(n int) { b = binary.AppendUvarint(b, uint64(n)) }
	text := func(s string) { count(len(s)); b = append(b, s...) }
	weighted := func(list []search.Weighted) {
		count(len(list))
		for _, w := range list {
			text(w.Name)
			b = binary.BigEndian.AppendUint64(b, math.Float64bits(w.Weight))
		}
	}
	for _, s := range []string{d.ID, d.Kind, d.Title, d.Address, d.Device, d.DeviceTitle, d.Cause, d.Text, d.Like, d.FirstTest, d.FirstMinutes, d.Hazard, d.Chain} {
		text(s)
	}
	count(len(d.Symptoms))
	for _, s := range d.Symptoms {
		text(s.Says)
		weighted(s.Is)
	}
	weighted(d.Complaints)
	weighted(d.Names)
	for _, list := range [][]string{d.Unlike, d.Shut} {
		count(len(list))
		for _, s := range list {
			text(s)
		}
	}
	whole := sha256.Sum256(b)
	copy(sum[:], whole[:])
	return sum
}

// keyOf tells all that goes into a part.
func keyOf(notes []Note, own string) string {
	b := binary.BigEndian.AppendUint32([]byte{partForm}, words.Fingerprint())
	b = append(binary.AppendUvarint(b, uint64(len(own))), own...)
	for _, n := range notes { // which tell their IDs
		b = append(b, n.Sum[:]...)
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:16])
}

func (p *part) bytes() []byte {
	var b []byte
	text := func(s string) { b = append(binary.AppendUvarint(b, uint64(len(s))), s...) }
	count := func(n int) { b = binary.AppendUvarint(b, uint64(n)) }
	var before head
	for _, h := range p.heads { // mostly as the one before
		for _, s := range [][2]string{{h.Kind, before.Kind}, {h.Device, before.Device}, {h.DeviceTitle, before.DeviceTitle}, {h.Like, before.Like}} {
			if s[0] == s[1] {
				count(0)
			} else {
				count(1)
				text(s[0])
			}
		}
		before = h
		a := h.asked
		if a == nil {
			count(0)
			continue
		}
		count(1)
		text(a.Title)
		count(len(a.Names))
		for _, n := range a.Names {
			text(n.Name)
			b = binary.BigEndian.AppendUint64(b, math.Float64bits(n.Weight))
		}
		for _, list := range [][]string{a.Unlike, a.Shut} {
			count(len(list))
			for _, s := range list {
				text(s)
			}
		}
	}
	for _, column := range p.length {
		for _, n := range column {
			count(int(n))
		}
	}
	count(len(p.seen))
	for _, t := range p.seen {
		text(t.Text)
		count(t.Docs)
	}
	count(len(p.stems))
	for i := range p.stems {
		text(p.stems[i].stem)
		count(p.stems[i].freq)
		b = p.stems[i].list.Keep(b)
	}
	count(len(p.texts))
	for _, t := range p.texts {
		b = binary.BigEndian.AppendUint64(b, t.Sum)
		count(t.Size)
	}
	return binary.BigEndian.AppendUint64(b, file.Sum(b))
}

// readPart reads what bytes wrote, nil if it cannot be used. The part holds b.
func readPart(b []byte, notes []Note) *part {
	if len(b) < 8 || file.Sum(b[:len(b)-8]) != binary.BigEndian.Uint64(b[len(b)-8:]) {
		return nil
	}
	r := &partReader{b: b[:len(b)-8]}
	p := &part{heads: make([]head, 0, len(notes))}
	var before head
	for i := 0; i < len(notes) && !r.bad; i++ {
		h := before
		h.ID, h.asked = notes[i].ID, nil
		for _, s := range []*string{&h.Kind, &h.Device, &h.DeviceTitle, &h.Like} {
			if r.count() == 1 {
				*s = r.text()
			}
		}
		before = h
		if r.count() == 1 {
			h.asked = r.asked()
		}
		p.heads = append(p.heads, h)
	}
	for f := range p.length {
		p.length[f] = make([]uint32, len(notes))
		for i := range notes {
			p.length[f][i] = uint32(r.count())
		}
	}
	n := r.many()
	for p.seen = make([]file.Term, 0, n); n > 0 && !r.bad; n-- {
		p.seen = append(p.seen, file.Term{Text: r.text(), Docs: r.count()})
	}
	n = r.many()
	for p.stems = make([]stemOf, 0, n); n > 0 && !r.bad; n-- {
		s := stemOf{stem: r.text(), freq: r.count()}
		var ok bool
		if r.b, ok = s.list.Kept(r.b); !ok {
			return nil
		}
		p.stems = append(p.stems, s)
	}
	for n := r.count(); n > 0 && !r.bad; n-- {
		p.texts = append(p.texts, file.Shard{Sum: r.word(), Size: r.count()})
	}
	if r.bad || len(r.b) > 0 {
		return nil
	}
	return p
}

// partReader takes apart what bytes wrote. What it gives once it is bad means nothing.
type partReader struct {
	b   []byte // what is left
	bad bool
}

// count is a number of anything.
func (r *partReader) count() int {
	v, n := binary.Uvarint(r.b)
	if n <= 0 || v > 1<<40 {
		r.bad = true
		return 0
	}
	r.b = r.b[n:]
	return int(v)
}

// many is a number of things that take at least a byte each.
func (r *partReader) many() int {
	n := r.count()
	if n > len(r.b) {
		r.bad = true
		return 0
	}
	return n
}

// text shares the memory of what is read.
func (r *partReader) text() string {
	n := r.many()
	t := r.b[:n:n]
	r.b = r.b[n:]
	return unsafe.String(unsafe.SliceData(t), len(t))
}

func (r *partReader) texts() (out []string) {
	for n := r.count(); n > 0 && !r.bad; n-- {
		out = append(out, r.text())
	}
	return out
}

// word is eight bytes.
func (r *partReader) word() uint64 {
	if len(r.b) < 8 {
		r.bad = true
		return 0
	}
	v := binary.BigEndian.Uint64(r.b)
	r.b = r.b[8:]
	return v
}

// asked is by which names a note is asked for.
func (r *partReader) asked() *asked {
	a := &asked{Title: r.text()}
	for n := r.count(); n > 0 && !r.bad; n-- {
		a.Names = append(a.Names, search.Weighted{Name: r.text(), Weight: math.Float64frombits(r.word())})
	}
	a.Unlike, a.Shut = r.texts(), r.texts()
	return a
}
