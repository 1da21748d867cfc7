// Package search reads the index of the notes and answers a query, best first.
// The same code runs in the browser and on the command line.
//
// A search takes these steps:
//
//  1. Open checks the dictionary before anything in it is followed. What stands
//     in shards is read when a question needs it, and checked then (shards.go); a
//     page that does not hold a shard yet is told which ones to fetch.
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
	"math"
	"slices"
	"sync"

	"faultleaf/search/internal/file"
	"faultleaf/search/speech"
	"faultleaf/search/words"
)

// Index is an opened index. It is safe for use by several goroutines.
type Index struct {
	*file.Dictionary
	shards *shards
	ear    *speech.Listener
	prior  []float64       // by kind: what a document of it is worth
	once   []float64       // by document: the value of a word that stands once in its text
	places map[string]int  // of devices in Heard.Devices, by name
	rare   []float64       // by complaint: how much it tells
	letter func() []uint32 // by word: the letters in it, for near

	replaced func() []replacedWord // slips in them are put right, too

	keep     sync.Mutex
	memory   memory
	rooms    []*room          // that nobody is in
	readings map[int]*reading // of documents shown lately
}

// Open checks and opens the dictionary that build.Write made; shards gives the
// shards that it names. It keeps the byte slices; the caller must not change them.
func Open(dictionary []byte, shards Shards) (*Index, error) {
	d, err := file.ReadDictionary(dictionary)
	if err != nil {
		return nil, err
	}
	if d.Rules != words.Rules {
		return nil, errors.New("the search index was written by another version of this program; publish again")
	}
	ix := &Index{Dictionary: d, shards: newShards(d, shards), ear: &speech.Listener{Lexicon: words.Open(d.Lexicon), Books: d.Heard.Books()}, places: map[string]int{},
		prior: make([]float64, len(d.Kinds))}
	ix.lengths()
	ix.rarities()
	for i, kind := range d.Kinds {
		ix.prior[i] = 1
		for _, k := range kindWorth {
			if k.kind == kind {
				ix.prior[i] = k.worth
			}
		}
	}
	ix.number()
	ix.letter = sync.OnceValue(func() []uint32 {
		out := make([]uint32, d.Terms.Len())
		for i := range out {
			out[i] = letters(d.Terms.Text(i))
		}
		return out
	})
	ix.replaced = sync.OnceValue(ix.replacedWords)
	return ix, nil
}

// number fills the places of the devices.
//
//go:noinline
func (ix *Index) number() {
	for i, device := range ix.Heard.Devices {
		ix.places[device.Name] = i
	}
}

// rarities fills how much each complaint tells. It stands alone, as lengths does.
//
//go:noinline
func (ix *Index) rarities() {
	for _, n := range ix.Heard.About {
		ix.rare = append(ix.rare, math.Log(1+(float64(ix.Docs())-n+0.5)/(n+0.5)))
	}
}

// OpenBeside is Open with the postings from elsewhere: a test holds the index
// against the segment that it was made from.
func OpenBeside(dictionary []byte, shards Shards, postings func(stem string) ([]file.Posting, error)) (*Index, error) {
	ix, err := Open(dictionary, shards)
	if err == nil {
		ix.shards.postings = postings
	}
	return ix, err
}

// kind of a document.
func (ix *Index) kind(doc int) string { return ix.Dictionary.Kinds[ix.Kind[doc]] }

// device of a document: its place in Heard.Devices, -1 for none.
func (ix *Index) device(doc int) int { return int(ix.Device[doc]) - 1 }

// like is the common fault that a document is a case of, or "".
func (ix *Index) like(doc int) string {
	if i := ix.Like[doc]; i > 0 {
		return ix.Likes[i-1]
	}
	return ""
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
	room := ix.score(q)
	defer ix.leave(room)
	if q.waits() {
		return Answer{Waits: q.missing}
	}
	a := Answer{Heard: q.answer(), Devices: ix.devices(q, room), Kinds: ix.kinds(room, o)}
	list := ix.best(room, o, o.Limit+spare)
	if o.Device == "" && slices.Max(append(q.named, 0)) < means {
		ix.spread(list)
	}
	first := o.Limit
	if o.First > 0 {
		first = min(first, o.First)
	}
	ix.fetch(q, list, first)
	if q.waits() {
		return Answer{Waits: q.missing}
	}
	a.Hits = ix.fold(q, list, first)
	if a.Heard.Shut && o.Device == "" && o.Kind == "" && len(a.Hits) > 0 {
		a.Heard.Shut = q.shut[a.Hits[0].ID]
	}
	a.Trouble = q.trouble
	return a
}

// spare is how many notes are ranked beyond those asked for, because notes of one
// common fault fold into one hit.
const spare = 30

