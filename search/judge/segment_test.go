package judge

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"sync"
	"testing"

	"faultleaf/internal/site"
	"faultleaf/internal/site/page"
	"faultleaf/search"
	"faultleaf/search/build"
	"faultleaf/search/internal/file"
)

// beside opens an index twice: from its own shards, and with its postings from one
// bleve segment of all documents.
func beside(t *testing.T, docs []search.Document, say search.Speech) (ours, bleves *search.Index) {
	t.Helper()
	files, err := build.Write(docs, say, nil)
	if err != nil {
		t.Fatal(err)
	}
	seg, err := build.Segment(docs, say)
	if err != nil {
		t.Fatal(err)
	}
	d, err := file.ReadDictionary(files.Dictionary)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(d.Length, seg.Length) {
		t.Error("the fields have other lengths")
	}
	// every posting of every stem
	stems, err := seg.Stems()
	if err != nil {
		t.Fatal(err)
	}
	var own []string
	for _, run := range d.Words {
		err := file.EachWord(files.Shards[run.WordsName()], func(stem string, list []byte) {
			own = append(own, stem)
			want, err := seg.Postings(stem)
			if err != nil {
				t.Fatal(err)
			}
			var got []file.Posting
			if err := file.ReadList(list, d.Docs(), func(doc int, freq *[len(file.Fields)]uint32) { got = append(got, file.Posting{Doc: doc, Freq: *freq}) }); err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(got, want) {
				t.Errorf("%q: other postings than bleve's", stem)
			}
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if !slices.Equal(own, stems) {
		t.Errorf("%d stems, bleve has %d", len(own), len(stems))
	}
	if ours, err = files.Open(); err != nil {
		t.Fatal(err)
	}
	var one sync.Mutex
	bleves, err = search.OpenBeside(files.Dictionary, files.Shard, func(stem string) ([]file.Posting, error) {
		one.Lock()
		defer one.Unlock()
		return seg.Postings(stem)
	})
	if err != nil {
		t.Fatal(err)
	}
	return ours, bleves
}

// equal holds two answers against each other: the same notes in the same order, with
// the same scores but for their last digit.
func equal(t *testing.T, ours, bleves *search.Index, query string, o search.Options) {
	t.Helper()
	a, b := ours.Ask(query, o), bleves.Ask(query, o)
	if a.Trouble != nil || b.Trouble != nil || len(a.Waits)+len(b.Waits) > 0 {
		t.Fatalf("%q: %v, %v", query, a.Trouble, b.Trouble)
	}
	same := len(a.Hits) == len(b.Hits) && reflect.DeepEqual(a.Heard, b.Heard) && reflect.DeepEqual(a.Devices, b.Devices)
	for i := 0; same && i < len(a.Hits); i++ {
		same = a.Hits[i].ID == b.Hits[i].ID && math.Abs(a.Hits[i].Score-b.Hits[i].Score) < 2e-6
	}
	if !same {
		t.Errorf("%q: ours %s, from the segment %s", query, ids(a.Hits), ids(b.Hits))
	}
}

// The index says of every stem what the segment of bleve says, and answers alike: on
// the starter shop, whole and letter by letter, and on the collections.
func TestSameAsSegment(t *testing.T) {
	set, _ := starter()
	_, docs, err := site.Pages(set)
	if err != nil {
		t.Fatal(err)
	}
	ours, bleves := beside(t, docs, page.NewShop(set, nil).Speech())
	for _, d := range set.Devices {
		for _, sy := range d.Symptoms {
			equal(t, ours, bleves, sy.Says, search.Options{Limit: 20})
		}
		for i, complaint := range generic {
			equal(t, ours, bleves, d.Title+" "+complaint, search.Options{})
			equal(t, ours, bleves, slipLongest(rand.New(rand.NewPCG(uint64(i), 3)), d.Title+", changed the fuse, "+complaint), search.Options{Typing: true})
		}
	}
	for _, query := range []string{"wont turn on", "tripping the electrics", "intermitant sound", "changed fuse and bulb, still dead", "130C thermal cut-out", "e bike battery wont charge", "noise from the bc547 4k7"} {
		for i := range query {
			equal(t, ours, bleves, query[:i+1], search.Options{Typing: true, Limit: 40})
		}
	}
	t.Run("labelled", func(t *testing.T) {
		for _, l := range labels(t, set) {
			equal(t, ours, bleves, l.query, search.Options{})
			equal(t, ours, bleves, l.product+" "+l.query, search.Options{Device: l.devices[0]})
			for i := range l.query {
				equal(t, ours, bleves, l.query[:i], search.Options{Typing: true, Here: l.devices[0]})
			}
		}
	})
	t.Run("cranfield", func(t *testing.T) {
		ours, bleves := beside(t, cranfield(t), search.Speech{})
		for _, s := range sections(t, "cranfield/cran.qry") {
			equal(t, ours, bleves, s["W"], search.Options{})
		}
	})
	t.Run("records", func(t *testing.T) {
		ours, bleves := beside(t, notesOf(records(t)), search.Speech{})
		for _, line := range []string{"wont turn on", "no lites", "smells hot", "intermitant sound", "motor runs, blade stuck"} {
			for i := range line {
				equal(t, ours, bleves, line[:i+1], search.Options{Typing: true})
			}
		}
	})
}
