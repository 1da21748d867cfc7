package build

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"

	"faultleaf/search"
	"faultleaf/search/internal/file"
	"faultleaf/search/words"
)

// part is what was made of some documents that follow each other.
type part struct {
	notes  int
	base   int // number of the first among all
	length [len(file.Fields)][]uint32
	seen   []file.Term // unstemmed words, sorted; without stems
	stems  []stemOf    // sorted
	texts  [][]byte    // shards
}

// stemOf is a stem in a part.
type stemOf struct {
	stem string
	list file.List
	freq int // in the first field, of all notes
}

// partForm counts the forms of a kept part, and what goes into one without standing
// in its documents.
const partForm = 1

// keyOf tells all that goes into a part.
func keyOf(docs []search.Document, own string) string {
	h := sha256.New()
	enc := json.NewEncoder(h)
	_ = enc.Encode([]any{partForm, words.Fingerprint(), own, len(docs)}) // a hash takes everything
	for i := range docs {
		_ = enc.Encode(&docs[i])
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

func (p *part) bytes() []byte {
	var b []byte
	text := func(s string) { b = append(binary.AppendUvarint(b, uint64(len(s))), s...) }
	count := func(n int) { b = binary.AppendUvarint(b, uint64(n)) }
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
		text(string(t))
	}
	return binary.BigEndian.AppendUint64(b, file.Sum(b))
}

// readPart reads what bytes wrote, nil if it cannot be used.
func readPart(b []byte, notes int) *part {
	if len(b) < 8 || file.Sum(b[:len(b)-8]) != binary.BigEndian.Uint64(b[len(b)-8:]) {
		return nil
	}
	b = b[:len(b)-8]
	ok := true
	count := func() int {
		v, n := binary.Uvarint(b)
		if n <= 0 || v > 1<<40 {
			ok = false
			return 0
		}
		b = b[n:]
		return int(v)
	}
	bytes := func() []byte {
		n := count()
		if n > len(b) {
			ok = false
			return nil
		}
		out := b[:n:n]
		b = b[n:]
		return out
	}
	p := &part{notes: notes}
	for f := range p.length {
		for range notes {
			p.length[f] = append(p.length[f], uint32(count()))
		}
	}
	for n := count(); n > 0 && ok; n-- {
		p.seen = append(p.seen, file.Term{Text: string(bytes()), Docs: count()})
	}
	for n := count(); n > 0 && ok; n-- {
		s := stemOf{stem: string(bytes()), freq: count()}
		if b, ok = s.list.Kept(b); ok {
			p.stems = append(p.stems, s)
		}
	}
	for n := count(); n > 0 && ok; n-- {
		p.texts = append(p.texts, bytes())
	}
	if !ok || len(b) > 0 {
		return nil
	}
	return p
}
