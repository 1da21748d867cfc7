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
//  3. search/speech hears which thing is named, what is complained of and what
//     was tried (heard.go). Words that are understood count less as words.
//  4. Each note is scored (rank.go): by BM25F over its fields (title, symptoms,
//     cause, device and text), by how strongly it is about the complaints, and by
//     whether it is of the device that was named.
//  5. The best are shown (show.go): the symptom that was asked for, a stretch of
//     the text, and where the words of the query stand in them.
package search

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"sync"

	segment "github.com/blevesearch/scorch_segment_api/v2"
	"github.com/blevesearch/vellum"
	zap "github.com/blevesearch/zapx/v16"

	"faultleaf/search/internal/file"
	"faultleaf/search/speech"
	"faultleaf/search/words"
)

// Index is an opened index. It is safe for use by several goroutines.
type Index struct {
	parts  []part
	stats  *file.Stats
	ear    *speech.Listener
	terms  []file.Term     // words of the notes and of what can be heard, sorted
	prior  []float64       // by document: what its kind is worth
	kind   []string        // by document
	like   []string        // by document: the common fault it is a case of, or ""
	device []int           // by document: which of ear.Devices it is of, -1 for none
	about  [][]found       // by complaint: the notes about it, and how strongly
	rare   []float64       // by complaint: how much it tells
	letter func() []uint32 // by word of terms: the letters in it, for near

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
	ix.prior, ix.kind, ix.like, ix.device = make([]float64, n), make([]string, n), make([]string, n), make([]int, n)
	ix.values(file.KindOf, func(kind string, doc int) { ix.kind[doc] = kind })
	ix.values(file.Likes, func(like string, doc int) { ix.like[doc] = like })
	for i := range ix.prior {
		ix.prior[i], ix.device[i] = 1, -1
		if worth, ok := kindWorth[ix.kind[i]]; ok {
			ix.prior[i] = worth
		}
	}
	ix.hears()
	ix.letter = sync.OnceValue(func() []uint32 {
		out := make([]uint32, len(ix.terms))
		for i, t := range ix.terms {
			out[i] = letters(t.Text)
		}
		return out
	})
	return ix, nil
}

// hears makes ready what is known of how people speak.
func (ix *Index) hears() {
	ix.ear = speech.Listen(ix.stats.Heard)
	ix.terms = slices.Clone(ix.stats.Terms)
	for _, text := range ix.ear.Terms() {
		if _, stands := known(ix.stats.Terms, text); !stands {
			ix.terms = append(ix.terms, file.Term{Text: text, Docs: spokenDocs})
		}
	}
	slices.SortFunc(ix.terms, func(a, b file.Term) int { return strings.Compare(a.Text, b.Text) })
	ix.values(file.DeviceIDs, func(device string, doc int) { ix.device[doc] = ix.deviceNumber(device) })
	own := make([]map[int]float64, len(ix.ear.Complaints))
	number := map[string]int{}
	for i, c := range ix.ear.Complaints {
		number[c.ID] = i
		own[i] = map[int]float64{}
		n := 0.0
		for _, f := range ix.strengths(c.ID) {
			own[i][f.doc] = f.value
			n += f.value
		}
		ix.rare = append(ix.rare, math.Log(1+(float64(ix.stats.Docs)-n+0.5)/(n+0.5)))
	}
	for i, c := range ix.ear.Complaints {
		best := own[i]
		if len(c.Finds) > 0 {
			best = maps.Clone(own[i])
		}
		for _, f := range c.Finds {
			if k, ok := number[f.Name]; ok {
				for doc, v := range own[k] {
					best[doc] = max(best[doc], float64(f.Weight*v))
				}
			}
		}
		list := make([]found, 0, len(best))
		for doc, v := range best {
			list = append(list, found{doc, v})
		}
		slices.SortFunc(list, func(a, b found) int { return a.doc - b.doc })
		ix.about = append(ix.about, list)
	}
}

// spokenDocs is in how many notes a word counts as standing that is only spoken:
// among the words near a slip, it comes before rare ones.
const spokenDocs = 5

// strengths lists the notes that are about a complaint, and how strongly.
func (ix *Index) strengths(id string) []found {
	var out []found
	for _, p := range ix.parts {
		dict, err := p.seg.Dictionary(file.Complaints)
		if err != nil {
			continue
		}
		p.each(dict, id, func(doc int, at *zap.Posting) {
			out = append(out, found{doc, min(float64(at.Frequency())/file.Strength, 1)})
		})
	}
	return out
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
	for _, name := range append(file.Fields[:], file.KindOf, file.DeviceIDs, file.Likes, file.Complaints) {
		if _, err := seg.Dictionary(name); err != nil {
			return nil, err
		}
	}
	return seg, nil
}

