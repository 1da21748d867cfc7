// Package words says what a word is: for the index when it is written and for a
// query when it is asked, so that both spell alike.
//
// Split takes a text through these steps:
//
//  1. Fold: lower case, no accents, µ as u, Ω as ohm.
//  2. Cut into words and numbers. A word may hold digits, so bc547 stays whole.
//  3. Join a number and its unit, in one spelling: 130C, 130 °C and 130 degC are
//     130c; 4k7 and 4.7 kΩ are 4.7k; 0,5 A is 0.5a.
//  4. Put shop spellings right from the list in shop.txt: doesnt is not, lites is
//     lights. Negations all become "not", because they tell more than any
//     other small word of a symptom.
//  5. Drop words that say nothing about a fault, such as "the" and "does".
//  6. Add further spellings of the same place: cut-out also as cutout, and "does
//     not turn" also as not-turn, so that it is told from "turns", and "turn on"
//     also as turn-on, so that it is told from "turn off".
//  7. Stem with the Porter2 rules for English; words with digits stay as they are.
//
// Alike finds phrases in a query that have others of the same meaning.
package words

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Word is one word of a text.
type Word struct {
	Text       string // its spelling after folding
	Stem       string
	Start, End int  // bytes of the text it came from
	Extra      bool // a further spelling of what stands beside it, not a word more
	Pair       bool // this Extra joins two words that mean another thing together: not-turn, turn-on
	Idle       bool // it says nothing about a fault; only All gives such words
	Cut        bool // punctuation stands between it and the word before
}

// longest is the length in bytes at which a word is cut off. Longer ones are
// addresses and accidents, and the index should not carry them.
const longest = 60

// Split cuts a text into words, in reading order. It takes any bytes.
func (l *Lexicon) Split(text string) []Word { return l.split(text, false) }

// All gives the words without further spellings and with the idle ones, as a
// phrase is read: "works for a while" is more than "works".
func (l *Lexicon) All(text string) []Word { return Plain(l.split(text, true)) }

func (l *Lexicon) split(text string, all bool) []Word {
	raw := l.scan(text)
	raw = joinUnits(raw)
	var out []Word
	not, notAge := -1, 0
	before := -1 // the word just before, in out
	cut := false // punctuation since the word before
	add := func(w Word) {
		w.Cut, cut = cut, false
		out = append(out, w)
	}
	for i := 0; i < len(raw); i++ {
		r := &raw[i]
		cut = cut || r.cut
		if r.breaks {
			not = -1
		}
		// A hyphen makes one word of several, and people leave it out.
		if joined, last := hyphened(raw, i); last > i {
			out = append(out, Word{Text: joined, Stem: Stem(joined), Start: r.start, End: raw[last].end, Extra: true})
		}
		for _, text := range l.spell(r.text) {
			if text == "not" {
				before = -1
				add(Word{Text: text, Stem: text, Start: r.start, End: r.end})
				not, notAge = r.start, 0
				continue
			}
			if idle[text] {
				before = -1
				if all {
					add(Word{Text: text, Stem: text, Start: r.start, End: r.end, Idle: true})
				}
				continue
			}
			at := len(out)
			w := Word{Text: text, Stem: Stem(text), Start: r.start, End: r.end}
			add(w)
			if before >= 0 && Ends(text) && !r.breaks {
				verb := out[before]
				out = append(out, Word{Text: verb.Text + "-" + text, Stem: With(verb.Stem, text), Start: verb.Start, End: r.end, Extra: true, Pair: true})
			}
			before = -1
			if !r.number && !Ends(text) {
				before = at
			}
			if not >= 0 {
				if filler[text] && notAge < 2 {
					notAge++
					continue
				}
				out = append(out, Word{Text: "not-" + text, Stem: Deny(w.Stem), Start: not, End: r.end, Extra: true, Pair: true})
				not = -1
			}
		}
	}
	return out
}

// Deny is the stem under which "not" together with a stem is indexed.
func Deny(stem string) string { return "not-" + stem }

// With is the stem under which a word and the small word that ends it are indexed.
func With(stem, ends string) string { return stem + "-" + ends }

// Ends says whether a small word can change what the one before it means: turn on,
// turn off, cut out, power up.
func Ends(text string) bool {
	switch text {
	case "on", "off", "out", "up":
		return true
	}
	return false
}

// Plain leaves out the further spellings.
func Plain(ws []Word) []Word {
	out := make([]Word, 0, len(ws))
	for _, w := range ws {
		if !w.Extra {
			out = append(out, w)
		}
	}
	return out
}

// idle words say nothing about a fault. Prepositions that do (on, off, out, up,
// down, over, under) and every negation are missing on purpose.
var idle = set(`a an the this that these those there here it its he she they them his her
	their i me my we our us you your who which what whose and or but if then than so as of to
	in at by for from with into is are was were be been being am do does did doing done has
	have had having will would shall should can could may might must when while where how just
	also very such any some %`)

// filler may stand between "not" and the word it denies: "does not even turn".
var filler = set(`even longer really properly fully always quite ever sign more much`)

