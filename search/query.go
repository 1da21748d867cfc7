package search

import (
	"slices"
	"strings"
	"unicode/utf8"

	segment "github.com/blevesearch/scorch_segment_api/v2"

	"faultleaf/search/internal/file"
	"faultleaf/search/words"
)

// What further spellings count beside the word as written, and how many may be
// tried: uncapped, the beginnings of two letters are the slow tail.
const (
	phraseWorth = 0.7  // another phrase of the same meaning
	partWorth   = 0.35 // a word of a phrase without the rest of it
	pairWorth   = 0.3  // "turn on" as one word, beside its two words; more costs .007 on Cranfield
	notWorth    = 0.4  // "not" by itself; "not turn" as one word counts whole
	beginsWorth = 0.8  // a word that only begins with what is typed
	nearWorth   = 0.85 // one slip away
	farWorth    = 0.6  // two slips away
	mostBegins  = 30
	mostNear    = 20
)

// question is a query on its way through one index.
type question struct {
	ix     *Index
	text   string
	typed  int          // letters of the query
	plain  []words.Word // of the query
	counts []float64    // by plain word: what is understood as a whole counts less as words
	needs  []need
	cache  map[string][]found
	dicts  []segment.TermDictionary
	hearing
}

// need is one thing asked for. It is met in the best of several ways.
type need struct{ ways []way }

// way is one wording of a need: words that add what they find, and a phrase that
// adds only where all of its words are found.
type way struct {
	may, must []*term
	worth     float64 // of must
}

// span is a stretch of the query's plain words that has another wording.
type span struct {
	from, to int
	other    []*term
	worth    float64
}

// ask turns a query into needs.
func (ix *Index) ask(query string, o Options) *question {
	q := &question{ix: ix, typed: utf8.RuneCountInString(query), cache: map[string][]found{}, dicts: make([]segment.TermDictionary, len(ix.parts)*len(file.Fields))}
	if len(query) > longestQuery {
		query = strings.ToValidUTF8(query[:longestQuery], "")
	}
	q.text = query
	lexicon := ix.ear.Lexicon
	all := lexicon.Split(query)
	plain := words.Plain(all)
	q.plain = plain

	begun, at, unfinished := lexicon.Unfinished(query)
	unfinished = unfinished && o.Typing
	terms := make([][]*term, len(plain)) // what each plain word adds
	var spans []span
	for i, w := range plain {
		if w.Stem == "not" {
			terms[i] = []*term{q.one(w.Stem, notWorth)}
			continue
		}
		last := unfinished && w.End == len(query)
		t, halves := q.wordTerm(w, last)
		terms[i] = []*term{t}
		if halves != nil {
			spans = append(spans, span{i, i + 1, halves, 1})
		}
		if i > 0 { // people part words that others write as one
			if joined := plain[i-1].Text + w.Text; ix.known(joined) && len(joined) > 5 {
				spans = append(spans, span{i - 1, i + 1, []*term{q.one(stemOf(joined), 1)}, 1})
			}
		}
	}
	q.hear(terms, begun, unfinished, o)
	for i := range terms {
		terms[i] = weaker(terms[i], q.counts[i])
	}
	for _, w := range all {
		if !w.Extra {
			continue
		}
		from, to := slices.IndexFunc(plain, func(p words.Word) bool { return p.Start >= w.Start }), len(plain)
		for to > 0 && plain[to-1].End > w.End {
			to--
		}
		if from < 0 || from >= to {
			continue
		}
		t := q.one(w.Stem, 1)
		if w.Pair {
			if words.Ends(plain[to-1].Text) {
				t.worth = pairWorth
			}
			t.worth *= min(q.counts[to-1], q.counts[max(to-2, from)])
			terms[to-1] = append(terms[to-1], t)
		} else {
			spans = append(spans, span{from, to, []*term{t}, 1})
		}
	}
	for _, same := range lexicon.Alike(plain) {
		if same.To-same.From > 1 {
			// Found whole, the phrase counts whole; "turn" from "not turn on" by
			// itself may be about something else.
			spans = append(spans, span{same.From, same.To, slices.Concat(terms[same.From:same.To]...), 1})
			for i := same.From; i < same.To; i++ {
				terms[i] = weaker(terms[i], partWorth)
			}
		}
		for _, other := range same.Other {
			spans = append(spans, span{same.From, same.To, q.phrase(other), phraseWorth})
		}
	}
	if unfinished {
		if t := q.begins(begun); t != nil {
			from := slices.IndexFunc(plain, func(p words.Word) bool { return p.Start >= at })
			if from >= 0 {
				spans = append(spans, span{from, len(plain), []*term{t}, beginsWorth})
				spans = append(spans, q.finished(plain[:from], t)...)
				if from > 0 && plain[from-1].Stem == "not" {
					spans = append(spans, span{from, len(plain), []*term{t, q.denied(t)}, beginsWorth})
				}
			} else if n := len(plain); n == 0 || plain[n-1].End <= at { // so far it is a word that is passed over, such as "the"
				q.needs = append(q.needs, need{[]way{{must: []*term{t}, worth: beginsWorth / 2}}})
			}
		}
	}
	for i, s := range spans { // another wording counts for no more than the words themselves
		most := 0.0
		for _, c := range q.counts[s.from:s.to] {
			most = max(most, c)
		}
		spans[i].worth *= most
	}
	q.join(terms, spans)
	return q
}

