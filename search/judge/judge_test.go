// Package judge measures the search. The published collections are no part of the
// project: they are read from data/ in the folder that FAULTLEAF_DATA names, and
// where that is missing each measurement on them is passed over.
package judge

import (
	"bufio"
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"

	"faultleaf/search"
	"faultleaf/search/build"
	"faultleaf/search/words"
)

// data opens a file of the collections, or passes the test over.
func data(t testing.TB, name string) *os.File {
	folder := os.Getenv("FAULTLEAF_DATA")
	if folder == "" {
		t.Skip("FAULTLEAF_DATA names no folder with the published collections, so this is not measured")
	}
	f, err := os.Open(filepath.Join(folder, "data", filepath.FromSlash(name)))
	if err != nil {
		t.Skipf("the collection %s is not in the folder that FAULTLEAF_DATA names, so this is not measured", name)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

func open(t testing.TB, docs []search.Document) *search.Index {
	files, err := build.Write(docs, search.Speech{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	ix, err := files.Open()
	if err != nil {
		t.Fatal(err)
	}
	return ix
}

// sections reads the form of Cranfield: ".I n", then ".T", ".W" and so on, each
// with lines below.
func sections(t testing.TB, name string) []map[string]string {
	var out []map[string]string
	key := ""
	sc := bufio.NewScanner(data(t, name))
	for sc.Scan() {
		line := sc.Text()
		switch {
		case strings.HasPrefix(line, ".I "):
			out = append(out, map[string]string{"I": strings.TrimSpace(line[3:])})
		case len(line) == 2 && line[0] == '.':
			key = line[1:]
		case len(out) > 0:
			out[len(out)-1][key] += line + "\n"
		}
	}
	return out
}

func cranfield(t testing.TB) []search.Document {
	var docs []search.Document
	for _, s := range sections(t, "cranfield/cran.all.1400") {
		title := strings.Join(strings.Fields(s["T"]), " ")
		text := strings.Join(strings.Fields(s["W"]), " ")
		docs = append(docs, search.Document{ID: s["I"], Kind: "fault", Title: title, Text: text})
	}
	return docs
}

// judged reads the judgements: by query, counted from 1 in the order of the file,
// the grade of each document. The last row of each query is graded 1 in this copy
// where the commonly circulated one has -1, so it can be dropped.
func judged(t testing.TB, value func(code float64) float64, dropLast bool) map[int]map[string]float64 {
	out := map[int]map[string]float64{}
	last := map[int]string{}
	sc := bufio.NewScanner(data(t, "cranfield/cranqrel"))
	for sc.Scan() {
		f := strings.Fields(sc.Text())
		if len(f) != 3 {
			continue
		}
		q, err1 := strconv.Atoi(f[0])
		grade, err2 := strconv.ParseFloat(f[2], 64)
		if err1 != nil || err2 != nil {
			t.Fatalf("judgement %q", sc.Text())
		}
		if out[q] == nil {
			out[q] = map[string]float64{}
		}
		out[q][f[1]], last[q] = value(grade), f[1]
	}
	if dropLast {
		for q, doc := range last {
			delete(out[q], doc)
		}
	}
	return out
}

// gain of a grade. Cleverdon's codes, as the collection's readme gives them: 1 is a
// complete answer, 2 of high, 3 of some, 4 of least relevance, 5 of none.
func gain(code float64) float64 { return 5 - code }

// yes counts each relevant document alike.
func yes(float64) float64 { return 1 }

// ndcg is the normalised discounted cumulative gain of the first ten hits: Järvelin
// and Kekäläinen, "Cumulated gain-based evaluation of IR techniques", ACM TOIS
// 20(4), 2002, discounted by log2 of the place plus one.
func ndcg(hits []search.Hit, grades map[string]float64) float64 {
	got, ideal := 0.0, 0.0
	for i, h := range hits[:min(10, len(hits))] {
		got += max(0, grades[h.ID]) / math.Log2(float64(i)+2)
	}
	var all []float64
	for _, g := range grades {
		all = append(all, max(0, g))
	}
	sort.Sort(sort.Reverse(sort.Float64Slice(all)))
	for i, g := range all[:min(10, len(all))] {
		ideal += g / math.Log2(float64(i)+2)
	}
	if ideal == 0 {
		return 0
	}
	return got / ideal
}

// Cranfield: 1,400 abstracts, 225 questions (C. Cleverdon, 1960s).
func TestCranfield(t *testing.T) {
	ix := open(t, cranfield(t))
	queries := sections(t, "cranfield/cran.qry")
	for _, c := range []struct {
		name     string
		value    func(float64) float64
		dropLast bool
		floor    float64
	}{
		{"graded, all judgements", gain, false, 0.532}, {"graded, last row dropped", gain, true, 0.380},
		{"relevant or not, all judgements", yes, false, 0.530}, {"relevant or not, last row dropped", yes, true, 0.397},
	} {
		grades := judged(t, c.value, c.dropLast)
		sum, n := 0.0, 0
		for i, s := range queries {
			g := grades[i+1]
			if len(g) == 0 {
				continue
			}
			sum += ndcg(ix.Search(s["W"], search.Options{}), g)
			n++
		}
		mean := sum / float64(n)
		t.Logf("nDCG@10, %s: %.4f over %d questions", c.name, mean, n)
		if mean < c.floor {
			t.Errorf("nDCG@10, %s: %.4f is below the floor of %.3f", c.name, mean, c.floor)
		}
	}
}

// record is one line of repair_records.csv: Open Repair Data, Open Repair Alliance
// and its data providers, CC BY-SA 4.0.
type record struct{ id, product, problem string }

func records(t testing.TB) []record {
	rows, err := csv.NewReader(data(t, "repair_records.csv")).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []record
	for _, r := range rows[1:] {
		out = append(out, record{r[0], r[1], r[4]})
	}
	return out
}

func notesOf(list []record) []search.Document {
	var docs []search.Document
	for _, r := range list {
		docs = append(docs, search.Document{ID: r.id, Kind: "fault", Title: r.product, DeviceTitle: r.product, Symptoms: []search.Symptom{{Says: r.problem}}})
	}
	return docs
}

// Known items: each query of symptom_queries.csv is a stretch of a real record. The
// record is put among the 15,000 and should be found by the query with its product,
// as far as the query tells it from its neighbours at all.
func TestKnownItems(t *testing.T) {
	rows, err := csv.NewReader(data(t, "symptom_queries.csv")).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	list := records(t)
	there := map[string]bool{}
	for _, r := range list {
		there[r.id] = true
	}
	for _, r := range rows[1:] {
		if !there[r[0]] {
			list = append(list, record{r[0], r[2], r[8]})
		}
	}
	ix := open(t, notesOf(list))
	sum, ten := 0.0, 0
	for _, r := range rows[1:] {
		place := 0
		for i, h := range ix.Search(r[3], search.Options{}) {
			if h.ID == r[0] {
				place = i + 1
				break
			}
		}
		if place > 0 {
			sum += 1 / float64(place)
			ten++
		}
	}
	n := float64(len(rows) - 1)
	t.Logf("known items: mean reciprocal rank %.3f, in the first ten %.2f, of %.0f queries among %d records", sum/n, float64(ten)/n, n, len(list))
	if mrr := sum / n; mrr < 0.66 {
		t.Errorf("mean reciprocal rank %.3f is below the floor of 0.66", mrr)
	}
}

// One slip in one word: how much of the ranking on Cranfield is left, and how often
// the slipped word leads back to the notes of the right one.
func TestOneSlip(t *testing.T) {
	ix := open(t, cranfield(t))
	grades := judged(t, gain, false)
	r := rand.New(rand.NewPCG(20, 25))
	clean, slipped, n := 0.0, 0.0, 0
	for i, s := range sections(t, "cranfield/cran.qry") {
		if len(grades[i+1]) == 0 {
			continue
		}
		clean += ndcg(ix.Search(s["W"], search.Options{}), grades[i+1])
		slipped += ndcg(ix.Search(oneSlip(r, s["W"]), search.Options{}), grades[i+1])
		n++
	}
	t.Logf("nDCG@10 with one slip in each query: %.4f, without %.4f, kept %.1f %%", slipped/float64(n), clean/float64(n), 100*slipped/clean)
	if slipped < 0.96*clean {
		t.Errorf("one slip leaves %.1f %% of the ranking, less than 96 %%", 100*slipped/clean)
	}

	// Words by themselves, from real texts.
	list := records(t)[:3000]
	rx := open(t, notesOf(list))
	found, tried := 0, 0
	for tried < 1000 {
		ws := words.Plain(words.House().Split(list[r.IntN(len(list))].problem))
		if len(ws) == 0 {
			continue
		}
		w := ws[r.IntN(len(ws))].Text
		if len(w) < 5 || strings.ContainsAny(w, "0123456789°%") {
			continue
		}
		tried++
		want := rx.Search(w, search.Options{Limit: 1})
		for _, h := range rx.Search(slip(r, w), search.Options{Limit: 10}) {
			if len(want) > 0 && holds(h, words.Stem(w)) {
				found++
				break
			}
		}
	}
	share := float64(found) / float64(tried)
	t.Logf("slipped words that find their right one in the first ten: %.3f of %d", share, tried)
	if share < 0.94 {
		t.Errorf("%.3f of the slipped words find their right one, less than 0.94", share)
	}
}

func holds(h search.Hit, stem string) bool {
	return slices.ContainsFunc(words.House().Split(h.Symptom+"\n"+h.Title), func(w words.Word) bool { return w.Stem == stem })
}

// oneSlip spoils one of the longer words of a text.
func oneSlip(r *rand.Rand, text string) string {
	ws := strings.Fields(text)
	var long []int
	for i, w := range ws {
		if len(w) >= 5 {
			long = append(long, i)
		}
	}
	if len(long) > 0 {
		i := long[r.IntN(len(long))]
		ws[i] = slip(r, ws[i])
	}
	return strings.Join(ws, " ")
}

// slip leaves a letter out, adds one, takes a wrong one, or swaps two.
func slip(r *rand.Rand, w string) string {
	i := 1 + r.IntN(len(w)-2)
	letter := string(rune('a' + r.IntN(26)))
	switch r.IntN(4) {
	case 0:
		return w[:i] + w[i+1:]
	case 1:
		return w[:i] + letter + w[i:]
	case 2:
		return w[:i] + letter + w[i+1:]
	}
	return w[:i] + w[i+1:i+2] + w[i:i+1] + w[i+2:]
}

// BenchmarkTyped answers a query at each letter typed, among 15,000 records, and
// reports the slowest twentieth beside the mean.
func BenchmarkTyped(b *testing.B) {
	ix := open(b, notesOf(records(b)))
	var typed []string
	for _, q := range []string{"wont turn on", "no lites", "smells hot", "bc547", "130C", "heater blows cold", "tripping the electrics", "intermitant sound"} {
		for i := range q {
			typed = append(typed, q[:i+1])
		}
	}
	var took []float64
	for i := 0; b.Loop(); i++ {
		before := b.Elapsed()
		ix.Search(typed[i%len(typed)], search.Options{Typing: true})
		took = append(took, float64(b.Elapsed()-before))
	}
	sort.Float64s(took)
	b.ReportMetric(took[len(took)*95/100], "ns/p95")
	b.ReportMetric(float64(len(typed)), "queries")
}

// BenchmarkOpen opens the index of 15,000 records.
func BenchmarkOpen(b *testing.B) {
	files, err := build.Write(notesOf(records(b)), search.Speech{}, nil)
	if err != nil {
		b.Fatal(err)
	}
	size := len(files.Dictionary)
	for _, shard := range files.Shards {
		size += len(shard)
	}
	for b.Loop() {
		if _, err := files.Open(); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(size), "bytes")
	b.ReportMetric(float64(len(files.Dictionary)), "bytes-of-dictionary")
}
