package file

import (
	"encoding/binary"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"faultleaf/search/speech"
	"faultleaf/search/words"
)

// Lists of parts, put together, are the list of the whole.
func TestListsJoin(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		var want []Posting
		var b []byte
		base, last := 0, -1
		for range 1 + r.IntN(4) {
			n := 1 + r.IntN(300)
			var l List
			held := false
			for doc := range n {
				if r.IntN(4) > 0 {
					continue
				}
				p := Posting{Doc: doc}
				switch r.IntN(3) {
				case 0:
					p.Freq[Text] = 1
				case 1:
					p.Freq[r.IntN(len(Fields))] = 1
				default:
					for f := range p.Freq {
						p.Freq[f] = r.Uint32N(400)
					}
					p.Freq[r.IntN(len(Fields))]++
				}
				l.Add(&p)
				held = true
				p.Doc += base
				want = append(want, p)
			}
			if held {
				var again List
				if rest, ok := again.Kept(l.Keep(nil)); !ok || len(rest) > 0 {
					t.Fatal("a kept list cannot be read")
				}
				b = again.Append(b, last, base)
				last = base + l.Last
			}
			base += n
		}
		var got []Posting
		if err := ReadList(b, base, func(doc int, freq *[len(Fields)]uint32) { got = append(got, Posting{doc, *freq}) }); err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(got, want) {
			t.Fatalf("got %v, want %v", got, want)
		}
	}
}

var (
	names   = []speech.Name{{Text: "kettle", Of: "kettle", Weight: 1}, {Text: "first aid", Of: "lists/a", Weight: 0.5, Kind: speech.OfNote}}
	phrases = []speech.Phrase{{Stems: []string{"hot"}, Means: []int{0}}, {Stems: []string{"not", "get", "hot"}, Means: []int{0}}, {Stems: []string{"not", "work"}, Means: []int{0}}}
)

func small() *Dictionary {
	return &Dictionary{Rules: 7, Mean: [len(Fields)]float64{2, 3, 0, 1.5, 40}, Kinds: []string{"device", "fault"}, Kind: []uint8{0, 1, 1}, Likes: []string{"cord#broken"},
		Device: []uint32{1, 1, 0}, Like: []uint32{0, 1, 0}, Length: [len(Fields)][]uint32{{1, 2, 3}, {0, 0, 9}, {0, 0, 0}, {1, 1, 0}, {4000, 1, 70000}},
		Terms: NewTerms([]Term{{"battery", "batteri", 2}, {"heat", "heat", 1}, {"heated", "heat", 3}, {"kaput", "kaput", 0}, {"skies", "sky", 1}, {"µ", "µ", 1}}),
		Heard: Heard{Complaints: []speech.Complaint{{ID: "dead", Short: "does nothing", Finds: []speech.Weighted{{Name: "hot", Weight: 0.45}}}},
			About: []float64{1.25}, Devices: []speech.Device{{Name: "kettle", Title: "Kettle"}}, Names: NewNames(names, map[int]int{1: 2}, 3),
			OfComplaints: NewBook(phrases, 1), OfThings: NewBook([]speech.Phrase{{Stems: []string{"kettl"}, Means: []int{0}}}, 2), OfNotes: NewBook([]speech.Phrase{{Stems: []string{"aid"}, Means: []int{0, 1}}}, 2)},
		Lexicon: words.WithOwn("kaputt = kaput").Table,
		Words:   []Run{{Shard{1, 2}, "\x01dead"}, {Shard{3, 4}, "heat"}}, Texts: []Run{{Shard: Shard{5, 6}}, {Shard: Shard{7, 8}}}, Counts: []int{2, 1}}
}

func TestDictionary(t *testing.T) {
	want := small()
	got, err := ReadDictionary(want.Bytes())
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Fatalf("%v:\ngot  %+v\nwant %+v", err, got, want)
	}
	for i, stem := range []string{"batteri", "heat", "heat", "kaput", "sky", "µ"} {
		if s := got.Terms.Stem(i); s != stem {
			t.Errorf("the stem of %s is %s", got.Terms.Text(i), s)
		}
	}
	for i, leads := range []int{-1, 2} {
		if n, doc := got.Heard.Names.At(i); n != names[i] || doc != leads {
			t.Errorf("%+v leads to %d", n, doc)
		}
	}
	for stem, want := range map[string][]speech.Phrase{"hot": phrases[:1], "not": phrases[1:], "no": nil, "": nil, "zip": nil} {
		for range 2 { // what was read is held
			if of := got.Heard.OfComplaints.Of(stem); !reflect.DeepEqual(of, want) {
				t.Errorf("%q begins %v", stem, of)
			}
		}
	}
	if from, to := got.Terms.Run("hea"); from != 1 || to != 3 {
		t.Errorf("hea begins words %d to %d", from, to)
	}
}

// Bytes that pass for a dictionary are followed nowhere that they should not lead.
func FuzzDictionary(f *testing.F) {
	b := small().Bytes()
	f.Add(b[:len(b)-8])
	f.Fuzz(func(t *testing.T, body []byte) {
		d, err := ReadDictionary(binary.BigEndian.AppendUint64(slices.Clone(body), Sum(body)))
		if err != nil {
			return
		}
		for i := range d.Terms.Len() {
			d.Terms.Find(d.Terms.Text(i))
			d.Terms.Stem(i)
		}
		for i := range d.Heard.Names.Len() {
			if _, doc := d.Heard.Names.At(i); doc >= d.Docs() {
				t.Errorf("a name leads to note %d", doc)
			}
		}
		for _, b := range []*Book{d.Heard.OfComplaints, d.Heard.OfThings, d.Heard.OfNotes} {
			for i := range b.firsts.Len() {
				for _, p := range b.Of(b.firsts.Text(i)) {
					if slices.ContainsFunc(p.Means, func(m int) bool { return m < 0 || m >= b.things }) {
						t.Errorf("%v means too much", p)
					}
				}
			}
		}
		l := words.Open(d.Lexicon)
		l.Alike(words.Plain(l.Split("plug in a lead, not hot")))
		if _, err := ReadDictionary(d.Bytes()); err != nil {
			t.Errorf("it cannot be read again: %v", err)
		}
	})
}

// Damaged shards give an error or less than there was, never a panic.
func FuzzShards(f *testing.F) {
	var l List
	l.Add(&Posting{Doc: 3, Freq: [len(Fields)]uint32{0, 0, 0, 0, 1}})
	l.Add(&Posting{Doc: 9, Freq: [len(Fields)]uint32{2, 0, 1, 0, 7}})
	var w Words
	w.Add("heat", l.Append(nil, -1, 0))
	w.Add("heater", l.Append(nil, -1, 5))
	r := Record{ID: "faults/a", Title: "A", Symptoms: []Symptom{{"It is cold", []speech.Weighted{{Name: "dead", Weight: 0.5}}}}}
	f.Add(w.Bytes(), "heater")
	f.Add(r.Append(nil), "heat")
	f.Fuzz(func(t *testing.T, shard []byte, stem string) {
		each := func(list []byte) {
			last := -1
			_ = ReadList(list, 20, func(doc int, _ *[len(Fields)]uint32) {
				if doc <= last || doc >= 20 {
					t.Errorf("note %d after %d", doc, last)
				}
				last = doc
			})
		}
		if list, err := FindWord(shard, stem); err == nil {
			each(list)
		}
		_ = EachWord(shard, func(_ string, list []byte) { each(list) })
		for n := range 3 {
			_, _ = FindRecord(shard, n)
		}
	})
}
