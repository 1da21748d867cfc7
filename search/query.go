package search

import (
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"

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
	text   string       // of the query, with slips in replaced words put right
	right  []Correction // those
	typed  int          // letters of the query
	plain  []words.Word // of the query
	counts []float64    // by plain word: what is understood as a whole counts less as words
	needs  []need
	hearing

	missing []string // shards to be fetched
	trouble error    // the first shard that cannot be read
	lacking int      // how often a shard could not be had
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
	q := &question{ix: ix, typed: utf8.RuneCountInString(query)}
	if len(query) > longestQuery {
		query = strings.ToValidUTF8(query[:longestQuery], "")
	}
	lexicon := ix.ear.Lexicon
	query = q.righted(query, o)
	q.text = query
	all := lexicon.Split(query)
	plain := words.Plain(all)
	q.plain = plain

	begun, at, unfinished := lexicon.Unfinished(query)
	unfinished = unfinished && o.Typing
	w := &wordings{q, make([][]*term, len(plain)), nil}
	w.typed(unfinished)
	q.hear(w.terms, begun, unfinished, o)
	for i := range w.terms {
		w.terms[i] = weaker(w.terms[i], q.counts[i])
	}
	w.further(all)
	w.alike()
	if unfinished {
		w.begins(begun, at)
	}
	w.weigh()
	q.join(w.terms, w.spans)
	return q
}

// wordings are how a query may be worded. Each step stands alone: a browser translates what loops
// once more, for speed, a whole function at a time.
type wordings struct {
	*question
	terms [][]*term // what each plain word adds
	spans []span
}

// span adds another wording of a stretch of plain words.
//
//go:noinline
func (q *wordings) span(from, to int, other []*term, worth float64) {
	q.spans = append(q.spans, span{from, to, other, worth})
}

// typed finds the words as they were typed, and those that people part or run together.
func (q *wordings) typed(unfinished bool) {
	for i, w := range q.plain {
		if w.Stem == "not" {
			q.terms[i] = []*term{q.one(w.Stem, notWorth)}
			continue
		}
		t, halves := q.wordTerm(w, unfinished && w.End == len(q.text))
		q.terms[i] = []*term{t}
		if halves != nil {
			q.span(i, i+1, halves, 1)
		}
		if i > 0 { // people part words that others write as one
			if joined := q.plain[i-1].Text + w.Text; q.ix.known(joined) && len(joined) > 5 {
				q.span(i-1, i+1, []*term{q.one(words.Stem(joined), 1)}, 1)
			}
		}
	}
}

// further adds the further spellings of what was typed.
func (q *wordings) further(all []words.Word) {
	for _, w := range all {
		if !w.Extra {
			continue
		}
		from, to := q.from(w.Start), len(q.plain)
		for to > 0 && q.plain[to-1].End > w.End {
			to--
		}
		if from < 0 || from >= to {
			continue
		}
		t := q.one(w.Stem, 1)
		if w.Pair {
			if words.Ends(q.plain[to-1].Text) {
				t.worth = pairWorth
			}
			t.worth *= min(q.counts[to-1], q.counts[max(to-2, from)])
			q.terms[to-1] = append(q.terms[to-1], t)
		} else {
			q.span(from, to, []*term{t}, 1)
		}
	}
}

// from is the first plain word that begins at a place in the text or behind it, -1 if none does.
func (q *question) from(at int) int {
	return slices.IndexFunc(q.plain, func(p words.Word) bool { return p.Start >= at })
}

// alike adds what means the same.
func (q *wordings) alike() {
	for _, same := range q.ix.ear.Lexicon.Alike(q.plain) {
		if same.To-same.From > 1 {
			// Found whole, the phrase counts whole; "turn" from "not turn on" by
			// itself may be about something else.
			q.span(same.From, same.To, together(q.terms[same.From:same.To]), 1)
			for i := same.From; i < same.To; i++ {
				q.terms[i] = weaker(q.terms[i], partWorth)
			}
		}
		for _, other := range same.Other {
			q.span(same.From, same.To, q.phrase(other), phraseWorth)
		}
	}
}

// begins adds what the last word may become, which begins at a place in the text.
func (q *wordings) begins(begun string, at int) {
	t := q.beginning(begun)
	if t == nil {
		return
	}
	plain := q.plain
	from := q.from(at)
	if from >= 0 {
		q.span(from, len(plain), []*term{t}, beginsWorth)
		q.spans = append(q.spans, q.finished(plain[:from], t)...)
		if from > 0 && plain[from-1].Stem == "not" {
			q.span(from, len(plain), []*term{t, q.denied(t)}, beginsWorth)
		}
	} else if n := len(plain); n == 0 || plain[n-1].End <= at { // so far it is a word that is passed over, such as "the"
		q.needs = append(q.needs, need{[]way{{must: []*term{t}, worth: beginsWorth / 2}}})
	}
}

