package file

import (
	"encoding/binary"
	"math"
	"math/bits"
)

// Posting is how often one note holds a stem, by field.
type Posting struct {
	Doc  int
	Freq [len(Fields)]uint32
}

// OnceInText is the commonest frequency. ReadList gives this very one, so that it is
// known by its address.
var OnceInText = &[len(Fields)]uint32{Text: 1}

// A posting is written as the number of notes from the one before, doubled; where
// the stem stands once in the text and nowhere else, that is all. Else the number
// is odd, and a byte follows that says which fields hold it, and whether each
// holds it once; if not, how often each does.
const (
	once   = 1 << len(Fields)
	fields = once - 1
)

// List is the postings of one stem in one part of the notes. Parts are put together
// without reading what stands in them: only the first distance changes.
type List struct {
	First, Last int    // numbers of the notes, within the part
	odd         uint64 // of the first posting
	rest        []byte // behind the first distance
}

// Add puts a posting at the end; its note must come after the last.
func (l *List) Add(p *Posting) {
	gap := uint64(0)
	if l.rest == nil {
		l.First, l.rest = p.Doc, []byte{}
	} else {
		gap = uint64(p.Doc - l.Last)
	}
	mask, simple := byte(once), true
	for f, n := range p.Freq {
		if n > 0 {
			mask |= 1 << f
		}
		if n > 1 {
			mask &^= once
		}
		simple = simple && (n == 0 || f == Text && n == 1)
	}
	odd := uint64(1)
	if simple {
		odd = 0
	}
	if gap > 0 {
		l.rest = binary.AppendUvarint(l.rest, gap<<1|odd)
	} else {
		l.odd = odd
	}
	l.Last = p.Doc
	if simple {
		return
	}
	l.rest = append(l.rest, mask)
	if mask&once == 0 {
		for _, n := range p.Freq {
			if n > 0 {
				l.rest = binary.AppendUvarint(l.rest, uint64(n))
			}
		}
	}
}

// Append writes the list behind one that ended with the note last, -1 at the
// beginning; base is the number of the part's first note.
func (l *List) Append(b []byte, last, base int) []byte {
	return append(binary.AppendUvarint(b, uint64(base+l.First-last)<<1|l.odd), l.rest...)
}

// ReadList visits the postings of a list. docs is how many notes there are. Most of what
// a key costs is done here, so it goes by a place in the list and not by a reader.
func ReadList(list []byte, docs int, visit func(doc int, freq *[len(Fields)]uint32)) error {
	doc, at := -1, 0
	var freq [len(Fields)]uint32
	for at < len(list) {
		gap := uint64(list[at])
		if at++; gap >= 0x80 { // most are short
			gap, at = number(list, at-1)
		}
		if gap>>1 == 0 || gap>>1 >= uint64(docs-doc) {
			return errDamaged
		}
		doc += int(gap >> 1)
		if gap&1 == 0 {
			visit(doc, OnceInText)
			continue
		}
		if at >= len(list) || list[at]&fields == 0 || list[at]>>len(Fields) > 1 {
			return errDamaged
		}
		mask := list[at]
		at++
		freq = [len(Fields)]uint32{}
		for m := mask & fields; m != 0; m &= m - 1 {
			n := uint64(1)
			if mask&once == 0 {
				if n, at = number(list, at); at > len(list) || n >= math.MaxInt32 {
					return errDamaged
				}
			}
			freq[bits.TrailingZeros8(m)] = uint32(n)
		}
		visit(doc, &freq)
	}
	if at != len(list) {
		return errDamaged
	}
	return nil
}

// number reads a number that stands at a place, and gives the place behind it: beyond the
// list, and 0, where none stands there.
func number(list []byte, at int) (uint64, int) {
	v, n := binary.Uvarint(list[at:])
	if n <= 0 {
		return 0, len(list) + 1
	}
	return v, at + n
}

// Words writes a shard of postings.
type Words struct {
	b     []byte
	front front
	First string // the first stem
	N     int    // stems
}

// Add puts a stem and its list behind those before, which come before it.
func (w *Words) Add(stem string, list []byte) {
	if w.N == 0 {
		w.First = stem
	}
	w.N++
	w.b = w.front.append(w.b, stem)
	w.b = appendCount(w.b, len(list))
	w.b = append(w.b, list...)
}

// Begin begins another shard in the room of this one.
func (w *Words) Begin() { *w = Words{b: w.b[:0]} }

// Bytes is the shard, until another one is begun.
func (w *Words) Bytes() []byte { return w.b }

// FindWord finds a stem's list in a shard of postings; nil if it holds none.
func FindWord(shard []byte, stem string) ([]byte, error) {
	in := reader{b: shard}
	for first := true; len(in.b) > 0; first = false {
		key := in.fronted(first)
		list := in.take(in.uvarint())
		if in.bad {
			return nil, errDamaged
		}
		if string(key) >= stem {
			if string(key) == stem {
				return list, nil
			}
			return nil, nil
		}
	}
	return nil, nil
}

// EachWord visits every stem of a shard and its list.
func EachWord(shard []byte, visit func(stem string, list []byte)) error {
	in := reader{b: shard}
	for first := true; len(in.b) > 0; first = false {
		key := in.fronted(first)
		list := in.take(in.uvarint())
		if in.bad {
			return errDamaged
		}
		visit(string(key), list)
	}
	return nil
}

// Keep writes the list so that Kept can read it again.
func (l *List) Keep(b []byte) []byte {
	b = appendCount(b, l.First<<1|int(l.odd))
	b = appendCount(b, l.Last)
	return appendText(b, string(l.rest))
}

// Kept reads what Keep wrote and gives what follows it.
func (l *List) Kept(b []byte) (after []byte, ok bool) {
	in := reader{b: b}
	first := in.count32()
	*l = List{First: first >> 1, odd: uint64(first & 1), Last: in.count32()}
	l.rest = in.take(in.uvarint())
	return in.b, !in.bad
}
