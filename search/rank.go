package search

import (
	"math"
	"slices"

	segment "github.com/blevesearch/scorch_segment_api/v2"
	zap "github.com/blevesearch/zapx/v16"

	"faultleaf/search/internal/file"
	"faultleaf/search/words"
)

// The ranking is BM25F: Robertson, Zaragoza and Taylor, "Simple BM25 extension to
// multiple weighted fields", CIKM 2004. The frequencies of a word in the fields
// are weighted and brought to equal length before they are summed, and the sum
// is saturated once. Lengths are measured against the true mean of the notes that
// have the field: pages without a device must not make each device's name long.
//
// Tried on Cranfield (nDCG@10, relevant or not, with the last row of each question
// dropped) and on known items among repair records (mean reciprocal rank), see
// search/judge:
//
//	saturation 1.2 / 1.5 / 1.8 / 2.2, title and symptoms at 2:   .395 .398 .402 .403
//	title at 1 / 1.5 / 2 / 3, saturation 1.5:                    .395 .397 .398 .403
//	title and symptoms at 2.5, saturation 2:                     .403, records .69
//	the same with the symptoms' length counting 0.6, not 0.4:    .403, records .68
//	text's length counting 0.6 / 0.75 / 0.9:                     .399 .398 .399
//
// Cause and device are not in those collections; their weights are our choice, kept
// by the queries of testdata.
var (
	fieldWeight = [len(file.Fields)]float64{2.5, 2.5, 1.2, 1.5, 1}    // title, symptoms, cause, device, text
	fieldLength = [len(file.Fields)]float64{0.4, 0.4, 0.5, 0.3, 0.75} // 0: length does not count, 1: it counts wholly
	saturation  = 2.0

	// kindWorth puts the note that names a cause before the pages around it when
	// both match alike.
	kindWorth = map[string]float64{"device": 0.9, "block": 0.8, "checklist": 0.85, "job": 0.5, "page": 0.75, "calculator": 0.6}
)

// spelling is one stem that a term may be found under, and what it counts.
type spelling struct {
	stem  string
	worth float64
	text  string // unstemmed, where one word gave it
}

// term is a word asked for, under one spelling or several: those of a word still
// being typed, or the known words near a slip. Several count as one word.
type term struct {
	spellings []spelling
	worth     float64
	found     []found // by document
	idf       float64
}

// found is how well a term is found in a document, from 0 to saturation+1.
type found struct {
	doc   int
	value float64
}

// one is the term of one stem.
func (q *question) one(stem string, worth float64) *term {
	return q.term(worth, spelling{stem, 1, ""})
}

func (q *question) term(worth float64, list ...spelling) *term {
	t := &term{spellings: list, worth: worth}
	if len(list) == 1 {
		t.found = q.find(list[0].stem)
	} else {
		best := map[int]float64{}
		for _, s := range list {
			for _, f := range q.find(s.stem) {
				best[f.doc] = max(best[f.doc], float64(s.worth*f.value))
			}
		}
		for doc, v := range best {
			t.found = append(t.found, found{doc, v})
		}
		slices.SortFunc(t.found, func(a, b found) int { return a.doc - b.doc })
	}
	n := float64(len(t.found))
	t.idf = math.Log(1 + (float64(q.ix.stats.Docs)-n+0.5)/(n+0.5))
	return t
}

// value is what the term adds to a document's score.
func (t *term) value(doc int) (v float64, ok bool) {
	i, ok := slices.BinarySearchFunc(t.found, doc, func(f found, doc int) int { return f.doc - doc })
	if !ok {
		return 0, false
	}
	return t.at(i), true
}

func (t *term) at(i int) float64 { return float64(t.worth * float64(t.idf*t.found[i].value)) }

// titleField is the field of titles among file.Fields.
const titleField = 0

// find looks a stem up in every field of every part.
func (q *question) find(stem string) []found {
	if out, ok := q.cache[stem]; ok {
		return out
	}
	out := q.findIn(-1, stem)
	q.cache[stem] = out
	return out
}

// findIn looks a stem up in one field of every part, or in every one for -1.
func (q *question) findIn(field int, stem string) []found {
	var out []found
	for i, p := range q.ix.parts {
		start := len(out)
		for f := range file.Fields {
			if field >= 0 && f != field {
				continue
			}
			dict := q.dict(i, f)
			if dict == nil || q.ix.stats.Mean[f] == 0 {
				continue
			}
			p.each(dict, stem, func(doc int, at *zap.Posting) {
				length := float64(at.NormUint64()) / q.ix.stats.Mean[f]
				tf := float64(fieldWeight[f]*float64(at.Frequency())) / (1 - fieldLength[f] + float64(fieldLength[f]*length))
				out = append(out, found{doc, tf})
			})
		}
		// Sum the fields of each document.
		here := out[start:]
		slices.SortStableFunc(here, func(a, b found) int { return a.doc - b.doc })
		n := 0
		for _, f := range here {
			if n > 0 && here[n-1].doc == f.doc {
				here[n-1].value += f.value
			} else {
				here[n] = f
				n++
			}
		}
		out = out[:start+n]
	}
	for i, f := range out {
		out[i].value = float64((saturation+1)*f.value) / (saturation + f.value)
	}
	return out
}

// dict gives the words of a field of a part. A dictionary keeps a reading
// position, so each question has its own.
func (q *question) dict(part, field int) segment.TermDictionary {
	at := part*len(file.Fields) + field
	if q.dicts[at] == nil {
		d, err := q.ix.parts[part].seg.Dictionary(file.Fields[field])
		if err != nil {
			return nil
		}
		q.dicts[at] = d
	}
	return q.dicts[at]
}

// score adds up what each need finds in each document.
func (ix *Index) score(q *question) []float64 {
	total := make([]float64, ix.stats.Docs)
	best := make([]float64, len(total)) // of the ways of one need
	sum := make([]float64, len(total))
	for _, n := range q.needs {
		clear(best)
		for _, w := range n.ways {
			clear(sum)
			for _, t := range w.may {
				for i, f := range t.found {
					sum[f.doc] += t.at(i)
				}
			}
			if len(w.must) > 0 {
				for i, f := range w.must[0].found {
					if v, ok := w.all(f.doc, w.must[0].at(i)); ok {
						sum[f.doc] += v
					}
				}
			}
			for doc, v := range sum {
				best[doc] = max(best[doc], v)
			}
		}
		for doc, v := range best {
			total[doc] += v
		}
	}
	q.add(total)
	for doc, v := range total {
		total[doc] = rounded(v)
	}
	return total
}

// rounded takes off the last bits of a score, which differ between machines and
// would put equal notes into another order.
func rounded(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// all is what the words of a phrase add, if the document holds every one.
func (w *way) all(doc int, first float64) (v float64, ok bool) {
	v = first
	for _, t := range w.must[1:] {
		add, ok := t.value(doc)
		if !ok {
			return 0, false
		}
		v += add
	}
	return float64(w.worth * v), true
}

// score of one document by one way.
func (w *way) score(doc int) (v float64) {
	for _, t := range w.may {
		add, _ := t.value(doc)
		v += add
	}
	if len(w.must) > 0 {
		if first, ok := w.must[0].value(doc); ok {
			if all, ok := w.all(doc, first); ok {
				v += all
			}
		}
	}
	return v
}

// stemOf is the stem of an unstemmed word of the statistics.
func stemOf(text string) string { return words.Stem(text) }
