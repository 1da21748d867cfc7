package build

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"faultleaf/search"
	"faultleaf/search/internal/file"
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
	for name := range a.Shards { // the name tells the content
		one, err := a.Shard(name)
		other, oerr := b.Shard(name)
		if err != nil || oerr != nil || !bytes.Equal(one, other) {
			t.Errorf("%s: %s differs: %v, %v", what, name, err, oerr)
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

// anew counts the shards after a change whose names begin so, and those of them that
// were not there before.
func anew(before, after *Files, begin string) (all, moved int) {
	for name := range after.Shards {
		if strings.HasPrefix(name, begin) {
			all++
			if _, there := before.Shards[name]; !there {
				moved++
			}
		}
	}
	return all, moved
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
	texts, moved := anew(before, after, "texts-")
	if moved == 0 || moved > 2+mostPartNotes/textNotes {
		t.Errorf("%d of %d shards of texts are new", moved, texts)
	}
}

// The sheet of today changes the postings of its own words alone, whatever stands behind
// it by its ID.
func TestNewestSheet(t *testing.T) {
	docs := short(3000)
	said := docs[len(docs)-40:]
	for i := range said { // pages, which the ID sorts behind sheets
		said[i].ID, said[i].Kind = fmt.Sprintf("pages/p%d", i), "page"
	}
	for i := range 200 {
		docs = append(docs, search.Document{ID: fmt.Sprintf("jobs/2025-01-%03d", i), Kind: "job", Title: docs[i*7].Title, Text: docs[i*11].Text})
	}
	before, err := Write(docs, search.Speech{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	sheet := search.Document{ID: "jobs/2025-02-001", Kind: "job", Title: docs[0].Title}
	after, err := Write(append(docs, sheet), search.Speech{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	words, moved := anew(before, after, "words-")
	if most := len(strings.Fields(sheet.Title)); moved == 0 || moved > most || words < 2*most {
		t.Errorf("%d of %d shards of words are new, for %d words", moved, words, most)
	}
}

func TestIDs(t *testing.T) {
	if _, err := Write([]search.Document{{Title: "Nameless"}}, search.Speech{}, nil); err == nil {
		t.Error("a note without an id was taken")
	}
	for _, kind := range []string{"", "job"} {
		if _, err := Write([]search.Document{{ID: "faults/a"}, {ID: "faults/b"}, {ID: "faults/a", Kind: kind}}, search.Speech{}, nil); err == nil {
			t.Errorf("two notes of one id were taken, one of kind %q", kind)
		}
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

// short makes n short notes of words that follow no list: the commonest stand in every
// second note, most in very few, and new ones come as notes do.
func short(n int) []search.Document {
	r := rand.New(rand.NewPCG(5, 9))
	zipf := rand.NewZipf(r, 1.4, 12, 1<<20)
	said := func(words int) string {
		var b strings.Builder
		for range words {
			for k := zipf.Uint64() + 7; k > 0; k /= 13 {
				b.WriteString([]string{"ba", "ke", "li", "mo", "nu", "ra", "se", "ti", "vo", "zu", "fer", "dan", "gol"}[k%13])
			}
			b.WriteByte(' ')
		}
		return strings.TrimSpace(b.String())
	}
	var docs []search.Document
	for i := range n {
		device := fmt.Sprintf("device-%d", i/50)
		docs = append(docs, search.Document{ID: fmt.Sprintf("faults/%s-%d", device, i), Kind: "fault", Title: said(5), Address: fmt.Sprintf("faults/%s-%d.html", device, i),
			Device: device, DeviceTitle: "Device " + said(1), Symptoms: []search.Symptom{{Says: said(7)}, {Says: said(6)}}, Cause: said(8), Text: said(40), FirstTest: said(6), FirstMinutes: "2 min"})
	}
	return docs
}

// BenchmarkSizes prints what each note of a large shop weighs in the index, in bytes as
// they are sent, and how long the index takes to make and to make again after one
// change. DEVELOPERS.md reckons a million from it.
func BenchmarkSizes(b *testing.B) {
	packed := func(raw []byte) float64 {
		var out bytes.Buffer
		z, _ := gzip.NewWriterLevel(&out, gzip.BestCompression)
		_, _ = z.Write(raw)
		_ = z.Close()
		return float64(out.Len())
	}
	for _, n := range []int{20_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			docs := short(n)
			for b.Loop() {
				s := &shelf{parts: map[string][]byte{}}
				start := time.Now()
				_, err := Write(docs, search.Speech{}, s)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(time.Since(start).Seconds(), "s-all")
				docs[n/2].Text += " changed"
				start = time.Now()
				files, err := Write(docs, search.Speech{}, s)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(time.Since(start).Seconds(), "s-one-changed")
				start = time.Now()
				ix, err := files.Open()
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(time.Since(start).Seconds()*1000, "ms-open")
				ix.Ask("fer dan gol", search.Options{})
				var words, texts, most, count float64
				for name, shard := range files.Shards {
					size := packed(shard)
					if strings.HasPrefix(name, "words-") {
						words, most, count = words+size, max(most, size), count+1
					} else {
						texts += size
					}
				}
				b.ReportMetric(packed(files.Dictionary)/float64(n), "B/note-dictionary")
				b.ReportMetric(words/float64(n), "B/note-words")
				b.ReportMetric(texts/float64(n), "B/note-texts")
				b.ReportMetric(most, "B-largest-shard-of-words")
				b.ReportMetric(count, "shards-of-words")
				b.ReportMetric(float64(ix.Terms.Len()), "different-words")
				b.ReportMetric(0, "ns/op")
			}
		})
	}
}

// The hash of a document tells every text, number and list that stands in it.
func TestSumTellsAll(t *testing.T) {
	whole := search.Document{}
	seen := map[Hash]string{hashOf(&whole): "nothing"}
	told := func(at string) {
		sum := hashOf(&whole)
		if other, there := seen[sum]; there {
			t.Errorf("%s changes nothing: as with %s", at, other)
		}
		seen[sum] = at
	}
	var fill func(v reflect.Value, at string)
	fill = func(v reflect.Value, at string) {
		switch v.Kind() {
		case reflect.String:
			v.SetString("x")
		case reflect.Float64:
			v.SetFloat(0.5)
		case reflect.Slice:
			v.Set(reflect.MakeSlice(v.Type(), 1, 1))
			told(at)
			fill(v.Index(0), at+"[]")
			return
		case reflect.Struct:
			for i := range v.NumField() {
				fill(v.Field(i), at+"."+v.Type().Field(i).Name)
			}
			return
		default:
			t.Fatalf("%s: a %s is not told", at, v.Kind())
		}
		told(at)
	}
	fill(reflect.ValueOf(&whole).Elem(), "")
}

// Only the documents of a part that changed are asked for; what is not what its hash
// tells is refused, and so is what cannot be had.
func TestFrom(t *testing.T) {
	docs := notes(2500)
	docs[7].Kind, docs[7].Names, docs[7].Shut = "page", []search.Weighted{{Name: "zinc", Weight: 0.25}}, []string{"zinc pot"}
	at := map[string]*search.Document{}
	var list []Note
	for i := range docs {
		at[docs[i].ID] = &docs[i]
		list = append(list, NoteOf(&docs[i]))
	}
	asked := 0
	document := func(id string) (*search.Document, error) {
		asked++
		if at[id] == nil {
			return nil, errors.New("gone")
		}
		return at[id], nil
	}
	s := &shelf{parts: map[string][]byte{}}
	for _, want := range []int{2500, 0} {
		asked = 0
		files, err := From(list, document, search.Speech{}, s)
		if err != nil {
			t.Fatal(err)
		}
		fresh, err := Write(docs, search.Speech{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if asked != want {
			t.Errorf("%d documents were asked for, not %d", asked, want)
		}
		same(t, "from afar", fresh, files)
		if asked != 2500 {
			t.Errorf("%d documents were asked for to have all texts, not 2500", asked)
		}
	}
	docs[100].Text += " zinc"
	if _, err := From(list, document, search.Speech{}, nil); err == nil {
		t.Error("a document that is another than its hash tells was taken")
	}
	asked = 0
	list[100].Sum = hashOf(&docs[100])
	if _, err := From(list, document, search.Speech{}, s); err != nil || asked == 0 || asked > mostPartNotes {
		t.Errorf("%d documents were asked for after one changed: %v", asked, err)
	}
	delete(at, docs[100].ID)
	if _, err := From(list, document, search.Speech{}, nil); err == nil {
		t.Error("a document that is gone was taken")
	}
}

// The shards of words are told in order, each with the first stem that it holds.
func TestWordsInOrder(t *testing.T) {
	files, err := Write(short(500), search.Speech{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	last := ""
	for _, w := range files.Words {
		shard, err := files.Shard(w.Name)
		if err != nil || w.First <= last {
			t.Fatalf("%q after %q: %v", w.First, last, err)
		}
		first := ""
		if err := file.EachWord(shard, func(stem string, _ []byte) { last = stem; first = cmp.Or(first, stem) }); err != nil || first != w.First {
			t.Errorf("%s begins with %q, not with %q: %v", w.Name, first, w.First, err)
		}
	}
	if len(files.Words) < 2 {
		t.Errorf("%d shards show little", len(files.Words))
	}
}
