package search

import (
	"math"
	"slices"

	"faultleaf/search/internal/file"
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
	kindWorth = [...]struct {
		kind  string
		worth float64
	}{{"device", 0.9}, {"block", 0.8}, {"checklist", 0.85}, {"job", 0.5}, {"page", 0.75}, {"calculator", 0.6}}
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
	doc   int32
	title bool // the title holds it
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
		t.found = q.findAny(list)
	}
	n := float64(len(t.found))
	t.idf = math.Log(1 + (float64(q.ix.Docs())-n+0.5)/(n+0.5))
	return t
}

// value is what the term adds to a document's score.
func (t *term) value(doc int32) (v float64, ok bool) {
	i, ok := slices.BinarySearchFunc(t.found, doc, func(f found, doc int32) int { return int(f.doc - doc) })
	if !ok {
		return 0, false
	}
	return t.at(i), true
}

func (t *term) at(i int) float64 { return float64(t.worth * float64(t.idf*t.found[i].value)) }

// memory keeps what was found for words lately: while somebody types on, the
// finished words are not looked up again.
type memory struct {
	found recent[[]found]    // by stem, and by the spellings of a word
	near  recent[neighbours] // by text
}

// mostFound is about how many documents the memory holds, over all words.
const mostFound = 300_000

// remembered gives what the memory has under a key, or makes it; what is made while
// a shard was lacking is forgotten.
func (q *question) remembered(key string, work func() []found) []found {
	q.ix.keep.Lock()
	list, ok := q.ix.memory.found.get(key)
	q.ix.keep.Unlock()
	if ok {
		return list
	}
	before := q.lacking
	list = work()
	if before == q.lacking {
		q.ix.keep.Lock()
		q.ix.memory.found.most = mostFound
		q.ix.memory.found.put(key, list, len(list)+20)
		q.ix.keep.Unlock()
	}
	return list
}

// find looks a stem up in every field.
func (q *question) find(stem string) []found {
	return q.remembered(stem, func() (out []found) {
		q.each(stem, func(doc int, freq *[len(file.Fields)]uint32) {
			if out == nil {
				out = make([]found, 0, 64)
			}
			out = append(out, found{int32(doc), freq[file.Title] > 0, q.ix.value(doc, freq)})
		})
		return out
	})
}

// value is how well a document with these frequencies of a word answers to it.
func (ix *Index) value(doc int, freq *[len(file.Fields)]uint32) float64 {
	if freq == file.OnceInText { // as most are
		return ix.once[doc]
	}
	v := 0.0
	for f, n := range freq {
		if n > 0 {
			length := float64(ix.Length[f][doc]) / ix.Mean[f]
			v += float64(fieldWeight[f]*float64(n)) / (1 - fieldLength[f] + float64(fieldLength[f]*length))
		}
	}
	return float64((saturation+1)*v) / (saturation + v)
}

// lengths fills what a word counts that stands once in a document's text. Loops over all documents
// stand alone, as in file.ReadDictionary.
//
//go:noinline
func (ix *Index) lengths() {
	ix.once = make([]float64, ix.Docs())
	if ix.Mean[file.Text] == 0 {
		return // no note has any
	}
	for doc, n := range ix.Length[file.Text] {
		length := float64(n) / ix.Mean[file.Text]
		v := fieldWeight[file.Text] / (1 - fieldLength[file.Text] + float64(fieldLength[file.Text]*length))
		ix.once[doc] = float64((saturation+1)*v) / (saturation + v)
	}
}

// findAny looks several spellings up; the best of them counts in each document.
func (q *question) findAny(list []spelling) []found {
	key := ""
	for _, s := range list {
		key += s.stem + "\n" + string(rune(math.Round(s.worth*1000))) + "\n"
	}
	return q.remembered(key, func() []found {
		r := q.ix.room()
		defer q.ix.leave(r)
		for _, s := range list {
			q.each(s.stem, func(doc int, freq *[len(file.Fields)]uint32) {
				r.most(doc, float64(s.worth*q.ix.value(doc, freq)))
			})
		}
		return r.list()
	})
}

// about lists the notes that are about a complaint or one that it finds too, and
// how strongly.
func (q *question) about(number int) []found {
	c := &q.ix.Heard.Complaints[number]
	return q.remembered("\n"+c.ID, func() []found {
		r := q.ix.room()
		defer q.ix.leave(r)
		add := func(id string, weight float64) {
			q.each(file.Complaint(id), func(doc int, freq *[len(file.Fields)]uint32) {
				r.most(doc, float64(weight*min(float64(freq[0])/file.Strength, 1)))
			})
		}
		add(c.ID, 1)
		for _, f := range c.Finds {
			add(f.Name, f.Weight)
		}
		return r.list()
	})
}