// weigh has another wording count for no more than the words themselves.
func (q *wordings) weigh() {
	for i, s := range q.spans {
		most := 0.0
		for _, c := range q.counts[s.from:s.to] {
			most = max(most, c)
		}
		q.spans[i].worth *= most
	}
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
		n := need{[]way{{may: together(terms[from:to])}}}
		for _, s := range spans {
			if s.from >= from && s.to <= to && s.from < to {
				may := append(together(terms[from:s.from]), together(terms[s.to:to])...)
				n.ways = append(n.ways, way{may: may, must: s.other, worth: s.worth})
			}
		}
		q.needs = append(q.needs, n)
		from = to
	}
}

// together puts lists of terms into one.
//
//go:noinline
func together(lists [][]*term) []*term {
	var out []*term
	for _, list := range lists {
		out = append(out, list...)
	}
	return out
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

// righted puts right what is a slip in a word that the lexicon replaces, and parts what was run
// together. The query is cut anew then, because more may follow from such a word than one:
// "doesmt" denies the next.
func (q *question) righted(query string, o Options) string {
	list := words.Plain(q.ix.ear.Lexicon.Split(query))
	for _, w := range slices.Backward(list) {
		if w.Stem == "not" || q.ix.holds(w, o.Typing && w.End == len(query)) || strings.ContainsAny(w.Text, digits) || q.ix.ear.Lexicon.IsOrdinary(w) {
			continue
		}
		to := q.ix.near(w.Text).replaced
		if apart := q.ix.apart(w.Text); apart != "" {
			to = apart
		}
		if to != "" {
			q.right = append(q.right, Correction{query[w.Start:w.End], to})
			query = query[:w.Start] + to + query[w.End:]
		}
	}
	slices.Reverse(q.right)
	return query
}

// apart parts two or three words that were run together, "" if a word is not that, or is nearer to a known one.
func (ix *Index) apart(text string) string {
	if len(text) < 2*leastApart || len(text) > mostApart {
		return ""
	}
	if near := ix.near(text).known; len(near) > 0 && near[0].worth >= nearWorth {
		return ""
	}
	says := func(part string) bool {
		return len(part) >= leastApart && (ix.known(part) || len(ix.ear.Lexicon.Spelled(part)) > 0)
	}
	for i := len(text) - leastApart; i >= leastApart; i-- { // the longest first word
		a, rest := text[:i], text[i:]
		if !says(a) {
			continue
		}
		if says(rest) {
			return a + " " + rest
		}
	}
	return ""
}

// The least letters of a word that may have been run together with another, and the most of both.
const (
	leastApart = 3
	mostApart  = 30
)

// holds says whether notes hold a word, or one that it may become.
func (ix *Index) holds(w words.Word, unfinished bool) bool {
	return ix.known(w.Text) || ix.stands(w.Stem) || unfinished && len(ix.beginning(w.Text)) > 0
}

const digits = "0123456789"

// wordTerm is the term of a word of the query. A word that no note holds is taken
// for a slip: two words run together, or one written wrongly.
func (q *question) wordTerm(w words.Word, unfinished bool) (t *term, halves []*term) {
	if q.ix.holds(w, unfinished) {
		return q.one(w.Stem, 1), nil
	}
	if strings.ContainsAny(w.Text, digits) {
		// Another number is another part, so no slips; but a bare number may be
		// one that is noted with its unit.
		if list := q.ix.withUnit(w.Text); len(list) > 0 {
			return q.term(nearWorth, list...), nil
		}
		return q.one(w.Stem, 1), nil
	}
	for i := 3; i <= len(w.Text)-2; i++ {
		if a, b := w.Text[:i], w.Text[i:]; q.ix.known(a) && q.ix.known(b) {
			halves = []*term{q.one(words.Stem(a), 1), q.one(words.Stem(b), 1)}
			break
		}
	}
	if list := q.ix.near(w.Text).known; len(list) > 0 && !q.ix.ear.Lexicon.IsOrdinary(w) {
		q.slips = append(q.slips, slip{w, list[0].text})
		return q.term(1, list...), halves
	}
	if halves == nil {
		q.strange = append(q.strange, w)
	}
	return q.one(w.Stem, 1), halves
}

// beginning is the term of all words that begin so; nil if there are none.
func (q *question) beginning(text string) *term {
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
	_, ok := ix.Terms.Find(text)
	return ok
}

// stands says whether a note holds a word of this stem, or somebody says one. A
// stem begins like its words.
//
//go:noinline
func (ix *Index) stands(stem string) bool {
	if stem == "" {
		return false
	}
	from, to := ix.Terms.Run(stem[:1])
	for i := from; i < to; i++ {
		if ix.Terms.Stem(i) == stem {
			return true
		}
	}
	return false
}

// spokenDocs is in how many notes a word counts as standing that is only spoken:
// among the words near a slip, it comes before rare ones.
const spokenDocs = 5

// docs is in how many notes a known word stands.
func (ix *Index) docs(i int) int {
	if n := ix.Terms.Docs(i); n > 0 {
		return n
	}
	return spokenDocs
}

// beginning lists the stems of the words that begin with a text, the commonest
// words if they are too many.
func (ix *Index) beginning(text string) []spelling {
	if text == "" {
		return nil
	}
	from, to := ix.Terms.Run(text)
	list := make([]int, 0, mostBegins+1)
	for i := from; i < to; i++ {
		at := len(list)
		if to-from > mostBegins { // the commonest first
			for at > 0 && ix.docs(list[at-1]) < ix.docs(i) {
				at--
			}
		}
		if list = slices.Insert(list, at, i); len(list) > mostBegins {
			list = list[:mostBegins]
		}
	}
	var out []spelling
	for _, i := range list {
		out = ix.addSpelling(out, i, 1)
	}
	return out
}

// withUnit lists the words that are this number and a unit.
func (ix *Index) withUnit(number string) []spelling {
	var out []spelling
	from, to := ix.Terms.Run(number)
	for i := from; i < to; i++ {
		if rest := ix.Terms.Text(i)[len(number):]; rest != "" && len(out) < mostNear && !strings.ContainsAny(rest, digits+".") {
			out = ix.addSpelling(out, i, 1)
		}
	}
	return out
}

// neighbours are the words near a slip: the known ones, and the one that the lexicon replaces, where
// that is likeliest.
type neighbours struct {
	known    []spelling
	replaced string
}

// near gives the words one slip from a text, or two if there are none at
// one and the text is long enough to say what was meant.
func (ix *Index) near(text string) neighbours {
	ix.keep.Lock()
	list, ok := ix.memory.near.get(text)
	ix.keep.Unlock()
	if !ok {
		list = ix.nearest(text)
		ix.keep.Lock()
		ix.memory.near.most = mostSlips
		ix.memory.near.put(text, list, 1)
		ix.keep.Unlock()
	}
	return list
}

// mostSlips is about how many slips are remembered.
const mostSlips = 100

func (ix *Index) nearest(text string) neighbours {
	n := utf8.RuneCountInString(text)
	most := 2
	switch {
	case n < 4 || n > 30:
		return neighbours{}
	case n < 7:
		most = 1
	}
	type candidate struct {
		slips, first, docs int
		term               int
		replaced           string
	}
	var list []candidate
	consider := func(t string, c candidate) {
		if d := len(t) - len(text); d > most+1 || d < -most-1 {
			return
		}
		if c.slips = distance(text, t, most); c.slips > most {
			return
		}
		if c.first = boolInt(t[0] == text[0]); c.first == 0 && c.slips > 1 {
			return // people rarely miss the first letter
		}
		list = append(list, c)
		most = c.slips // nearer ones leave no room for farther ones
	}
	mask, masks := letters(text), ix.letter()
	for i, m := range masks {
		if differing(mask, m) <= 2*most {
			consider(ix.Terms.Text(i), candidate{term: i, docs: ix.docs(i)})
		}
	}
	for _, r := range ix.replaced() {
		consider(r.text, candidate{replaced: r.text, docs: r.docs})
	}
	list = slices.DeleteFunc(list, func(c candidate) bool { return c.slips > most })
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Or(b.first-a.first, b.docs-a.docs) })
	worth := nearWorth
	if most > 1 {
		worth = farWorth
	}
	var out neighbours
	if len(list) > 0 {
		out.replaced = list[0].replaced
	}
	for _, c := range list[:min(len(list), mostNear)] {
		switch {
		case c.replaced != "":
		case c.first == 1:
			out.known = ix.addSpelling(out.known, c.term, worth)
		default:
			out.known = ix.addSpelling(out.known, c.term, float64(worth*worth))
		}
	}
	return out
}

// replacedWord is a word that others stand for, and in how many notes the commonest of those stands.
type replacedWord struct {
	text string
	docs int
}

// replacedWords lists those for which a note holds what is read in their place.
func (ix *Index) replacedWords() []replacedWord {
	var out []replacedWord
	for _, text := range ix.ear.Lexicon.Replaced() {
		r := replacedWord{text: text}
		for _, word := range ix.ear.Lexicon.Spelled(text) {
			if i, ok := ix.Terms.Find(word); ok {
				r.docs = max(r.docs, ix.docs(i))
			}
		}
		if r.docs > 0 {
			out = append(out, r)
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

// addSpelling adds the stem of a known word, once.
func (ix *Index) addSpelling(list []spelling, i int, worth float64) []spelling {
	stem := ix.Terms.Stem(i)
	for _, s := range list {
		if s.stem == stem {
			return list
		}
	}
	return append(list, spelling{stem, worth, ix.Terms.Text(i)})
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
