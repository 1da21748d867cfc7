package search

import (
	"errors"
	"slices"
	"sort"
	"sync"

	"faultleaf/search/internal/file"
)

// Shards gives the content of a shard by its name. It may be called by several
// goroutines.
type Shards func(name string) ([]byte, error)

// Later is what Shards gives for a shard that is not at hand and can be fetched:
// the answer then names it in Waits, and the question is to be asked again.
var Later = errors.New("this part of the search index is still to be fetched")

// mostHeld is about how many bytes of shards are held.
const mostHeld = 16 << 20

// shards are those of an index, read once and checked.
type shards struct {
	get   Shards
	words []file.Run
	texts []file.Run
	first []int // number of the first note in each shard of texts

	postings func(stem string) ([]file.Posting, error) // in place of words, for a test

	mu   sync.Mutex
	held recent[[]byte]
}

func newShards(d *file.Dictionary, get Shards) *shards {
	s := &shards{get: get, words: d.Words, texts: d.Texts, held: recent[[]byte]{most: mostHeld}}
	n := 0
	for _, k := range d.Counts {
		s.first = append(s.first, n)
		n += k
	}
	return s
}

// shard gives a shard's content, checked.
func (s *shards) shard(name string, is file.Shard) ([]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if b, ok := s.held.get(name); ok {
		return b, nil
	}
	b, err := s.get(name)
	if err != nil {
		return nil, err
	}
	if err := is.Check(b); err != nil {
		return nil, err
	}
	s.held.put(name, b, len(b))
	return b, nil
}

// list gives the postings of a stem, nil if no note holds it.
func (s *shards) list(stem string) ([]byte, string, error) {
	if s.postings != nil {
		var l file.List
		list, err := s.postings(stem)
		for i := range list {
			l.Add(&list[i])
		}
		if err != nil || len(list) == 0 {
			return nil, "", err
		}
		return l.Append(nil, -1, 0), "", nil
	}
	i := sort.Search(len(s.words), func(i int) bool { return s.words[i].First > stem }) - 1
	if i < 0 {
		return nil, "", nil
	}
	name := s.words[i].WordsName()
	b, err := s.shard(name, s.words[i].Shard)
	if err != nil {
		return nil, name, err
	}
	b, err = file.FindWord(b, stem)
	return b, name, err
}

// record gives what is kept of a document to show it.
func (s *shards) record(doc int) (*file.Record, string, error) {
	i := sort.Search(len(s.first), func(i int) bool { return s.first[i] > doc }) - 1
	name := s.texts[i].TextsName()
	b, err := s.shard(name, s.texts[i].Shard)
	if err != nil {
		return nil, name, err
	}
	r, err := file.FindRecord(b, doc-s.first[i])
	return r, name, err
}

// lacks notes that a shard could not be had: it is waited for, or it is said.
func (q *question) lacks(name string, err error) {
	switch {
	case err == nil:
	case errors.Is(err, Later):
		if !slices.Contains(q.missing, name) {
			q.missing = append(q.missing, name)
		}
	case q.trouble == nil:
		q.trouble = errors.New("a part of the search index cannot be read, so some notes may be missing here (" + name + ": " + err.Error() + "); publish again")
	}
}

func (q *question) waits() bool { return len(q.missing) > 0 }

// recent keeps what was used lately, up to about twice so much weight as most.
type recent[V any] struct {
	most       int
	weight     int // of young
	young, old map[string]kept[V]
}

type kept[V any] struct {
	value  V
	weight int
}

func (r *recent[V]) get(key string) (V, bool) {
	if k, ok := r.young[key]; ok {
		return k.value, true
	}
	k, ok := r.old[key]
	if ok {
		r.put(key, k.value, k.weight)
	}
	return k.value, ok
}

func (r *recent[V]) put(key string, value V, weight int) {
	if r.young == nil || r.weight > r.most {
		r.young, r.old, r.weight = map[string]kept[V]{}, r.young, 0
	}
	r.young[key] = kept[V]{value, weight}
	r.weight += weight
}