// each visits the postings of a stem or complaint.
func (q *question) each(stem string, visit func(doc int, freq *[len(file.Fields)]uint32)) {
	list, name, err := q.ix.shards.list(stem)
	if err == nil {
		err = file.ReadList(list, q.ix.Docs(), visit)
	}
	if err != nil {
		q.lacking++
		q.lacks(name, err)
	}
}

// room is a number for each document, and which of them are not 0. Rooms are used
// again, because at many documents a new one costs more than what is done in it.
type room struct {
	value []float64
	docs  []int32
}

func (ix *Index) room() *room {
	ix.keep.Lock()
	defer ix.keep.Unlock()
	n := len(ix.rooms)
	if n == 0 {
		return &room{value: make([]float64, ix.Docs())}
	}
	r := ix.rooms[n-1]
	ix.rooms = ix.rooms[:n-1]
	return r
}

// leave gives a room back.
func (ix *Index) leave(r *room) {
	r.empty()
	ix.keep.Lock()
	ix.rooms = append(ix.rooms, r)
	ix.keep.Unlock()
}

func (r *room) empty() {
	for _, doc := range r.docs {
		r.value[doc] = 0
	}
	r.docs = r.docs[:0]
}

func (r *room) add(doc int32, v float64) {
	if r.value[doc] == 0 {
		r.docs = append(r.docs, doc)
	}
	r.value[doc] += v
}

func (r *room) most(doc int, v float64) {
	if r.value[doc] == 0 {
		r.docs = append(r.docs, int32(doc))
	}
	if v > r.value[doc] {
		r.value[doc] = v
	}
}

// list gives what is not 0, in the order of the documents.
func (r *room) list() []found {
	out := make([]found, 0, len(r.docs))
	if len(r.docs) > len(r.value)/16 {
		for doc, v := range r.value {
			if v > 0 {
				out = append(out, found{doc: int32(doc), value: v})
			}
		}
		return out
	}
	slices.Sort(r.docs)
	for _, doc := range r.docs {
		if v := r.value[doc]; v > 0 {
			out = append(out, found{doc: doc, value: v})
		}
	}
	return out
}

// score adds up what each need finds in each document, in a room of its own, whose
// documents are in order.
func (ix *Index) score(q *question) *room {
	total, best, sum := ix.room(), ix.room(), ix.room() // of all needs, of the ways of one, of one way
	defer func() { ix.leave(best); ix.leave(sum) }()
	for _, n := range q.needs {
		if t := n.only(); t != nil {
			t.addTo(total.value)
			continue
		}
		for _, w := range n.ways {
			for _, t := range w.may {
				sum.addAll(t)
			}
			if len(w.must) > 0 {
				for i, f := range w.must[0].found {
					if v, ok := w.all(f.doc, w.must[0].at(i)); ok {
						sum.add(f.doc, v)
					}
				}
			}
			if len(n.ways) == 1 {
				best, sum = sum, best
				break
			}
			best.mostOf(sum)
			sum.empty()
		}
		for _, doc := range best.docs {
			total.value[doc] += best.value[doc]
		}
		best.empty()
	}
	q.add(total.value)
	total.gather()
	return total
}

//go:noinline
func (t *term) addTo(total []float64) {
	for i, f := range t.found {
		total[f.doc] += t.at(i)
	}
}

//go:noinline
func (r *room) addAll(t *term) {
	for i, f := range t.found {
		r.add(f.doc, t.at(i))
	}
}

//go:noinline
func (r *room) mostOf(o *room) {
	for _, doc := range o.docs {
		r.most(int(doc), o.value[doc])
	}
}

// gather rounds the values, and lists which documents have one, in order.
//
//go:noinline
func (r *room) gather() {
	for doc, v := range r.value {
		if v != 0 {
			r.value[doc] = rounded(v)
			r.docs = append(r.docs, int32(doc))
		}
	}
}

// only gives the one term that a need is met by, nil if there is more to it.
func (n *need) only() *term {
	if len(n.ways) == 1 && len(n.ways[0].may) == 1 && len(n.ways[0].must) == 0 {
		return n.ways[0].may[0]
	}
	return nil
}

// rounded takes off the last bits of a score, which differ between machines and
// would put equal notes into another order.
func rounded(v float64) float64 { return math.Floor(float64(v*1e6)+0.5) / 1e6 } // browsers have no quick math.Round

// all is what the words of a phrase add, if the document holds every one.
func (w *way) all(doc int32, first float64) (v float64, ok bool) {
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
func (w *way) score(doc int32) (v float64) {
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
