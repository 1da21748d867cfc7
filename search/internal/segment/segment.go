// Package segment turns notes into a bleve segment and reads its postings. The
// writer of an index takes them from there; a test asks a segment of all notes the
// same questions as the finished index.
package segment

import (
	"math"
	"slices"
	"strings"

	"github.com/blevesearch/bleve/v2/document"
	index "github.com/blevesearch/bleve_index_api"
	api "github.com/blevesearch/scorch_segment_api/v2"
	"github.com/blevesearch/vellum"
	zap "github.com/blevesearch/zapx/v16"

	"faultleaf/search/internal/file"
	"faultleaf/search/speech"
	"faultleaf/search/words"
)

// Note is what a note gives to the index.
type Note struct {
	ID         string
	Fields     [len(file.Fields)]string
	Complaints []speech.Weighted
}

// Segment holds the postings of some notes, numbered as they were given.
type Segment struct {
	seg   api.Segment
	dicts [len(file.Fields) + 1]api.TermDictionary

	Length [len(file.Fields)][]uint32 // words of each field, by note
	Seen   []file.Term                // unstemmed words, sorted, without their stems
}

const complaint = "complaint" // the field behind those of words

// Maker makes segments one after the other, each of which it leaves room for the
// next. It is not for several goroutines.
type Maker struct {
	words  *words.Splitter
	fields [len(file.Fields) + 1]*document.TextField // their names and options

	freqs []index.TokenFrequencies // for the next notes; the first used are in use
	used  int
	slab  []index.TokenFreq // those left of the last block
}

// NewMaker gives one that takes words apart as a lexicon says.
func NewMaker(lexicon *words.Lexicon) *Maker {
	m := &Maker{words: lexicon.Splitter()}
	for f, name := range append(file.Fields[:], complaint) {
		m.fields[f] = document.NewTextFieldCustom(name, nil, nil, index.IndexField, nil)
	}
	return m
}

// seen is in how many notes a word stands, and the last of them.
type seen struct{ notes, last int }

// New makes the segment of some notes.
func (m *Maker) New(notes []Note) (*Segment, error) {
	s := &Segment{}
	m.used = 0
	stand := map[string]*seen{}
	var list []index.Document
	for i, n := range notes {
		doc := document.NewDocument(n.ID)
		for f, text := range n.Fields {
			out := m.field(f)
			for _, w := range m.words.Split(text) {
				m.count(out, w.Stem, 1)
				if w.Pair {
					continue
				}
				at := stand[w.Text]
				if at == nil {
					at = &seen{last: -1}
					stand[w.Text] = at
				}
				if at.last < i {
					at.notes, at.last = at.notes+1, i
				}
			}
			s.Length[f] = append(s.Length[f], uint32(out.length))
			doc.AddField(out)
		}
		if len(n.Complaints) > 0 { // each id as often as its note is about it
			out := m.field(len(file.Fields))
			for _, w := range n.Complaints {
				if times := int(math.Round(file.Strength * min(w.Weight, 1))); times > 0 {
					m.count(out, w.Name, times)
				}
			}
			doc.AddField(out)
		}
		doc.AddIDField()
		doc.VisitFields(func(f index.Field) {
			if f.Name() == "_id" {
				f.Analyze()
			}
		})
		list = append(list, doc)
	}
	for text, at := range stand {
		s.Seen = append(s.Seen, file.Term{Text: text, Docs: at.notes})
	}
	slices.SortFunc(s.Seen, func(a, b file.Term) int { return strings.Compare(a.Text, b.Text) })
	seg, _, err := new(zap.ZapPlugin).New(list)
	if err != nil {
		return nil, err
	}
	s.seg = seg
	for f, name := range append(file.Fields[:], complaint) {
		if s.dicts[f], err = seg.Dictionary(name); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// analysed is a field of a note as bleve takes it, with its words counted.
type analysed struct {
	*document.TextField
	length int
	freqs  index.TokenFrequencies
}

func (a *analysed) Analyze()                                         {}
func (a *analysed) AnalyzedLength() int                              { return a.length }
func (a *analysed) AnalyzedTokenFrequencies() index.TokenFrequencies { return a.freqs }

// field begins a field of a note.
func (m *Maker) field(f int) *analysed {
	if m.used == len(m.freqs) {
		m.freqs = append(m.freqs, index.TokenFrequencies{})
	}
	out := &analysed{TextField: m.fields[f], freqs: m.freqs[m.used]}
	m.used++
	clear(out.freqs)
	return out
}

// count counts a word of a field, so many times.
func (m *Maker) count(a *analysed, term string, times int) {
	a.length += times
	t := a.freqs[term]
	if t == nil {
		if len(m.slab) == 0 {
			m.slab = make([]index.TokenFreq, 1024)
		}
		t, m.slab = &m.slab[0], m.slab[1:]
		a.freqs[term] = t
	}
	t.SetFrequency(t.Frequency() + times)
}

// Stems lists every stem of the segment, and the complaints as file.Complaint names
// them, sorted.
func (s *Segment) Stems() ([]string, error) {
	there := map[string]bool{}
	for f, dict := range s.dicts {
		it := dict.AutomatonIterator(&vellum.AlwaysMatch{}, nil, nil)
		for {
			next, err := it.Next()
			if err != nil {
				return nil, err
			}
			if next == nil {
				break
			}
			if f == len(file.Fields) {
				there[file.Complaint(next.Term)] = true
			} else {
				there[next.Term] = true
			}
		}
	}
	out := make([]string, 0, len(there))
	for stem := range there {
		out = append(out, stem)
	}
	slices.Sort(out)
	return out, nil
}

// Postings gives those of a stem, or of a complaint as file.Complaint names it. A
// segment keeps a reading position, so it is not for several goroutines.
func (s *Segment) Postings(stem string) ([]file.Posting, error) {
	if id, ok := strings.CutPrefix(stem, file.Complaint("")); ok {
		return s.of(nil, len(file.Fields), 0, id)
	}
	var out []file.Posting
	for f := range file.Fields {
		var err error
		if out, err = s.of(out, f, f, stem); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(out, func(a, b file.Posting) int { return a.Doc - b.Doc })
	n := 0
	for _, p := range out { // the fields of one note together
		if n > 0 && out[n-1].Doc == p.Doc {
			for f := range p.Freq {
				out[n-1].Freq[f] += p.Freq[f]
			}
		} else {
			out[n] = p
			n++
		}
	}
	return out[:n], nil
}

// of adds the postings of a term in one of the segment's fields.
func (s *Segment) of(out []file.Posting, dict, field int, term string) ([]file.Posting, error) {
	list, err := s.dicts[dict].PostingsList([]byte(term), nil, nil)
	if err != nil {
		return nil, err
	}
	it := list.Iterator(true, false, false, nil)
	for {
		at, err := it.Next()
		if err != nil {
			return nil, err
		}
		if at == nil {
			return out, nil
		}
		p := file.Posting{Doc: int(at.Number())}
		p.Freq[field] = uint32(at.Frequency())
		out = append(out, p)
	}
}
