package build

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"faultleaf/search"
)

func notes(n int) []search.Document {
	r := rand.New(rand.NewPCG(7, 7))
	vocabulary := []string{"fuse", "heater", "cord", "doesn't", "turn", "on", "130 °C", "bc547", "cold", "brush", "spark", "hum", "4k7", "switch", "burnt"}
	var docs []search.Document
	for i := range n {
		text := ""
		for range 20 {
			text += vocabulary[r.IntN(len(vocabulary))] + " "
		}
		docs = append(docs, search.Document{ID: fmt.Sprintf("faults/n%d", i), Kind: "fault", Title: text[:20], Device: "fan-heater", DeviceTitle: "Fan heater",
			Symptoms: []search.Symptom{{Says: text[:30]}, {Says: text[10:40]}}, Cause: text[5:25], Text: text})
	}
	return docs
}

// shelf keeps parts in memory.
type shelf struct {
	parts     map[string][]byte
	asked, in int
}

func (s *shelf) Kept(key string) []byte {
	s.asked++
	if s.parts[key] != nil {
		s.in++
	}
	return s.parts[key]
}
func (s *shelf) Put(key string, b []byte) { s.parts[key] = b }

func same(t *testing.T, what string, a, b *Files) {
	t.Helper()
	if !bytes.Equal(a.Dictionary, b.Dictionary) {
		t.Errorf("%s: another dictionary", what)
	}
	if len(a.Shards) != len(b.Shards) {
		t.Errorf("%s: %d shards and %d", what, len(a.Shards), len(b.Shards))
	}
	for name, shard := range a.Shards { // the name tells the content
		if !bytes.Equal(b.Shards[name], shard) {
			t.Errorf("%s: %s differs", what, name)
		}
	}
}

// The same notes in any order give the same bytes.
func TestReproducible(t *testing.T) {
	for _, n := range []int{0, 1, 40, 2500} {
		docs := notes(n)
		var first *Files
		for run := range 5 {
			rand.New(rand.NewPCG(1, uint64(run))).Shuffle(len(docs), func(i, j int) { docs[i], docs[j] = docs[j], docs[i] })
			files, err := Write(docs, search.Speech{}, nil)
			if err != nil {
				t.Fatal(err)
			}
			if first == nil {
				first = files
			}
			same(t, fmt.Sprintf("%d notes, run %d", n, run), first, files)
		}
	}
}

// Whatever changes, what is kept of the parts gives the index that none would.
func TestKeptEqualsFresh(t *testing.T) {
	docs := notes(3000)
	s := &shelf{parts: map[string][]byte{}}
	r := rand.New(rand.NewPCG(3, 5))
	for step := range 12 {
		switch at := r.IntN(len(docs)); step % 6 {
		case 1:
			docs[at].Text += " and a new word: zinc"
		case 2:
			docs = append(docs, search.Document{ID: fmt.Sprintf("faults/new%d", step), Kind: "fault", Title: "Zinc whisker", FirstTest: "Look"})
		case 3:
			docs = append(docs[:at], docs[at+1:]...)
		case 4:
			docs[at].ID += "-renamed"
		case 5: // a damaged keep is made anew
			for key, b := range s.parts {
				s.parts[key] = append(bytes.Clone(b[:len(b)/2]), b[len(b)/2+r.IntN(2):]...)
			}
		}
		s.asked, s.in = 0, 0
		kept, err := Write(docs, search.Speech{}, s)
		if err != nil {
			t.Fatal(err)
		}
		fresh, err := Write(docs, search.Speech{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		same(t, fmt.Sprint("step ", step), fresh, kept)
		if step > 0 && s.in < s.asked-2 {
			t.Errorf("step %d: %d of %d parts were kept", step, s.in, s.asked)
		}
	}
}

// One changed note leaves the texts of others where they are.
func TestFewShardsChange(t *testing.T) {
	docs := notes(2500)
	before, err := Write(docs, search.Speech{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	docs[17].Title, docs[17].FirstTest = "Zinc whisker", "Look"
	docs = append(docs, search.Document{ID: "faults/n1a", Title: "Another zinc whisker"})
	after, err := Write(docs, search.Speech{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	texts, moved := 0, 0
	for name := range after.Shards {
		if strings.HasPrefix(name, "texts-") {
			texts++
			if before.Shards[name] == nil {
				moved++
			}
		}
	}
	if moved == 0 || moved > 2+mostPartNotes/textNotes {
		t.Errorf("%d of %d shards of texts are new", moved, texts)
	}
}

func TestIDs(t *testing.T) {
	if _, err := Write([]search.Document{{Title: "Nameless"}}, search.Speech{}, nil); err == nil {
		t.Error("a note without an id was taken")
	}
	if _, err := Write([]search.Document{{ID: "faults/a"}, {ID: "faults/a"}}, search.Speech{}, nil); err == nil {
		t.Error("two notes of one id were taken")
	}
}

func BenchmarkWrite(b *testing.B) {
	docs := notes(1000)
	for b.Loop() {
		if _, err := Write(docs, search.Speech{}, nil); err != nil {
			b.Fatal(err)
		}
	}
}
