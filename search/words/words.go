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
	"slices"
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
	var out []Word
	l.with(func(s *Splitter) { out = slices.Clone(s.split(text, all)) })
	return out
}

func (s *Splitter) split(text string, all bool) []Word {
	raw := s.joinUnits(s.scan(text))
	s.out = s.out[:0]
	not, notAge := -1, 0
	before, verb := -1, (*form)(nil) // the word just before, in out, and what it is
	cut := false                     // punctuation since the word before
	for i := range raw {
		r := &raw[i]
		cut = cut || r.cut
		if r.breaks {
			not = -1
		}
		// A hyphen makes one word of several, and people leave it out.
		if joined, last := s.hyphened(raw, i); last > i {
			s.add(Word{Text: joined.text, Stem: joined.stem, Start: r.start, End: raw[last].end, Extra: true})
		}
		for _, f := range r.means {
			if f.text == "not" {
				before = -1
				s.add(Word{Text: f.text, Stem: f.text, Start: r.start, End: r.end, Cut: cut})
				cut = false
				not, notAge = r.start, 0
				continue
			}
			if f.idle {
				before = -1
				if all {
					s.add(Word{Text: f.text, Stem: f.text, Start: r.start, End: r.end, Idle: true, Cut: cut})
					cut = false
				}
				continue
			}
			at := len(s.out)
			s.add(Word{Text: f.text, Stem: f.stem, Start: r.start, End: r.end, Cut: cut})
			cut = false
			if before >= 0 && f.ends && !r.breaks {
				pair := verb.with(f)
				s.add(Word{Text: pair.text, Stem: pair.stem, Start: s.out[before].Start, End: r.end, Extra: true, Pair: true})
			}
			before = -1
			if !r.number && !f.ends {
				before, verb = at, f
			}
			if not >= 0 {
				if f.filler && notAge < 2 {
					notAge++
					continue
				}
				denied := f.deny()
				s.add(Word{Text: denied.text, Stem: denied.stem, Start: not, End: r.end, Extra: true, Pair: true})
				not = -1
			}
		}
	}
	return s.out
}

// add puts a word behind the others. It stands alone, so that split is not five times as long.
//
//go:noinline
func (s *Splitter) add(w Word) { s.out = append(s.out, w) }

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
const idle = Set(`a an the this that these those there here it its he she they them his her
	their i me my we our us you your who which what whose and or but if then than so as of to
	in at by for from with into is are was were be been being am do does did doing done has
	have had having will would shall should can could may might must when while where how just
	also very such any some %`)

// filler may stand between "not" and the word it denies: "does not even turn".
const filler = Set(`even longer really properly fully always quite ever sign more much`)

// Silent words are idle wherever they stand; the other idle words link two others
// and can change a phrase, as in "works for a while" and "now and then".
func Silent(text string) bool { return silent.Has(text) }

const silent = Set(`a an the this that these those it its he she they them his her their i me my
	we our us you your is are was were be been being am do does did doing done has have had
	having will would shall should can could may might must there here just also very such any
	some %`)

// Small words may stand inside a phrase: "does not really turn back on".
func Small(text string) bool { return idle.Has(text) || filler.Has(text) || small.Has(text) }

const small = Set(`back again all anymore now still suddenly completely totally at own itself
	correctly consistently anything to able seem seems seeming appear appears want wants re`)

// Set is words with white space between them. It is looked through, since maps of them
// would have to be made in every page that begins to search.
type Set string

// Has says whether a word is one of them.
func (s Set) Has(word string) bool {
	for rest := string(s); word != ""; {
		i := strings.Index(rest, word)
		if i < 0 {
			break
		}
		end := i + len(word)
		if (i == 0 || rest[i-1] <= ' ') && (end == len(rest) || rest[end] <= ' ') {
			return true
		}
		rest = rest[end:]
	}
	return false
}

// piece is a stretch of letters and digits as it stood in the text.
type piece struct {
	spelling
	start, end int
	capital    bool // a single capital letter, such as a unit
	hyphen     bool // a hyphen, and nothing else, stands before it
	space      bool // nothing but spaces stand before it
	breaks     bool // a full stop or the like stands before it
	cut        bool // that, a comma, a bracket or a dash
}

// scan gives the pieces of a text, until the next call.
func (s *Splitter) scan(text string) []piece {
	out := s.raw[:0]
	gapStart := 0 // where what stands between the last piece and here begins
	prev := rune(0)
	for i := 0; i < len(text); {
		r, n := rune(text[i]), 1
		if r >= utf8.RuneSelf {
			r, n = utf8.DecodeRuneInString(text[i:])
		}
		point := r == '.' && startsDigit(text[i+n:]) && !isWordRune(prev)
		if !isWordRune(r) && !point {
			prev = r
			i += n
			continue
		}
		gap := text[gapStart:i]
		p := piece{start: i}
		b := s.buf[:0]
		if point {
			b = append(b, '0')
		}
		first, count := r, 0
		for i < len(text) {
			if c := folded[text[i]]; c != 0 { // most letters are plain
				b = append(b, c)
				prev = rune(text[i])
				i++
				count++
				continue
			}
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
			b = fold(b, r)
			prev = r
			i += n
			count++
		}
		s.buf = b
		p.end = i
		gapStart = i
		if len(b) == 0 { // accents alone
			continue
		}
		p.spelling = s.spelled(b)
		if p.text == "" {
			continue
		}
		p.capital = count == 1 && unicode.IsUpper(first)
		if gap == " " {
			p.space = true
		} else {
			p.space = strings.Trim(gap, " \t\u00a0\u202f\u2009") == ""
			p.hyphen = gap == "-" || gap == "‐" || gap == "‑"
			p.breaks = strings.ContainsAny(gap, ".;:!?\n")
			p.cut = p.breaks || strings.ContainsAny(gap, ",()–—") || strings.Contains(gap, " -")
		}
		out = append(out, p)
	}
	s.raw = out
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
	if l.Spelled(joined) != nil || idle.Has(joined) {
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
func (s *Splitter) hyphened(raw []piece, i int) (joined *form, last int) {
	if i > 0 && raw[i].hyphen || i+1 == len(raw) || !raw[i+1].hyphen {
		return nil, i // the word before has told it, or there is nothing to tell
	}
	last = i
	for last+1 < len(raw) && raw[last+1].hyphen && last-i < 2 {
		last++
	}
	numbers := 0
	b := s.buf[:0]
	for _, p := range raw[i : last+1] {
		b = append(b, p.text...)
		if p.number {
			numbers++
		}
	}
	s.buf = b
	if numbers == last+1-i || len(b) > longest {
		return nil, i // 24-26 is a range, not a word
	}
	return s.form(b), last
}
