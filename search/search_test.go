package search_test

import (
	"bufio"
	"math/rand/v2"
	"os"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"faultleaf/search"
	"faultleaf/search/build"
	"faultleaf/search/words"
)

// readNotes reads testdata/notes.txt.
func readNotes(t testing.TB) []search.Document {
	var docs []search.Document
	for _, line := range readLines(t, "testdata/notes.txt") {
		if id, ok := strings.CutPrefix(line, "== "); ok {
			docs = append(docs, search.Document{ID: id, Address: id + ".html"})
			continue
		}
		d := &docs[len(docs)-1]
		key, value, _ := strings.Cut(line, ": ")
		switch key {
		case "kind":
			d.Kind = value
		case "title":
			d.Title = value
		case "device":
			d.Device = value
		case "devicetitle":
			d.DeviceTitle = value
		case "symptom": // what is said | the complaints that it is
			says, is, _ := strings.Cut(value, " | ")
			s := search.Symptom{Says: says}
			for _, id := range strings.Fields(is) {
				s.Is = append(s.Is, search.Weighted{Name: id, Weight: 1})
				if !slices.ContainsFunc(d.Complaints, func(w search.Weighted) bool { return w.Name == id }) {
					d.Complaints = append(d.Complaints, search.Weighted{Name: id, Weight: 0.8})
				}
			}
			d.Symptoms = append(d.Symptoms, s)
		case "names":
			for _, name := range strings.Split(value, ", ") {
				text, weight, weighed := strings.Cut(name, "=")
				w := search.Weighted{Name: text, Weight: 1}
				if weighed {
					w.Weight, _ = strconv.ParseFloat(weight, 64)
				}
				d.Names = append(d.Names, w)
			}
		case "shut":
			d.Shut = strings.Split(value, ", ")
		case "like":
			d.Like = value
		case "cause":
			d.Cause = value
		case "text":
			d.Text = value
		case "firsttest":
			d.FirstTest = value
		case "firstminutes":
			d.FirstMinutes = value
		default:
			t.Fatalf("testdata/notes.txt: what is %q?", key)
		}
	}
	return docs
}

// spoken is a small vocabulary for these tests.
var spoken = search.Speech{Complaints: []search.Complaint{
	{ID: "dead", Short: "does nothing", Wordings: []string{"not work", "not turn on", "dead", "stopped", "no power"}, Finds: []search.Weighted{{Name: "no-light", Weight: 0.45}}},
	{ID: "no-heat", Short: "no heat", Wordings: []string{"no heat", "blows cold", "stays cold"}},
	{ID: "no-light", Short: "no light", Wordings: []string{"no light", "not light"}},
	{ID: "trips", Short: "trips the supply", Wordings: []string{"trips the electrics", "trips the rcd", "tripping"}},
	{ID: "went-bang", Short: "went bang", Wordings: []string{"went bang", "popped"}},
	{ID: "smells", Short: "smells", Wordings: []string{"smells", "burning smell"}},
	{ID: "will-not-stop", Short: "does not stop", Wordings: []string{"not turn off", "not stop"}},
}, Words: "kaputt = dead\nflogger | vacuum cleaner"}

func readLines(t testing.TB, name string) []string {
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []string
	for sc := bufio.NewScanner(f); sc.Scan(); {
		if line := strings.TrimSpace(sc.Text()); line != "" && line[0] != '#' {
			out = append(out, line)
		}
	}
	return out
}

func open(t testing.TB, docs []search.Document) *search.Index {
	t.Helper()
	files, err := build.Write(docs, spoken, nil)
	if err != nil {
		t.Fatal(err)
	}
	ix, err := files.Open()
	if err != nil {
		t.Fatal(err)
	}
	return ix
}

func TestFirstHit(t *testing.T) {
	ix := open(t, readNotes(t))
	for _, line := range readLines(t, "testdata/queries.txt") {
		query, want, ok := strings.Cut(line, " => ")
		if !ok {
			t.Fatalf("no arrow: %s", line)
		}
		query, typing := strings.CutSuffix(query, "~")
		hits := ix.Search(query, search.Options{Typing: typing})
		var got []string
		for _, h := range hits {
			got = append(got, h.ID+" "+strconv.FormatFloat(h.Score, 'f', 2, 64))
		}
		if len(hits) == 0 || hits[0].ID != want {
			t.Errorf("%s: want %s, got %s", query, want, strings.Join(got[:min(4, len(got))], ", "))
		}
	}
}

