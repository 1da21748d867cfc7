// Package search reads the index of the notes and answers a query, best first.
// The same code runs in the browser and on the command line.
//
// A search takes these steps:
//
//  1. Open checks the parts and the statistics (checksums, bounds, that all are of
//     one publishing) before anything in them is followed.
//  2. The query is cut into words by search/words, as the notes were. What is
//     asked for becomes a list of needs (query.go): a word, or a phrase that has
//     others of the same meaning, or the beginning of a word still being typed,
//     or the known words near a slip.
//  3. Each note is scored by BM25F over its fields (rank.go): title, symptoms,
//     cause, device and text.
//  4. The best are shown (show.go): the symptom that matched, a stretch of the
//     text, and where the words of the query stand in them.
package search

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"sync"

	segment "github.com/blevesearch/scorch_segment_api/v2"
	zap "github.com/blevesearch/zapx/v16"

	"faultleaf/search/internal/file"
	"faultleaf/search/words"
)

// Index is an opened index. It is safe for use by several goroutines.
type Index struct {
	parts  []part
	stats  *file.Stats
	prior  []float64       // by document: what its kind is worth
	letter func() []uint32 // by word of stats.Terms: the letters in it, for near

	keep     sync.Mutex
	readings map[int]*reading // of documents shown lately
}

// part is one segment; its documents are numbered on from base.
type part struct {
	seg  *zap.SegmentBase
	base int
}

// Open checks and opens the parts and the statistics that build.Write made.
// It keeps the byte slices; the caller must not change them.
func Open(parts [][]byte, stats []byte) (ix *Index, err error) {
	st, err := file.ReadStats(stats)
	if err != nil {
		return nil, err
	}
	if st.Words != words.Fingerprint() {
		return nil, errors.New("the search index was written by another version of this program; publish again")
	}
	if len(parts) != len(st.Parts) {
		return nil, fmt.Errorf("the search index has %d parts, but %d were given; publish again", len(st.Parts), len(parts))
	}
	ix = &Index{stats: st}
	n := 0
	for i, b := range parts {
		seg, err := openPart(b, st.Parts[i])
		if err != nil {
			return nil, fmt.Errorf("part %d of the search index cannot be read: %w; publish again", i+1, err)
		}
		ix.parts = append(ix.parts, part{seg, n})
		n += int(seg.Count())
	}
	if n != st.Docs {
		return nil, fmt.Errorf("the search index should hold %d notes but holds %d; publish again", st.Docs, n)
	}
	ix.prior = make([]float64, n)
	for i := range ix.prior {
		ix.prior[i] = 1
	}
	for kind, worth := range kindWorth {
		for _, doc := range ix.whole(file.KindOf, kind) {
			ix.prior[doc] = worth
		}
	}
	ix.letter = sync.OnceValue(func() []uint32 {
		out := make([]uint32, len(st.Terms))
		for i, t := range st.Terms {
			out[i] = letters(t.Text)
		}
		return out
	})
	return ix, nil
}

// openPart opens one segment. zapx follows offsets without looking where they
// lead; the checksum keeps accidents out, and what else panics is an error too.
func openPart(b []byte, crc uint32) (seg *zap.SegmentBase, err error) {
	defer func() {
		if r := recover(); r != nil {
			seg, err = nil, errors.New("it is damaged")
		}
	}()
	f, err := file.ReadFooter(b)
	if err != nil {
		return nil, err
	}
	if f.CRC != crc {
		return nil, errors.New("it belongs to another publishing")
	}
	seg, err = zap.InitSegmentBase(f.Body, f.CRC, f.Chunks, f.Docs, f.Stored, f.Sections)
	if err != nil {
		return nil, err
	}
	for _, name := range append(file.Fields[:], file.KindOf, file.DeviceIDs) {
		if _, err := seg.Dictionary(name); err != nil {
			return nil, err
		}
	}
	return seg, nil
}

// whole lists the documents whose field holds this whole value.
func (ix *Index) whole(field, value string) []int {
	var out []int
	for _, p := range ix.parts {
		dict, err := p.seg.Dictionary(field)
		if err != nil {
			continue
		}
		p.each(dict, value, func(doc int, _ *zap.Posting) { out = append(out, doc) })
	}
	return out
}

