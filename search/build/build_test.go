package build

import (
	"bytes"
	"fmt"
	"math/rand/v2"
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

// The same notes in any order give the same bytes, in one part and in several.
func TestReproducible(t *testing.T) {
	for _, n := range []int{1, 40, 2500} {
		docs := notes(n)
		var first *Files
		for run := range 5 {
			rand.New(rand.NewPCG(1, uint64(run))).Shuffle(len(docs), func(i, j int) { docs[i], docs[j] = docs[j], docs[i] })
			files, err := Write(docs, search.Speech{})
			if err != nil {
				t.Fatal(err)
			}
			if first == nil {
				first = files
				continue
			}
			if !bytes.Equal(files.Stats, first.Stats) || len(files.Parts) != len(first.Parts) {
				t.Fatalf("%d notes: other statistics at run %d", n, run)
			}
			for i := range files.Parts {
				if !bytes.Equal(files.Parts[i], first.Parts[i]) {
					t.Fatalf("%d notes: part %d differs at run %d", n, i, run)
				}
			}
		}
	}
}

// One changed note changes one part and the statistics.
func TestOnePartChanges(t *testing.T) {
	docs := notes(2500)
	before, err := Write(docs, search.Speech{})
	if err != nil {
		t.Fatal(err)
	}
	docs[17].Text += " and a new word: zinc"
	after, err := Write(docs, search.Speech{})
	if err != nil {
		t.Fatal(err)
	}
	changed := 0
	for i := range after.Parts {
		if !bytes.Equal(before.Parts[i], after.Parts[i]) {
			changed++
		}
	}
	if len(after.Parts) < 2 || changed != 1 || bytes.Equal(before.Stats, after.Stats) {
		t.Errorf("%d of %d parts changed, want 1", changed, len(after.Parts))
	}
}

func TestIDs(t *testing.T) {
	if _, err := Write([]search.Document{{Title: "Nameless"}}, search.Speech{}); err == nil {
		t.Error("a note without an id was taken")
	}
	if _, err := Write([]search.Document{{ID: "faults/a"}, {ID: "faults/a"}}, search.Speech{}); err == nil {
		t.Error("two notes of one id were taken")
	}
}

func BenchmarkWrite(b *testing.B) {
	docs := notes(1000)
	for b.Loop() {
		if _, err := Write(docs, search.Speech{}); err != nil {
			b.Fatal(err)
		}
	}
}