func TestHit(t *testing.T) {
	ix := open(t, readNotes(t))
	hits := ix.Search("fan turns but air cold", search.Options{Limit: 1})
	if len(hits) != 1 {
		t.Fatalf("%d hits, want 1", len(hits))
	}
	h := hits[0]
	want := search.Hit{ID: "faults/element-tag-burnt-off", Kind: "fault", Title: "Element tag burnt off its terminal",
		Address: "faults/element-tag-burnt-off.html", Device: "fan-heater", DeviceTitle: "Fan heater", Symptom: "The fan turns and the air stays cold",
		Snippet: h.Snippet, FirstTest: "Resistance across the element's two tags", FirstMinutes: "2 min", Score: h.Score, Marks: h.Marks}
	if h.ID != want.ID || h.Kind != want.Kind || h.Title != want.Title || h.Address != want.Address || h.Device != want.Device ||
		h.DeviceTitle != want.DeviceTitle || h.Symptom != want.Symptom || h.FirstTest != want.FirstTest || h.FirstMinutes != want.FirstMinutes {
		t.Errorf("got  %+v\nwant %+v", h, want)
	}
	if h.Score <= 0 || h.Snippet != "" { // a first test says more
		t.Errorf("score %v, snippet %q", h.Score, h.Snippet)
	}
	if got := marked(h.Marks.Symptom); got != "The [fan] [turns] and the [air] stays [cold]" {
		t.Errorf("marks: %s", got)
	}
	h = ix.Search("wont turn on", search.Options{})[0]
	if got := marked(h.Marks.Symptom); got != "It does [not turn] [on]" {
		t.Errorf("marks: %s", got)
	}
}

func marked(ps []search.Piece) string {
	s := ""
	for _, p := range ps {
		if p.Match {
			s += "[" + p.Text + "]"
		} else {
			s += p.Text
		}
	}
	return s
}

func join(ps []search.Piece) string {
	s := ""
	for _, p := range ps {
		s += p.Text
	}
	return s
}

func TestOptions(t *testing.T) {
	ix := open(t, readNotes(t))
	for _, h := range ix.Search("fuse cold dead light no", search.Options{Device: "fan-heater", Limit: 50}) {
		if h.Device != "fan-heater" {
			t.Errorf("%s is of %q", h.ID, h.Device)
		}
	}
	for _, h := range ix.Search("thermal link", search.Options{Kind: "calculator"}) {
		if h.Kind != "calculator" {
			t.Errorf("%s is a %s", h.ID, h.Kind)
		}
	}
	if got := len(ix.Search("the fan", search.Options{Limit: 2})); got != 2 {
		t.Errorf("limit 2 gave %d", got)
	}
	for _, q := range []string{"", "   ", "the", "?!", "zzzzzzzzzqqq"} {
		if hits := ix.Search(q, search.Options{}); len(hits) != 0 {
			t.Errorf("%q found %d notes", q, len(hits))
		}
	}
}

// The first hits are those that all of them would begin with.
func TestFirst(t *testing.T) {
	ix := open(t, readNotes(t))
	for _, q := range []string{"fuse cold dead light no", "does not work", "fan"} {
		all, first := ix.Search(q, search.Options{Limit: 20}), ix.Search(q, search.Options{Limit: 20, First: 3})
		if len(all) < 4 || !reflect.DeepEqual(first, all[:3]) {
			t.Errorf("%s: %+v does not begin %+v", q, first, all)
		}
	}
}