// longestQuery in bytes; nobody types more, but somebody pastes it.
const longestQuery = 2000

// join makes one need of the words that a span holds together, one way for the
// words as typed and one for each span.
func (q *question) join(terms [][]*term, spans []span) {
	for from := 0; from < len(terms); {
		to := from + 1
		for grown := true; grown; {
			grown = false
			for _, s := range spans {
				if s.from < to && s.to > to && s.from >= from {
					to, grown = s.to, true
				}
			}
		}
		n := need{[]way{{may: slices.Concat(terms[from:to]...)}}}
		for _, s := range spans {
			if s.from >= from && s.to <= to && s.from < to {
				may := slices.Concat(slices.Concat(terms[from:s.from]...), slices.Concat(terms[s.to:to]...))
				n.ways = append(n.ways, way{may: may, must: s.other, worth: s.worth})
			}
		}
		q.needs = append(q.needs, n)
		from = to
	}
}

// phrase gives the terms of another wording. Words that are indexed as pairs are
// asked for as pairs: "not turn on" as not-turn and turn-on.
func (q *question) phrase(ws []words.Word) []*term {
	var out []*term
	for i, w := range ws {
		stem := w.Stem
		switch {
		case stem == "not" && i+1 < len(ws):
			continue // told by the next
		case i > 0 && ws[i-1].Stem == "not":
			stem = words.Deny(stem)
		case i > 0 && words.Ends(w.Text):
			if len(out) > 0 && i == 1 {
				out = out[:0] // the pair tells the first word too
			}
			stem = words.With(ws[i-1].Stem, w.Text)
		}
		out = append(out, q.one(stem, 1))
	}
	return out
}

// wordTerm is the term of a word of the query. A word that no note holds is taken
// for a slip: two words run together, or one written wrongly.
func (q *question) wordTerm(w words.Word, unfinished bool) (t *term, halves []*term) {
	if len(q.find(w.Stem)) > 0 || q.ix.known(w.Text) || unfinished && len(q.ix.beginning(w.Text)) > 0 {
		return q.one(w.Stem, 1), nil
	}
	if strings.ContainsAny(w.Text, "0123456789") {
		// Another number is another part, so no slips; but a bare number may be
		// one that is noted with its unit.
		if list := q.ix.withUnit(w.Text); len(list) > 0 {
			return q.term(nearWorth, list...), nil
		}
		return q.one(w.Stem, 1), nil
	}
	for i := 3; i <= len(w.Text)-2; i++ {
		if a, b := w.Text[:i], w.Text[i:]; q.ix.known(a) && q.ix.known(b) {
			halves = []*term{q.one(stemOf(a), 1), q.one(stemOf(b), 1)}
			break
		}
	}
	if list := q.ix.near(w.Text); len(list) > 0 {
		q.slips = append(q.slips, slip{w, list[0].text})
		return q.term(1, list...), halves
	}
	if halves == nil {
		q.strange = append(q.strange, w)
	}
	return q.one(w.Stem, 1), halves
}

// begins is the term of all words that begin so; nil if there are none.
func (q *question) begins(text string) *term {
	list := q.ix.beginning(text)
	if len(list) == 0 {
		return nil
	}
	return q.term(1, list...)
}

// weaker gives terms that count for less.
func weaker(list []*term, worth float64) []*term {
	if worth == 1 {
		return list
	}
	var out []*term
	for _, t := range list {
		less := *t
		less.worth *= worth
		out = append(out, &less)
	}
	return out
}

// finished looks for phrases of several words that the unfinished one may end.
func (q *question) finished(before []words.Word, last *term) []span {
	var out []span
	plain := append(slices.Clone(before), words.Word{})
	for _, s := range last.spellings {
		plain[len(before)].Stem = s.stem
		for _, same := range q.ix.ear.Lexicon.Alike(plain) {
			if same.To < len(plain) || same.From == len(before) {
				continue
			}
			for _, other := range same.Other {
				out = append(out, span{same.From, same.To, q.phrase(other), phraseWorth * beginsWorth})
			}
		}
	}
	return out
}

// denied is the term of "not" before any of the words of a term.
func (q *question) denied(t *term) *term {
	var list []spelling
	for _, s := range t.spellings {
		list = append(list, spelling{words.Deny(s.stem), s.worth, ""})
	}
	return q.term(1, list...)
}