// Silent words are idle wherever they stand; the other idle words link two others
// and can change a phrase, as in "works for a while" and "now and then".
func Silent(text string) bool { return silent[text] }

var silent = set(`a an the this that these those it its he she they them his her their i me my
	we our us you your is are was were be been being am do does did doing done has have had
	having will would shall should can could may might must there here just also very such any
	some %`)

// Small words may stand inside a phrase: "does not really turn back on".
func Small(text string) bool { return idle[text] || filler[text] || small[text] }

var small = set(`back again all anymore now still suddenly completely totally at own itself
	correctly consistently anything to`)

func set(s string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(s) {
		m[w] = true
	}
	return m
}

// piece is a stretch of letters and digits as it stood in the text.
type piece struct {
	text       string // folded
	start, end int
	number     bool // begins with a digit
	capital    bool // a single capital letter, such as a unit
	hyphen     bool // a hyphen, and nothing else, stands before it
	space      bool // nothing but spaces stand before it
	breaks     bool // a full stop or the like stands before it
	cut        bool // that, a comma, a bracket or a dash
}

func (l *Lexicon) scan(text string) []piece {
	var out []piece
	var b strings.Builder
	gap := "" // what stood between the last piece and here
	gapStart := 0
	prev := rune(0)
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		point := r == '.' && startsDigit(text[i+n:]) && !isWordRune(prev)
		if !isWordRune(r) && !point {
			prev = r
			i += n
			continue
		}
		gap = text[gapStart:i]
		p := piece{start: i}
		b.Reset()
		if point {
			b.WriteByte('0')
		}
		first, count := r, 0
		for i < len(text) {
			r, n := utf8.DecodeRuneInString(text[i:])
			if !isWordRune(r) {
				rest := text[i+n:]
				switch {
				case (r == '.' || r == ',') && (i == p.start || startsDigitEnd(text[:i])) && startsDigit(rest):
					// a decimal point; a comma is put right in tidyNumber
				case (r == '\'' || r == '’' || r == '`') && i > p.start && startsLetter(rest):
					r = '\''
				default:
					r = -1
				}
				if r < 0 {
					break
				}
			}
			fold(&b, r)
			prev = r
			i += n
			count++
		}
		p.end = i
		gapStart = i
		p.text = b.String()
		if p.text == "" { // accents alone
			continue
		}
		p.number = p.text[0] >= '0' && p.text[0] <= '9'
		p.capital = count == 1 && unicode.IsUpper(first)
		p.space = strings.Trim(gap, " \t\u00a0\u202f\u2009") == ""
		p.hyphen = gap == "-" || gap == "‐" || gap == "‑"
		p.breaks = strings.ContainsAny(gap, ".;:!?\n")
		p.cut = p.breaks || strings.ContainsAny(gap, ",()–—") || strings.Contains(gap, " -")
		if p.number {
			p.text = tidyNumber(p.text)
		} else {
			p.text = l.tidyWord(p.text)
		}
		if p.text != "" {
			out = append(out, p)
		}
	}
	return out
}

func isWordRune(r rune) bool {
	if r < utf8.RuneSelf {
		return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9' || r == '%'
	}
	switch r {
	case '°', 'º', '℃', '℉', '²', utf8.RuneError:
		return r != utf8.RuneError
	}
	return unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r)
}

func startsDigit(s string) bool    { return s != "" && s[0] >= '0' && s[0] <= '9' }
func startsDigitEnd(s string) bool { return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9' }
func startsLetter(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return unicode.IsLetter(r)
}

// tidyWord takes the apostrophe out: the owner's is owner, don't is dont (which
// the list then spells as not).
func (l *Lexicon) tidyWord(s string) string {
	s = cut(s)
	i := strings.IndexByte(s, '\'')
	if i < 0 {
		return strings.Trim(s, "°²")
	}
	joined := strings.ReplaceAll(s, "'", "")
	if _, known := l.spellings[joined]; known || idle[joined] {
		return joined
	}
	if strings.HasSuffix(s, "n't") {
		return "not"
	}
	switch s[i+1:] {
	case "s", "ll", "ve", "re", "d", "m":
		return s[:i]
	}
	return joined
}

func cut(s string) string {
	if len(s) <= longest {
		return s
	}
	n := longest
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return s[:n]
}

// hyphened returns the pieces from i on that hyphens hold together, as one word,
// and the last of them; last is i where there is no hyphen.
func hyphened(raw []piece, i int) (joined string, last int) {
	if i > 0 && raw[i].hyphen && i < len(raw) {
		return "", i // the word before has told it
	}
	last = i
	for last+1 < len(raw) && raw[last+1].hyphen && last-i < 2 {
		last++
	}
	numbers := 0
	for _, p := range raw[i : last+1] {
		joined += p.text
		if p.number {
			numbers++
		}
	}
	if last == i || numbers == last+1-i || len(joined) > longest {
		return "", i // 24-26 is a range, not a word
	}
	return joined, last
}