// Equal notes come by ID, wherever they were dealt.
func TestTies(t *testing.T) {
	var docs []search.Document
	for _, id := range []string{"faults/c", "faults/a", "faults/d", "faults/b"} {
		docs = append(docs, search.Document{ID: id, Kind: "fault", Title: "Worn brush"})
	}
	var got []string
	for _, h := range open(t, docs).Search("brush", search.Options{Limit: 3}) {
		got = append(got, h.ID)
	}
	if want := []string{"faults/a", "faults/b", "faults/c"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// Several parts must rank as one would: the same notes among 2,000 others.
func TestParts(t *testing.T) {
	docs := readNotes(t)
	for i := range 2000 {
		docs = append(docs, search.Document{ID: "pages/" + letters(i), Kind: "page", Title: "Page " + letters(i), Text: "Nothing of interest stands here, " + letters(i)})
	}
	files, err := build.Write(docs, spoken, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(files.Shards) < 2+len(docs)/16 {
		t.Fatalf("%d shards for %d notes", len(files.Shards), len(docs))
	}
	ix, err := files.Open()
	if err != nil {
		t.Fatal(err)
	}
	if hits := ix.Search("heater blows cold", search.Options{}); len(hits) == 0 || hits[0].ID != "faults/element-tag-burnt-off" {
		t.Errorf("got %+v", hits)
	}
	if hits := ix.Search("page "+letters(1234), search.Options{}); len(hits) == 0 || hits[0].ID != "pages/"+letters(1234) {
		t.Errorf("got %+v", hits)
	}
}

func letters(n int) string {
	s := "qx"
	for range 4 {
		s += string(rune('a' + n%13))
		n /= 13
	}
	return s
}

func TestEmpty(t *testing.T) {
	ix := open(t, nil)
	if hits := ix.Search("anything", search.Options{Typing: true}); len(hits) != 0 {
		t.Errorf("found %v in nothing", hits)
	}
}

// Every single damaged byte and every cut of the dictionary must be an error; of a
// shard, a sentence beside what is left to be found.
func TestDamage(t *testing.T) {
	files, err := build.Write(readNotes(t)[:3], spoken, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range files.Dictionary {
		bad := slices.Clone(files.Dictionary)
		bad[i] ^= 0x5a
		if _, err := search.Open(bad, files.Shard); err == nil {
			t.Fatalf("byte %d of the dictionary is wrong and it opened", i)
		}
		if _, err := search.Open(files.Dictionary[:i], files.Shard); err == nil {
			t.Fatalf("the dictionary was cut at %d and it opened", i)
		}
	}
	if _, err := search.Open(nil, files.Shard); err == nil {
		t.Error("opened without a dictionary")
	}
	for name, whole := range files.Shards {
		for i := range len(whole) + 1 {
			for _, bad := range [][]byte{slices.Concat(whole[:i], []byte{0x5a}, whole[i:]), whole[:min(i, len(whole)-1)], nil} {
				ix, err := search.Open(files.Dictionary, func(asked string) ([]byte, error) {
					if asked == name {
						return bad, nil
					}
					return files.Shard(asked)
				})
				if err != nil {
					t.Fatal(err)
				}
				a := ix.Ask("fan heater blows cold", search.Options{})
				if a.Trouble == nil || !strings.Contains(a.Trouble.Error(), name) || !strings.Contains(a.Trouble.Error(), "publish again") {
					t.Fatalf("%s is damaged and it says %v", name, a.Trouble)
				}
			}
		}
	}
}

// What is not there yet is asked for, all at once; the answer then is that of an
// index that has everything.
func TestWaits(t *testing.T) {
	docs := readNotes(t)
	for i := range 2000 {
		docs = append(docs, search.Document{ID: "pages/" + letters(i), Kind: "page", Title: "Page " + letters(i), Text: "Nothing of interest stands here, " + letters(i)})
	}
	files, err := build.Write(docs, spoken, nil)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := files.Open()
	if err != nil {
		t.Fatal(err)
	}
	there := map[string][]byte{}
	ix, err := search.Open(files.Dictionary, func(name string) ([]byte, error) {
		if b, ok := there[name]; ok {
			return b, nil
		}
		return nil, search.Later
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range readLines(t, "testdata/queries.txt") {
		query, _, _ := strings.Cut(line, " => ")
		query, typing := strings.CutSuffix(query, "~")
		o := search.Options{Typing: typing}
		a := ix.Ask(query, o)
		rounds := 0
		for ; len(a.Waits) > 0; a = ix.Ask(query, o) {
			if len(a.Hits) > 0 || rounds == 2 {
				t.Fatalf("%s: %d hits while it waits, in round %d", query, len(a.Hits), rounds)
			}
			for _, name := range a.Waits {
				if there[name] != nil {
					t.Fatalf("%s: %s is there and asked for", query, name)
				}
				there[name] = files.Shards[name]
			}
			rounds++
		}
		if want := whole.Ask(query, o); !reflect.DeepEqual(a, want) {
			t.Errorf("%s: %+v, where everything is there %+v", query, a, want)
		}
	}
	if len(there) > len(files.Shards)*2/3 {
		t.Errorf("%d of %d shards were needed", len(there), len(files.Shards))
	}
}

// The files of another publishing are never taken for those of this one.
func TestMixedFiles(t *testing.T) {
	docs := readNotes(t)
	a, _ := build.Write(docs, spoken, nil)
	b, _ := build.Write(docs[1:], spoken, nil)
	ix, err := search.Open(a.Dictionary, b.Shard)
	if err != nil {
		t.Fatal(err)
	}
	if got := ix.Ask("fan heater cold", search.Options{}); got.Trouble == nil {
		t.Errorf("the shards of another publishing were taken: %+v", got)
	}
}

func TestConcurrent(t *testing.T) {
	ix := open(t, readNotes(t))
	queries := readLines(t, "testdata/queries.txt")
	ask := func(line string) string {
		query, _, _ := strings.Cut(line, " => ")
		query, typing := strings.CutSuffix(query, "~")
		ids := ""
		for _, h := range ix.Search(query, search.Options{Typing: typing}) {
			ids += h.ID + " " + h.Snippet + "\n"
		}
		return ids
	}
	alone := map[string]string{}
	for _, line := range queries {
		alone[line] = ask(line)
	}
	var wg sync.WaitGroup
	for g := range 8 {
		wg.Go(func() {
			r := rand.New(rand.NewPCG(1, uint64(g)))
			for range 100 {
				line := queries[r.IntN(len(queries))]
				if ask(line) != alone[line] {
					t.Errorf("%s: another answer than alone", line)
				}
			}
		})
	}
	wg.Wait()
}

func FuzzOpen(f *testing.F) {
	files, err := build.Write(readNotes(f)[:2], spoken, nil)
	if err != nil {
		f.Fatal(err)
	}
	var shard []byte
	for _, shard = range files.Shards {
		f.Add(files.Dictionary, shard)
	}
	f.Add(files.Dictionary[:60], shard)
	f.Add([]byte("fls4"), []byte{})
	f.Fuzz(func(t *testing.T, dictionary, shard []byte) {
		if ix, err := search.Open(dictionary, func(string) ([]byte, error) { return shard, nil }); err == nil {
			ix.Search("fan heter", search.Options{Typing: true})
		}
	})
}

func FuzzSearch(f *testing.F) {
	ix := open(f, readNotes(f))
	for _, q := range []string{"wont turn on", "130 c", "cut-out-x", "not", "bc-547 4k7", "\xff\xfe", "thermallink", "….…", "24-26 V"} {
		f.Add(q, true)
		f.Add(q, false)
	}
	f.Fuzz(func(t *testing.T, query string, typing bool) {
		hits := ix.Search(query, search.Options{Typing: typing, Limit: 5})
		again := ix.Search(query, search.Options{Typing: typing, Limit: 5})
		for i, h := range hits {
			if h.ID != again[i].ID || h.Score != again[i].Score {
				t.Fatalf("%q: another order the second time", query)
			}
			if h.Score <= 0 || h.Score != h.Score || i > 0 && h.Score > hits[i-1].Score {
				t.Fatalf("%q: scores out of order at %d: %v", query, i, h.Score)
			}
			if join(h.Marks.Title) != h.Title || join(h.Marks.Symptom) != h.Symptom || join(h.Marks.Snippet) != h.Snippet {
				t.Fatalf("%q: the pieces of %s do not give its texts", query, h.ID)
			}
		}
	})
}

// A slip in a word that others stand for finds what the word itself finds, and is told.
func TestSlipsInReplacedWords(t *testing.T) {
	ix := open(t, readNotes(t))
	for _, c := range []struct{ typed, from, right string }{
		{"kapputt", "kapputt", "kaputt"},
		{"kapuutt kettle", "kapuutt", "kaputt"},
		{"heater doesmt heat", "doesmt", "doesnt"},
		{"it wouldmt turn off", "wouldmt", "wouldnt"},
		{"brokne plug", "brokne", "broke"},
		{"swithoff", "swithoff", "switchoff"},
	} {
		got := ix.Ask(c.typed, search.Options{Limit: 5})
		want := ix.Ask(strings.Replace(c.typed, c.from, c.right, 1), search.Options{Limit: 5})
		if !slices.Contains(got.Heard.Right, search.Correction{From: c.from, To: c.right}) {
			t.Errorf("%s: it puts right %v", c.typed, got.Heard.Right)
		}
		if !slices.EqualFunc(got.Hits, want.Hits, func(a, b search.Hit) bool { return a.ID == b.ID }) {
			t.Errorf("%s finds %v; rightly spelled it finds %v", c.typed, got.Hits, want.Hits)
		}
	}
	for _, whole := range []string{"newer", "cannon", "agent"} { // near "never", "cannot", "arent", and none of them
		if got := ix.Ask(whole+" kettle", search.Options{}); slices.ContainsFunc(got.Heard.Right, func(c search.Correction) bool { return c.From == whole && words.House().Spelled(c.To) != nil }) {
			t.Errorf("%s is taken for %v", whole, got.Heard.Right)
		}
	}
}
