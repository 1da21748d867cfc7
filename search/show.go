package search

import (
	"strings"
	"sync"

	"faultleaf/search/internal/file"
	"faultleaf/search/words"
)

// snippetWords is how many words of the text a hit shows.
const snippetWords = 28

// show makes the hit of a ranked document.
func (ix *Index) show(q *question, r ranked) (Hit, bool) {
	read := ix.reading(q, r.doc)
	if read == nil {
		return Hit{}, false
	}
	rec := read.rec
	weight := q.weights(int32(r.doc))
	h := Hit{ID: rec.ID, Kind: ix.kind(r.doc), Title: rec.Title, Address: rec.Address, DeviceTitle: rec.DeviceTitle,
		FirstTest: rec.FirstTest, FirstMinutes: rec.FirstMinutes, Hazard: rec.Hazard, Chain: rec.Chain, Score: r.score}
	if d := ix.device(r.doc); d >= 0 {
		h.Device = ix.Heard.Devices[d].Name
	}
	best, spoken, symptoms := 0.0, []words.Word(nil), read.symptoms()
	for i, s := range rec.Symptoms {
		if v := weigh(symptoms[i], weight) + q.asked(s.Is); v > best {
			best, spoken, h.Symptom = v, symptoms[i], s.Says
		}
	}
	if q.typed >= worthSnippet && h.FirstTest == "" { // what to do first says more than a stretch of text
		h.Snippet = snippet(rec.Text, read.taken(), weight)
	}
	h.Marks = Marks{mark(h.Title, read.title(), weight), mark(h.Symptom, spoken, weight), nil}
	if h.Snippet != "" {
		h.Marks.Snippet = mark(h.Snippet, ix.ear.Lexicon.Split(h.Snippet), weight)
	}
	return h, true
}

// reading is a document made ready for showing. Taking its text apart costs more
// than all the searching, and while somebody types the same documents come again.
type reading struct {
	rec      *file.Record
	taken    func() []words.Word
	title    func() []words.Word
	symptoms func() [][]words.Word
}

// worthSnippet is the number of letters from which a hit shows some text: a letter
// or two say nothing about it.
const worthSnippet = 3

// mostReadings are kept; then all are forgotten.
const mostReadings = 300

// reading makes a document ready for showing, nil if it cannot be had.
func (ix *Index) reading(q *question, doc int) *reading {
	ix.keep.Lock()
	r := ix.readings[doc]
	ix.keep.Unlock()
	if r != nil {
		return r
	}
	rec, name, err := ix.shards.record(doc)
	if err != nil {
		q.lacks(name, err)
		return nil
	}
	r = &reading{rec: rec}
	r.taken = sync.OnceValue(func() []words.Word { return ix.ear.Lexicon.Split(rec.Text) })
	r.title = sync.OnceValue(func() []words.Word { return ix.ear.Lexicon.Split(rec.Title) })
	r.symptoms = sync.OnceValue(func() (out [][]words.Word) {
		for _, s := range rec.Symptoms {
			out = append(out, ix.ear.Lexicon.Split(s.Says))
		}
		return out
	})
	ix.keep.Lock()
	if ix.readings == nil || len(ix.readings) >= mostReadings {
		ix.readings = map[int]*reading{}
	}
	ix.readings[doc] = r
	ix.keep.Unlock()
	return r
}

// weights gives the stems by which a document met the query, and what each is
// worth. Bare "not" is left out: it stands everywhere.
func (q *question) weights(doc int32) map[string]float64 {
	out := map[string]float64{}
	add := func(list []*term) {
		for _, t := range list {
			if v, ok := t.value(doc); ok {
				for _, s := range t.spellings {
					if s.stem != "not" {
						out[s.stem] = max(out[s.stem], v)
					}
				}
			}
		}
	}
	for _, n := range q.needs {
		best, at := 0.0, 0
		for i := range n.ways {
			if v := n.ways[i].score(doc); v > best {
				best, at = v, i
			}
		}
		add(n.ways[0].may) // the words as typed are shown wherever they stand
		add(n.ways[at].may)
		add(n.ways[at].must)
	}
	return out
}

// weigh sums the worth of the different stems in a stretch of words.
func weigh(ws []words.Word, weight map[string]float64) float64 {
	sum := 0.0
	for i, w := range ws {
		v := weight[w.Stem]
		for _, earlier := range ws[:i] {
			if v == 0 || earlier.Stem == w.Stem {
				v = 0
				break
			}
		}
		sum += v
	}
	return sum
}

// snippet cuts the stretch of a text that says most about the query, at words.
func snippet(text string, ws []words.Word, weight map[string]float64) string {
	if len(ws) == 0 {
		return text
	}
	from, best := 0, 0.0
	for i, w := range ws {
		if weight[w.Stem] == 0 {
			continue
		}
		if v := weigh(ws[i:min(len(ws), i+snippetWords)], weight); v > best {
			from, best = i, v
		}
	}
	// Begin at the sentence if it began shortly before.
	start := ws[from].Start
	for back := 1; back <= 6 && from-back >= 0; back++ {
		between := text[ws[from-back].End:max(ws[from-back].End, ws[from-back+1].Start)]
		if strings.ContainsAny(between, ".:;!?") {
			break
		}
		start = min(start, ws[from-back].Start)
		if from-back == 0 {
			start = 0
		}
	}
	if from == 0 {
		start = 0
	}
	// Words that are passed over stand between; begin where the last one ended.
	if cut := strings.LastIndexAny(text[:start], ".:;!?") + 1; cut > 0 && start-cut < 30 {
		start = cut
	}
	end := len(text)
	if last := from + snippetWords; last < len(ws) {
		end = ws[last-1].End
		if dot := strings.IndexAny(text[end:], ". "); dot == 0 && text[end] == '.' {
			end++
		}
	}
	out := strings.TrimSpace(text[start:max(start, end)])
	if start > 0 {
		out = "… " + out
	}
	if end < len(text) {
		out += " …"
	}
	return out
}

// mark cuts a text, given with its words, where the words of the query stand in it.
func mark(text string, ws []words.Word, weight map[string]float64) []Piece {
	if text == "" {
		return nil
	}
	var out []Piece
	add := func(s string, match bool) {
		switch {
		case s == "":
		case len(out) > 0 && out[len(out)-1].Match == match:
			out[len(out)-1].Text += s
		default:
			out = append(out, Piece{s, match})
		}
	}
	at := 0
	for i := 0; i < len(ws); i++ {
		if weight[ws[i].Stem] == 0 || ws[i].End <= at {
			continue
		}
		start, end := ws[i].Start, ws[i].End
		for _, later := range ws[i+1:] { // "not turn" stands after the "turn" it holds
			if later.Start < start && later.Start >= at && weight[later.Stem] > 0 && later.End >= end {
				start, end = later.Start, later.End
			}
		}
		start = max(start, at)
		add(text[at:start], false)
		add(text[start:end], true)
		at = end
	}
	add(text[at:], false)
	return out
}