// known says whether a note holds the word, or somebody says it.
func (ix *Index) known(text string) bool {
	_, ok := known(ix.terms, text)
	return ok
}

func known(terms []file.Term, text string) (at int, ok bool) {
	return slices.BinarySearchFunc(terms, text, func(t file.Term, s string) int { return strings.Compare(t.Text, s) })
}

// run gives the known words that begin with a text.
func (ix *Index) run(text string) []file.Term {
	from, _ := known(ix.terms, text)
	to := from
	for to < len(ix.terms) && strings.HasPrefix(ix.terms[to].Text, text) {
		to++
	}
	return ix.terms[from:to]
}

// beginning lists the stems of the words that begin with a text, the commonest
// words if they are too many.
func (ix *Index) beginning(text string) []spelling {
	if text == "" {
		return nil
	}
	list := ix.run(text)
	if len(list) > mostBegins {
		list = slices.Clone(list)
		slices.SortStableFunc(list, func(a, b file.Term) int { return b.Docs - a.Docs })
		list = list[:mostBegins]
	}
	var out []spelling
	for _, t := range list {
		out = addSpelling(out, t.Text, 1)
	}
	return out
}

// withUnit lists the words that are this number and a unit.
func (ix *Index) withUnit(number string) []spelling {
	var out []spelling
	for _, t := range ix.run(number) {
		if rest := t.Text[len(number):]; rest != "" && len(out) < mostNear && !strings.ContainsAny(rest, "0123456789.") {
			out = addSpelling(out, t.Text, 1)
		}
	}
	return out
}

// near lists the known words one slip from a text, or two if there are none at
// one and the text is long enough to say what was meant.
func (ix *Index) near(text string) []spelling {
	n := utf8.RuneCountInString(text)
	most := 2
	switch {
	case n < 4 || n > 30:
		return nil
	case n < 7:
		most = 1
	}
	type candidate struct {
		file.Term
		slips int
	}
	var list []candidate
	mask, masks := letters(text), ix.letter()
	for i, t := range ix.terms {
		if d := len(t.Text) - len(text); d > most+1 || d < -most-1 || differing(mask, masks[i]) > 2*most {
			continue
		}
		if slips := distance(text, t.Text, most); slips <= most {
			if t.Text[0] != text[0] && slips > 1 {
				continue // people rarely miss the first letter
			}
			list = append(list, candidate{t, slips})
			most = min(most, slips) // nearer ones leave no room for farther ones
		}
	}
	list = slices.DeleteFunc(list, func(c candidate) bool { return c.slips > most })
	slices.SortStableFunc(list, func(a, b candidate) int {
		if first := boolInt(b.Text[0] == text[0]) - boolInt(a.Text[0] == text[0]); first != 0 {
			return first
		}
		return b.Docs - a.Docs
	})
	worth := nearWorth
	if most > 1 {
		worth = farWorth
	}
	var out []spelling
	for _, c := range list[:min(len(list), mostNear)] {
		if c.Text[0] == text[0] {
			out = addSpelling(out, c.Text, worth)
		} else {
			out = addSpelling(out, c.Text, float64(worth*worth))
		}
	}
	return out
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

func addSpelling(list []spelling, text string, worth float64) []spelling {
	stem := stemOf(text)
	for _, s := range list {
		if s.stem == stem {
			return list
		}
	}
	return append(list, spelling{stem, worth, text})
}

// letters is the set of letters in a text, one bit each; all else shares a bit.
func letters(s string) uint32 {
	var m uint32
	for i := 0; i < len(s); i++ {
		if c := s[i]; 'a' <= c && c <= 'z' {
			m |= 1 << (c - 'a')
		} else {
			m |= 1 << 26
		}
	}
	return m
}

// differing counts the letters that only one of two sets has. One slip changes
// at most two.
func differing(a, b uint32) int {
	n := 0
	for x := a ^ b; x != 0; x &= x - 1 {
		n++
	}
	return n
}

// distance counts the slips between two words, up to one more than most: a
// letter left out, added or wrong, or two that changed places (optimal string
// alignment distance).
func distance(a, b string, most int) int {
	x, y := []rune(a), []rune(b)
	if d := len(x) - len(y); d > most || -d > most {
		return most + 1
	}
	before := make([]int, len(y)+1)
	last := make([]int, len(y)+1)
	row := make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		least := i
		for j := 1; j <= len(y); j++ {
			v := last[j-1]
			if x[i-1] != y[j-1] {
				v = min(v, last[j], row[j-1]) + 1
			}
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				v = min(v, before[j-2]+1)
			}
			row[j] = v
			least = min(least, v)
		}
		if least > most {
			return most + 1
		}
		before, last, row = last, row, before
	}
	return min(last[len(y)], most+1)
}