// best picks the n highest scores among the notes that the options allow.
func (ix *Index) best(scores *room, o Options, n int) []ranked {
	device := ix.deviceNumber(o.Device)
	var top []ranked
	for _, doc := range scores.docs {
		doc, s := int(doc), scores.value[doc]
		if s <= 0 || o.Device != "" && (device < 0 || ix.device(doc) != device) || o.Kind != "" && ix.kind(doc) != o.Kind ||
			len(top) == n && s <= top[len(top)-1].score { // of equal ones the first stand there
			continue
		}
		r := ranked{doc: doc, score: s}
		at := len(top)
		for at > 0 && r.before(top[at-1]) {
			at--
		}
		if len(top) < n {
			top = append(top, r)
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

// before orders by score. Equal scores go by ID, which is the order of the numbers.
func (a ranked) before(b ranked) bool {
	return a.score > b.score || a.score == b.score && a.doc < b.doc
}

func (ix *Index) deviceNumber(name string) int {
	if i, ok := ix.places[name]; ok {
		return i
	}
	return -1
}

// Devices lists the devices that have notes, by name.
func (ix *Index) Devices() []Choice {
	var out []Choice
	for _, d := range ix.Heard.Devices {
		out = append(out, Choice(d))
	}
	return out
}

// Kinds lists the kinds of notes there are.
func (ix *Index) Kinds() []Choice {
	var out []Choice
	for _, k := range kinds {
		if slices.Contains(ix.Dictionary.Kinds, k.Name) {
			out = append(out, k)
		}
	}
	return out
}

// kinds of notes, in the order in which they are offered.
var kinds = []Choice{{"fault", "faults"}, {"device", "devices"}, {"block", "common blocks"}, {"checklist", "checklists"},
	{"calculator", "calculators"}, {"job", "job sheets"}, {"page", "pages"}}

// kinds lists the kinds of what was found.
func (ix *Index) kinds(scores *room, o Options) []Choice {
	there := ix.there(scores, o)
	var out []Choice
	for _, k := range kinds {
		if i := slices.Index(ix.Dictionary.Kinds, k.Name); i >= 0 && there[i] {
			out = append(out, k)
		}
	}
	return out
}

// there says of which kinds something was found.
//
//go:noinline
func (ix *Index) there(scores *room, o Options) []bool {
	device := ix.deviceNumber(o.Device)
	out := make([]bool, len(ix.Dictionary.Kinds))
	for _, doc := range scores.docs {
		if scores.value[doc] > 0 && (o.Device == "" || ix.device(int(doc)) == device) {
			out[ix.Kind[doc]] = true
		}
	}
	return out
}

// devices lists whose notes were found: of a device that was named first, then by
// the sum of what the notes scored.
func (ix *Index) devices(q *question, scores *room) []Choice {
	sum := ix.sums(scores)
	var order []int
	for d, s := range sum {
		if s > 0 {
			order = append(order, d)
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(q.named[b], q.named[a]), cmp.Compare(sum[b], sum[a]), a-b)
	})
	var out []Choice
	for _, d := range order {
		out = append(out, Choice(ix.Heard.Devices[d]))
	}
	return out
}

// sums adds up by device what its notes score.
//
//go:noinline
func (ix *Index) sums(scores *room) []float64 {
	out := make([]float64, len(ix.Heard.Devices))
	for _, doc := range scores.docs {
		if d := ix.device(int(doc)); d >= 0 {
			out[d] += scores.value[doc]
		}
	}
	return out
}

// fetch makes sure of what is kept of the notes that fold will show.
func (ix *Index) fetch(q *question, list []ranked, limit int) {
	n := 0
	seen := map[string]bool{}
	for _, r := range list {
		like := ix.like(r.doc)
		if !seen[like] {
			if n == limit {
				continue
			}
			n++
			seen[like] = like != ""
		}
		ix.reading(q, r.doc)
	}
}

// fold shows the ranked notes; those of one common fault become one hit: that of
// the device that was named, else the best of them, which is the block's own where
// nothing was said of a device.
func (ix *Index) fold(q *question, list []ranked, limit int) []Hit {
	var hits []Hit
	at := map[string]int{} // the hit of a common fault
	named := []float64{}   // how surely each hit's device was named
	for _, r := range list {
		if ix.like(r.doc) == "" {
			if len(hits) == limit {
				continue
			}
			if h, ok := ix.show(q, r); ok {
				hits, named = append(hits, h), append(named, 0)
			}
			continue
		}
		i, twin := at[ix.like(r.doc)]
		if !twin && len(hits) == limit {
			continue
		}
		surely := 0.0
		if d := ix.device(r.doc); d >= 0 {
			surely = q.named[d]
		}
		if twin && surely <= named[i] { // of this one no more is shown than where it is
			if read := ix.reading(q, r.doc); read != nil {
				hits[i].Also = append(hits[i].Also, Also{read.rec.DeviceTitle, read.rec.Address})
			}
			continue
		}
		h, ok := ix.show(q, r)
		if !ok {
			continue
		}
		if !twin {
			at[ix.like(r.doc)] = len(hits)
			hits, named = append(hits, h), append(named, surely)
			continue
		}
		h.Score, h.Also = hits[i].Score, append([]Also{{hits[i].DeviceTitle, hits[i].Address}}, hits[i].Also...)
		hits[i], named[i] = h, surely
	}
	return hits
}

// spread lets the notes of one device that follow its best count for less, where
// no device was named: what was said may well be of another.
func (ix *Index) spread(list []ranked) {
	seen := make([]int, len(ix.Heard.Devices))
	for i, r := range list {
		if d := ix.device(r.doc); d >= 0 {
			list[i].score = rounded(r.score * math.Pow(spreadWorth, float64(seen[d])))
			seen[d]++
		}
	}
	slices.SortStableFunc(list, func(a, b ranked) int { return cmp.Compare(b.score, a.score) })
}