// each visits the documents of a part that hold a term.
func (p part) each(dict segment.TermDictionary, term string, visit func(doc int, at *zap.Posting)) {
	list, err := dict.PostingsList([]byte(term), nil, nil)
	if err != nil {
		return
	}
	it := list.Iterator(true, true, false, nil)
	for {
		next, err := it.Next()
		at, ok := next.(*zap.Posting)
		if err != nil || !ok || at == nil || at.Number() >= p.seg.Count() {
			return
		}
		visit(p.base+int(at.Number()), at)
	}
}

// id gives a document's ID.
func (ix *Index) id(doc int) string {
	p := ix.partOf(doc)
	b, err := p.seg.DocID(uint64(doc - p.base))
	if err != nil {
		return ""
	}
	return string(b)
}

func (ix *Index) partOf(doc int) part {
	i := len(ix.parts) - 1
	for ix.parts[i].base > doc {
		i--
	}
	return ix.parts[i]
}

// record reads what is stored with a document.
func (ix *Index) record(doc int) (*file.Record, error) {
	p := ix.partOf(doc)
	var r *file.Record
	err := p.seg.VisitStoredFields(uint64(doc-p.base), func(field string, _ byte, value []byte, _ []uint64) bool {
		if field == file.Note {
			r, _ = file.ReadRecord(value) // which copies; the buffer goes to the next reader
		}
		return true
	})
	if err == nil && r == nil {
		err = errors.New("nothing is stored")
	}
	return r, err
}

// Search returns the notes that answer the query, best first, equal ones by ID.
func (ix *Index) Search(query string, o Options) []Hit {
	if o.Limit <= 0 {
		o.Limit = 10
	}
	q := ix.ask(query, o.Typing)
	scores := ix.score(q)
	limit := o.Limit
	o.Limit = max(limit, 10)
	var hits []Hit
	for _, r := range ix.best(scores, o) {
		if h, ok := ix.show(q, r); ok {
			if q.named(h.Title) {
				h.Score *= namedWorth
			}
			hits = append(hits, h)
		}
	}
	slices.SortStableFunc(hits, func(a, b Hit) int { return cmp.Compare(b.Score, a.Score) })
	return hits[:min(limit, len(hits))]
}

// namedWorth is for a note whose whole title was asked for: it is looked for by
// its name.
const namedWorth = 1.3

// named says whether the query is the title.
func (q *question) named(title string) bool {
	return slices.EqualFunc(q.plain, words.Plain(words.Split(title)), func(a, b words.Word) bool { return a.Stem == b.Stem })
}

// best picks the highest scores among the notes that the options allow.
func (ix *Index) best(scores []float64, o Options) []ranked {
	allowed := func(int) bool { return true }
	for _, narrow := range [...]struct{ field, value string }{{file.DeviceIDs, o.Device}, {file.KindOf, o.Kind}} {
		if narrow.value == "" {
			continue
		}
		set, before := map[int]bool{}, allowed
		for _, doc := range ix.whole(narrow.field, narrow.value) {
			set[doc] = true
		}
		allowed = func(doc int) bool { return set[doc] && before(doc) }
	}
	var top []ranked
	for doc, s := range scores {
		if s <= 0 || !allowed(doc) || len(top) == o.Limit && s < top[len(top)-1].score {
			continue
		}
		r := ranked{doc: doc, score: s}
		at := len(top)
		for at > 0 && ix.before(r, top[at-1]) {
			at--
		}
		if len(top) < o.Limit {
			top = append(top, r)
		} else if at == len(top) {
			continue
		}
		copy(top[at+1:], top[at:])
		top[at] = r
	}
	return top
}

type ranked struct {
	doc   int
	score float64
}

// before orders by score. Equal scores go by ID, which does not depend on how
// the notes were dealt to parts.
func (ix *Index) before(a, b ranked) bool {
	if a.score != b.score {
		return a.score > b.score
	}
	return ix.id(a.doc) < ix.id(b.doc)
}
