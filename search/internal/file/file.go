// Package file holds what the writer and the reader of an index must agree on:
// the names of the fields, the record stored with a note, and the statistics.
//
// An index is a set of parts, each a zap segment with its own checksum, and one
// file of statistics, which names the checksum of each part so that files of two
// publishings are never mixed.
package file

import (
	"encoding/binary"
	"errors"
	"hash/crc32"
	"math"
	"slices"
	"strconv"

	"faultleaf/search/speech"
)

// Fields are the fields of words, in the order of Stats.Mean.
var Fields = [...]string{"title", "symptoms", "cause", "device", "text"}

// The further fields of a segment. Note is stored and not indexed; KindOf,
// DeviceIDs and Likes hold one whole value; Complaints holds ids of complaints,
// each as often as Strength times how strongly the note is about it.
const (
	Note       = "note"
	KindOf     = "kind"
	DeviceIDs  = "device-id"
	Likes      = "like"
	Complaints = "complaint"
)

// Strength is how often an id stands in Complaints for the strongest note.
const Strength = 20

// Record is what is stored with a note, to show it.
type Record struct {
	Kind, Title, Address, Device, DeviceTitle, Text, FirstTest, FirstMinutes, Hazard, Like string
	Symptoms                                                                               []Symptom
}

// Symptom is a spoken sentence and the complaints that it is.
type Symptom struct {
	Says string
	Is   []speech.Weighted
}

func (r *Record) texts() []*string {
	return []*string{&r.Kind, &r.Title, &r.Address, &r.Device, &r.DeviceTitle, &r.Text, &r.FirstTest, &r.FirstMinutes, &r.Hazard, &r.Like}
}

// Bytes writes the record.
func (r *Record) Bytes() []byte {
	var b []byte
	for _, s := range r.texts() {
		b = appendText(b, *s)
	}
	b = binary.AppendUvarint(b, uint64(len(r.Symptoms)))
	for _, s := range r.Symptoms {
		b = appendText(b, s.Says)
		b = appendWeighted(b, s.Is)
	}
	return b
}

// ReadRecord reads what Bytes wrote.
func ReadRecord(b []byte) (*Record, error) {
	var r Record
	in := reader{b: b}
	for _, s := range r.texts() {
		*s = in.text()
	}
	for n := in.count(); n > 0; n-- {
		r.Symptoms = append(r.Symptoms, Symptom{in.text(), in.weighted()})
	}
	return &r, in.end()
}

// Term is one unstemmed word and the number of notes that hold it.
type Term struct {
	Text string
	Docs int
}

// Stats describe all parts together.
type Stats struct {
	Words uint32               // words.Fingerprint when the index was written
	Docs  int                  // notes in all parts
	Parts []uint32             // checksum of each part, in order
	Mean  [len(Fields)]float64 // words of each field, over the notes that have any in it
	Terms []Term               // sorted by text; for unfinished words and slips
	Heard speech.Vocabulary    // what can be heard in a query
}

// magic begins a file of statistics; its last letter counts the versions.
const magic = "fls2"

// Bytes writes the statistics, their checksum last.
func (s *Stats) Bytes() []byte {
	b := []byte(magic)
	b = binary.BigEndian.AppendUint32(b, s.Words)
	b = binary.AppendUvarint(b, uint64(s.Docs))
	b = binary.AppendUvarint(b, uint64(len(s.Parts)))
	for _, crc := range s.Parts {
		b = binary.BigEndian.AppendUint32(b, crc)
	}
	for _, n := range s.Mean {
		b = binary.BigEndian.AppendUint64(b, math.Float64bits(n))
	}
	b = binary.AppendUvarint(b, uint64(len(s.Terms)))
	last := ""
	for _, t := range s.Terms {
		same := 0 // letters shared with the word before
		for same < len(last) && same < len(t.Text) && last[same] == t.Text[same] {
			same++
		}
		b = binary.AppendUvarint(b, uint64(same))
		b = appendText(b, t.Text[same:])
		b = binary.AppendUvarint(b, uint64(t.Docs))
		last = t.Text
	}
	b = appendVocabulary(b, &s.Heard)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b))
}

var errDamaged = errors.New("the statistics of the search index are damaged; publish again")

