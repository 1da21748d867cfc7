// Package file holds what the writer and the reader of an index must agree on.
//
// An index is one dictionary, which is read first, and many shards, which are
// read as a question needs them:
//
//	dictionary   every word that stands in a note, with its stem; what each note
//	             is (kind, device, lengths of its fields); what can be heard; and
//	             which shard holds what
//	words-HASH   a run of stems in order, each with its postings: which notes hold
//	             it, how often, in which field
//	texts-HASH   a run of notes, each with what is shown of it
//
// Notes are numbered in the order of their IDs, and a run of stems or notes ends
// where a hash of its last one says so: one changed note changes the shards that
// it stands in, and no others move.
//
// A shard's name carries the hash of its content, so that shards of two publishings
// are never mixed and a damaged one is noticed.
package file

import (
	"encoding/binary"
	"errors"
	"math"
	"strconv"
)

// Fields are the fields of words, in the order of Dictionary.Mean.
var Fields = [...]string{"title", "symptoms", "cause", "device", "text"}

// Title and Text are places in Fields.
const (
	Title = 0
	Text  = 4
)

// Complaint is the key under which the notes about a complaint are kept, among the
// stems, which never hold this letter. How strongly a note is about it is the
// frequency in the first field, out of Strength.
func Complaint(id string) string { return "\x01" + id }

// Strength is the frequency of a complaint in the note that is most about it.
const Strength = 20

// Sum is the hash by which an index tells its files: FNV-1a in words of eight bytes, since
// all files are hashed again with every change and by who reads them. Each step can be
// undone, so whatever changes within one word is told for sure.
func Sum(b []byte) uint64 {
	const prime = 1099511628211
	h := uint64(14695981039346656037)
	for ; len(b) >= 8; b = b[8:] {
		h = (h ^ binary.LittleEndian.Uint64(b)) * prime
		h ^= h >> 32 // what lies high reaches the low bits, too
	}
	for _, c := range b {
		h = (h ^ uint64(c)) * prime
	}
	return h
}

// Ends says whether a run of stems or notes ends behind this one, on average after
// mean of them. It depends on the key alone, so that runs find together again
// behind a change.
func Ends(key string, mean uint64) bool {
	h := Sum([]byte(key))
	return (h^h>>32)%mean == 0
}

// Shard is what a dictionary says of one shard.
type Shard struct {
	Sum  uint64
	Size int // bytes
}

// WordsName and TextsName are the names of shards as files.
func (s Shard) WordsName() string { return "words-" + s.hash() }
func (s Shard) TextsName() string { return "texts-" + s.hash() }

func (s Shard) hash() string {
	h := strconv.FormatUint(s.Sum, 16)
	return "0000000000000000"[len(h):] + h
}

// Of is the shard with this content.
func Of(b []byte) Shard { return Shard{Sum(b), len(b)} }

// Check says whether b is this shard's content.
func (s Shard) Check(b []byte) error {
	if len(b) != s.Size || Sum(b) != s.Sum {
		return errDamaged
	}
	return nil
}

var errDamaged = errors.New("it is damaged")

func appendText(b []byte, s string) []byte {
	return append(binary.AppendUvarint(b, uint64(len(s))), s...)
}

func appendCount(b []byte, n int) []byte { return binary.AppendUvarint(b, uint64(n)) }

// front writes sorted texts, each without the letters it shares with the one
// before.
type front struct{ last string }

func (f *front) append(b []byte, text string) []byte {
	same := 0
	for same < len(f.last) && same < len(text) && f.last[same] == text[same] {
		same++
	}
	f.last = text
	return appendText(appendCount(b, same), text[same:])
}

// reader reads numbers and texts; after the first that does not fit it is bad
// and gives zeros.
type reader struct {
	b    []byte
	bad  bool
	last []byte // the text that fronted gave

	all string // where much is read and kept, as of a dictionary: all of it, so that texts are pieces of one string
}

func (r *reader) take(n uint64) []byte {
	if r.bad || n > uint64(len(r.b)) {
		r.bad = true
		return nil
	}
	out := r.b[:n]
	r.b = r.b[n:]
	return out
}

func (r *reader) uvarint() uint64 {
	if len(r.b) > 0 && r.b[0] < 0x80 && !r.bad { // most are short
		v := r.b[0]
		r.b = r.b[1:]
		return uint64(v)
	}
	v, n := binary.Uvarint(r.b)
	if n <= 0 {
		r.bad = true
	}
	if r.bad {
		return 0
	}
	r.b = r.b[n:]
	return v
}

// count reads how many things follow; each takes a byte or more.
func (r *reader) count() int {
	v := r.uvarint()
	if v > uint64(len(r.b)) {
		r.bad = true
	}
	if r.bad {
		return 0
	}
	return int(v)
}

// number reads a number below a limit.
func (r *reader) number(limit int) int {
	v := r.uvarint()
	if v >= uint64(limit) {
		r.bad = true
		return 0
	}
	return int(v)
}

func (r *reader) count32() int { return r.number(math.MaxInt32) }

func (r *reader) text() string { return r.piece(r.uvarint()) }

// piece reads so many bytes as a text.
func (r *reader) piece(n uint64) string {
	b := r.take(n)
	if r.all == "" {
		return string(b)
	}
	end := len(r.all) - len(r.b)
	return r.all[end-len(b) : end]
}

// appendColumn writes numbers whose count is known.
func appendColumn(b []byte, column []uint32) []byte {
	for _, v := range column {
		b = binary.AppendUvarint(b, uint64(v))
	}
	return b
}

// column reads n numbers below a thousand million. It goes by a place in the bytes, because most of
// what a dictionary holds is columns.
func (r *reader) column(n int) []uint32 {
	if n > len(r.b) { // each takes a byte or more
		r.bad = true
	}
	if r.bad {
		return nil
	}
	out, at := make([]uint32, n), 0
	for i := range out {
		if at < len(r.b) && r.b[at] < 0x80 { // most are short
			out[i] = uint32(r.b[at])
			at++
			continue
		}
		var v uint64
		if v, at = number(r.b, at); at > len(r.b) || v >= 1e9 {
			r.bad = true
			return nil
		}
		out[i] = uint32(v)
	}
	r.b = r.b[at:]
	return out
}

// fronted reads what front wrote; the bytes are good until the next call. Texts
// that do not rise are bad.
func (r *reader) fronted(first bool) []byte {
	same := r.uvarint()
	rest := r.take(r.uvarint())
	if r.bad || same > uint64(len(r.last)) || first && same > 0 ||
		!first && (len(rest) == 0 || uint64(len(r.last)) > same && r.last[same] >= rest[0]) {
		r.bad = true
		return nil
	}
	r.last = append(r.last[:same], rest...)
	return r.last
}

func (r *reader) u64() uint64 {
	if b := r.take(8); b != nil {
		return binary.BigEndian.Uint64(b)
	}
	return 0
}

func (r *reader) end() error {
	if r.bad || len(r.b) > 0 {
		return errDamaged
	}
	return nil
}