// values visits every whole value of a field and the documents that have it.
func (ix *Index) values(field string, visit func(value string, doc int)) {
	for _, p := range ix.parts {
		dict, err := p.seg.Dictionary(field)
		if err != nil {
			continue
		}
		it := dict.AutomatonIterator(&vellum.AlwaysMatch{}, nil, nil)
		for {
			next, err := it.Next()
			if err != nil || next == nil {
				break
			}
			p.each(dict, next.Term, func(doc int, _ *zap.Posting) { visit(next.Term, doc) })
		}
	}
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

// Search gives the hits of Ask.
func (ix *Index) Search(query string, o Options) []Hit { return ix.Ask(query, o).Hits }

// Ask answers a query: the notes, best first, equal ones by ID; how they may be
// narrowed; and what was understood.
func (ix *Index) Ask(query string, o Options) Answer {
	if o.Limit <= 0 {
		o.Limit = 10
	}
	q := ix.ask(query, o)
	scores := ix.score(q)
	a := Answer{Heard: q.answer(), Devices: ix.devices(q, scores), Kinds: ix.kinds(scores, o)}
	list := ix.best(scores, o, o.Limit+spare)
	if o.Device == "" && slices.Max(append(q.named, 0)) < means {
		ix.spread(list)
	}
	a.Hits = ix.fold(q, list, o.Limit)
	if a.Heard.Shut && o.Device == "" && o.Kind == "" && len(a.Hits) > 0 {
		a.Heard.Shut = q.shut[a.Hits[0].ID]
	}
	return a
}

// spare is how many notes are ranked beyond those asked for, because notes of one
// common fault fold into one hit.
const spare = 30

// best picks the n highest scores among the notes that the options allow.
func (ix *Index) best(scores []float64, o Options, n int) []ranked {
	device := ix.deviceNumber(o.Device)
	var top []ranked
	for doc, s := range scores {
		if s <= 0 || o.Device != "" && (device < 0 || ix.device[doc] != device) || o.Kind != "" && ix.kind[doc] != o.Kind ||
			len(top) == n && s < top[len(top)-1].score {
			continue
		}
		r := ranked{doc: doc, score: s}
		at := len(top)
		for at > 0 && ix.before(r, top[at-1]) {
			at--
		}
		if len(top) < n {
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

func (ix *Index) deviceNumber(name string) int {
	return slices.IndexFunc(ix.ear.Devices, func(d speech.Device) bool { return d.Name == name })
}

// Devices lists the devices that have notes, by name.
func (ix *Index) Devices() []Choice {
	var out []Choice
	for _, d := range ix.ear.Devices {
		out = append(out, Choice(d))
	}
	return out
}

// Kinds lists the kinds of notes there are.
func (ix *Index) Kinds() []Choice {
	var out []Choice
	for _, k := range kinds {
		if slices.Contains(ix.kind, k.Name) {
			out = append(out, k)
		}
	}
	return out
}

// kinds of notes, in the order in which they are offered.
var kinds = []Choice{{"fault", "faults"}, {"device", "devices"}, {"block", "common blocks"}, {"checklist", "checklists"},
	{"calculator", "calculators"}, {"job", "job sheets"}, {"page", "pages"}}

// kinds lists the kinds of what was found.
func (ix *Index) kinds(scores []float64, o Options) []Choice {
	device := ix.deviceNumber(o.Device)
	there := map[string]bool{}
	for doc, s := range scores {
		if s > 0 && (o.Device == "" || ix.device[doc] == device) {
			there[ix.kind[doc]] = true
		}
	}
	var out []Choice
	for _, k := range kinds {
		if there[k.Name] {
			out = append(out, k)
		}
	}
	return out
}

// devices lists whose notes were found: of a device that was named first, then by
// the sum of what the notes scored.
func (ix *Index) devices(q *question, scores []float64) []Choice {
	sum := make([]float64, len(ix.ear.Devices))
	for doc, s := range scores {
		if d := ix.device[doc]; d >= 0 {
			sum[d] += s
		}
	}
	var order []int
	for d, s := range sum {
		if s > 0 {
			order = append(order, d)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(q.named[b], q.named[a]), cmp.Compare(sum[b], sum[a]))
	})
	var out []Choice
	for _, d := range order {
		out = append(out, Choice(ix.ear.Devices[d]))
	}
	return out
}

// fold shows the ranked notes; those of one common fault become one hit: that of
// the device that was named, else the best of them, which is the block's own where
// nothing was said of a device.
func (ix *Index) fold(q *question, list []ranked, limit int) []Hit {
	var hits []Hit
	at := map[string]int{} // the hit of a common fault
	named := []float64{}   // how surely each hit's device was named
	for _, r := range list {
		if ix.like[r.doc] == "" {
			if len(hits) == limit {
				continue
			}
			if h, ok := ix.show(q, r); ok {
				hits, named = append(hits, h), append(named, 0)
			}
			continue
		}
		i, twin := at[ix.like[r.doc]]
		if !twin && len(hits) == limit {
			continue
		}
		h, ok := ix.show(q, r)
		if !ok {
			continue
		}
		surely := 0.0
		if d := ix.device[r.doc]; d >= 0 {
			surely = q.named[d]
		}
		switch {
		case !twin:
			at[ix.like[r.doc]] = len(hits)
			hits, named = append(hits, h), append(named, surely)
		case surely > named[i]:
			h.Score, h.Also = hits[i].Score, append([]Also{{hits[i].DeviceTitle, hits[i].Address}}, hits[i].Also...)
			hits[i], named[i] = h, surely
		default:
			hits[i].Also = append(hits[i].Also, Also{h.DeviceTitle, h.Address})
		}
	}
	return hits
}

// spread lets the notes of one device that follow its best count for less, where
// no device was named: what was said may well be of another.
func (ix *Index) spread(list []ranked) {
	seen := make([]int, len(ix.ear.Devices))
	for i, r := range list {
		if d := ix.device[r.doc]; d >= 0 {
			list[i].score = rounded(r.score * math.Pow(spreadWorth, float64(seen[d])))
			seen[d]++
		}
	}
	slices.SortStableFunc(list, func(a, b ranked) int { return cmp.Compare(b.score, a.score) })
}