// ReadStats reads and checks what Bytes wrote.
func ReadStats(b []byte) (*Stats, error) {
	if len(b) < len(magic)+4 || string(b[:len(magic)]) != magic {
		return nil, errors.New("this is not a file of search statistics; publish again")
	}
	body, sum := b[:len(b)-4], binary.BigEndian.Uint32(b[len(b)-4:])
	if crc32.ChecksumIEEE(body) != sum {
		return nil, errDamaged
	}
	in := reader{b: body[len(magic):]}
	var s Stats
	s.Words = in.u32()
	s.Docs = in.count32()
	for n := in.count(); n > 0 && !in.bad; n-- {
		s.Parts = append(s.Parts, in.u32())
	}
	for i := range s.Mean {
		s.Mean[i] = math.Float64frombits(in.u64())
		if !(s.Mean[i] >= 0 && s.Mean[i] < 1e15) {
			in.bad = true
		}
	}
	var last []byte
	for n := in.count(); n > 0 && !in.bad; n-- {
		same := in.count32()
		if same > len(last) {
			return nil, errDamaged
		}
		last = append(last[:same], in.text()...)
		t := Term{string(last), in.count32()}
		if k := len(s.Terms); k > 0 && s.Terms[k-1].Text >= t.Text {
			in.bad = true
		}
		s.Terms = append(s.Terms, t)
	}
	in.vocabulary(&s.Heard)
	if in.end() != nil {
		return nil, errDamaged
	}
	return &s, nil
}

// footer is the length in bytes of the end of a zap segment, version 16: five
// big-endian uint64 (documents, stored index, fields index, sections index, doc
// values) and three uint32 (chunk mode, version, checksum of all before it).
const footer = 52

// Footer is the part of it that opening a segment needs.
type Footer struct {
	Body             []byte // the segment without its footer
	Docs             uint64
	Stored, Sections uint64 // offsets into Body
	Chunks           uint32
	CRC              uint32
}

// ReadFooter checks a segment's checksum and bounds, because zapx does not.
func ReadFooter(part []byte) (*Footer, error) {
	n := len(part) - footer
	if n < 0 {
		return nil, errors.New("the file is too short (" + strconv.Itoa(len(part)) + " bytes)")
	}
	end, be := part[n:], binary.BigEndian
	f := Footer{Body: part[:n:n], Docs: be.Uint64(end), Stored: be.Uint64(end[8:]), Sections: be.Uint64(end[24:]),
		Chunks: be.Uint32(end[40:]), CRC: be.Uint32(end[48:])}
	switch {
	case crc32.ChecksumIEEE(part[:len(part)-4]) != f.CRC:
		return nil, errors.New("its checksum is wrong")
	case be.Uint32(end[44:]) != 16:
		return nil, errors.New("it is of another version")
	case f.Docs > uint64(n)/8 || f.Stored > uint64(n)-8*f.Docs || f.Sections == 0 || f.Sections >= uint64(n):
		return nil, errors.New("its offsets point outside the file")
	}
	return &f, nil
}

// SortSections puts the sections of each field of a segment in order of their
// numbers and renews the checksum. zapx writes them in the order of a map, which
// is another one at each run.
func SortSections(part []byte) error {
	f, err := ReadFooter(part)
	if err != nil {
		return err
	}
	const entry = 2 + 8 // number of the section, its address
	in := reader{b: f.Body[f.Sections:]}
	for n := in.count(); n > 0 && !in.bad; n-- {
		at := in.u64()
		if at >= uint64(len(f.Body)) {
			return errDamaged
		}
		field := reader{b: f.Body[at:]}
		field.text() // its name
		k := field.count()
		if field.bad || k*entry > len(field.b) {
			return errDamaged
		}
		var list [][entry]byte
		for i := range k {
			list = append(list, [entry]byte(field.b[i*entry:]))
		}
		slices.SortFunc(list, func(a, b [entry]byte) int { return slices.Compare(a[:], b[:]) })
		for i := range k {
			copy(field.b[i*entry:], list[i][:])
		}
	}
	if in.bad {
		return errDamaged
	}
	binary.BigEndian.PutUint32(part[len(part)-4:], crc32.ChecksumIEEE(part[:len(part)-4]))
	return nil
}

func appendText(b []byte, s string) []byte {
	return append(binary.AppendUvarint(b, uint64(len(s))), s...)
}

// reader reads numbers and texts; after the first that does not fit it is bad
// and gives zeros.
type reader struct {
	b   []byte
	bad bool
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

func (r *reader) count32() int {
	v := r.uvarint()
	if v > math.MaxInt32 {
		r.bad = true
		return 0
	}
	return int(v)
}

func (r *reader) text() string { return string(r.take(r.uvarint())) }

func (r *reader) u32() uint32 {
	if b := r.take(4); b != nil {
		return binary.BigEndian.Uint32(b)
	}
	return 0
}

func (r *reader) u64() uint64 {
	if b := r.take(8); b != nil {
		return binary.BigEndian.Uint64(b)
	}
	return 0
}

func (r *reader) end() error {
	if r.bad || len(r.b) > 0 {
		return errors.New("a stored note of the search index is damaged; publish again")
	}
	return nil
}
