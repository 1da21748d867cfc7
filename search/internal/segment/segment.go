// Package segment turns notes into a bleve segment and reads its postings. The
// writer of an index takes them from there; a test asks a segment of all notes the
// same questions as the finished index.
package segment

import (
	"math"
	"slices"
	"strings"

	"github.com/blevesearch/bleve/v2/analysis"
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
	Seen   map[string]int             // unstemmed words, and in how many notes each stands
}

const complaint = "complaint" // the field behind those of words

// New makes the segment of some notes.
func New(notes []Note, lexicon *words.Lexicon) (*Segment, error) {
	s := &Segment{Seen: map[string]int{}}
	var list []index.Document
	for _, n := range notes {
		doc := document.NewDocument(n.ID)
		seen := map[string]bool{}
		for f, name := range file.Fields {
			field := document.NewTextFieldCustom(name, nil, []byte(n.Fields[f]), index.IndexField, &analyzer{seen, lexicon})
			field.Analyze()
			s.Length[f] = append(s.Length[f], uint32(field.AnalyzedLength()))
			doc.AddField(field)
		}
		for text := range seen {
			s.Seen[text]++
		}
		if len(n.Complaints) > 0 {
			field := document.NewTextFieldCustom(complaint, nil, nil, index.IndexField, complaints(n.Complaints))
			field.Analyze()
			doc.AddField(field)
		}
		doc.AddIDField()
		doc.VisitFields(func(f index.Field) {
			if f.Name() == "_id" {
				f.Analyze()
			}
		})
		list = append(list, doc)
	}
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

// analyzer is search/words as bleve wants it: stemmed words, with the unstemmed
// ones noted beside.
type analyzer struct {
	seen    map[string]bool
	lexicon *words.Lexicon
}

func (a *analyzer) Analyze(text []byte) analysis.TokenStream {
	var out analysis.TokenStream
	for i, w := range a.lexicon.Split(string(text)) {
		if !w.Pair {
			a.seen[w.Text] = true
		}
		out = append(out, &analysis.Token{Term: []byte(w.Stem), Start: w.Start, End: w.End, Position: i + 1, Type: analysis.AlphaNumeric})
	}
	return out
}

// complaints gives each id as often as its note is about it.
type complaints []speech.Weighted

func (c complaints) Analyze([]byte) analysis.TokenStream {
	var out analysis.TokenStream
	for _, w := range c {
		for n := math.Round(file.Strength * min(w.Weight, 1)); n > 0; n-- {
			out = append(out, &analysis.Token{Term: []byte(w.Name), Position: len(out) + 1, Type: analysis.AlphaNumeric})
		}
	}
	return out
}
