package words

import (
	"cmp"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"
)

// Rules counts the ways of splitting: it goes up when Split would cut or stem
// any text differently. An index carries it and cannot be read with another one.
const Rules = 3

// Lexicon is how words are spelled and what means the same: the list of the
// house, shop.txt, and what a shop adds to it.
type Lexicon struct {
	Table
	ordinary func() map[string]bool // the stems of Table.Ordinary, taken apart when the first word that no note holds is met

	keep    sync.Mutex
	resting []*Splitter // a few: as many as were lent at once
}

// Table is what a lexicon knows, cut and stemmed. It is kept with an index, so that
// nothing is cut again when that is opened.
type Table struct {
	Spellings []Spelling // of the lines "wrong = right", sorted
	Groups    [][][]Word // of the lines "this | that": the plain words of each phrase, Text and Stem
	Phrases   []Phrase   // by the stems of their first words; of those with one first stem the longest come first
	Ordinary  string     // the stems of ordinary words, with a space between each two
}

// Spelling is what stands for a word.
type Spelling struct {
	Wrong string
	Right []string
}

// Phrase is one of the groups': where it stands, once for each group.
type Phrase []Place

// Place is a phrase of a group.
type Place struct{ Group, At int }

// Open is the lexicon that knows what a table holds.
func Open(t Table) *Lexicon {
	return &Lexicon{Table: t, ordinary: sync.OnceValue(func() map[string]bool {
		m := map[string]bool{}
		for _, w := range strings.Fields(t.Ordinary) {
			m[w] = true
		}
		return m
	})}
}

// IsOrdinary says whether a word is an ordinary one that people use beside those of the trade, so that it is no slip for
// another, however near.
func (l *Lexicon) IsOrdinary(w Word) bool { return l.ordinary()[w.Stem] }

func read(text, ordinary string) *Lexicon {
	l := Open(Table{Ordinary: ordinary})
	spelled := map[string][]string{} // the last line of a word holds
	var groups []string
	for _, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' || fault(line) != nil {
			continue
		}
		if wrong, right, ok := strings.Cut(line, " = "); ok {
			spelled[strings.TrimSpace(wrong)] = strings.Fields(right)
		} else {
			groups = append(groups, line)
		}
	}
	for wrong, right := range spelled {
		l.Spellings = append(l.Spellings, Spelling{wrong, right})
	}
	slices.SortFunc(l.Spellings, func(a, b Spelling) int { return strings.Compare(a.Wrong, b.Wrong) })
	at := map[string]int{}        // in Phrases, by all stems
	for _, line := range groups { // once all spellings are known
		l.group(strings.Split(line, "|"), at)
	}
	slices.SortStableFunc(l.Phrases, func(a, b Phrase) int {
		x, y := l.words(a), l.words(b)
		return cmp.Or(strings.Compare(x[0].Stem, y[0].Stem), len(y)-len(x))
	})
	return l
}

// words of a phrase.
func (l *Lexicon) words(p Phrase) []Word { return l.Groups[p[0].Group][p[0].At] }

// Replaced gives the words that others stand for, as "speaker" for which "loudspeaker" is read: no
// index holds them, so slips in them are told by this list, which is sorted. It leaves out short ones, of which
// any other word may seem a slip, and of what means "not" all but the longer contractions: who writes
// "newer" does not mean "never".
func (l *Lexicon) Replaced() []string {
	var out []string
	for _, s := range l.Spellings {
		if len(s.Wrong) > 4 && (!slices.Contains(s.Right, "not") || len(s.Wrong) > 5 && strings.HasSuffix(s.Wrong, "nt")) {
			out = append(out, s.Wrong)
		}
	}
	return out
}

// Spelled is what stands for a replaced word, nil for any other.
func (l *Lexicon) Spelled(replaced string) []string {
	i, ok := slices.BinarySearchFunc(l.Spellings, replaced, func(s Spelling, wrong string) int { return strings.Compare(s.Wrong, wrong) })
	if !ok {
		return nil
	}
	return l.Spellings[i].Right
}

// Fault is what is wrong with a line of a shop's list.
type Fault struct {
	Line, Column int // from 1; the column in characters
	Says, Do     string
}

// Faults checks a shop's list line by line.
func Faults(text string) []Fault {
	var out []Fault
	for i, line := range strings.Split(text, "\n") {
		if trimmed := strings.TrimSpace(line); trimmed == "" || trimmed[0] == '#' {
			continue
		}
		if f := fault(strings.TrimSpace(line)); f != nil {
			f.Line = i + 1
			f.Column += utf8.RuneCountInString(line) - utf8.RuneCountInString(strings.TrimLeft(line, " \t")) + 1
			out = append(out, *f)
		}
	}
	return out
}

// fault finds what is wrong with a line, its column from 0.
func fault(line string) *Fault {
	wrong, right, spelling := strings.Cut(line, " = ")
	switch {
	case spelling && strings.Contains(line, "|"), !spelling && !strings.Contains(line, "|"):
		return &Fault{Says: "this line is neither a spelling nor a group of phrases", Do: "write kaputt = kaput, or cord | lead | flex"}
	case spelling && (strings.ContainsAny(strings.TrimSpace(wrong), " \t'-") || wrong != strings.ToLower(wrong)):
		return &Fault{Says: "the left side should be one word in small letters", Do: "write it like kaputt = kaput; what is more than one word goes into a group, like mains cord | power lead"}
	case spelling && (strings.TrimSpace(right) == "" || strings.TrimSpace(right) == strings.TrimSpace(wrong)):
		return &Fault{Says: "the right side says nothing new", Do: "write what is meant, like kaputt = kaput", Column: utf8.RuneCountInString(wrong) + 3}
	case spelling:
		return nil
	}
	column := 0
	for _, text := range strings.Split(line, "|") {
		if strings.TrimSpace(text) == "" {
			return &Fault{Says: "a phrase of this group is empty", Do: "part the phrases by one | each", Column: column}
		}
		column += utf8.RuneCountInString(text) + 1
	}
	return nil
}

// Same is a phrase found in a query, and what else it may be called.
type Same struct {
	From, To int      // the phrase is words From to To-1 of the query's plain words
	Other    [][]Word // the plain words of the phrases that mean the same
}

// group adds phrases that mean the same, and puts the groups of one phrase together;
// at is where each phrase stands, by its stems.
func (l *Lexicon) group(texts []string, at map[string]int) {
	var group [][]Word
	known := map[string]bool{}
	for _, text := range texts {
		ws := Plain(l.Split(text))
		key := stems(ws)
		if len(ws) == 0 || known[key] {
			continue
		}
		known[key] = true
		if _, there := at[key]; !there {
			at[key] = len(l.Phrases)
			l.Phrases = append(l.Phrases, nil)
		}
		l.Phrases[at[key]] = append(l.Phrases[at[key]], Place{len(l.Groups), len(group)})
		for i, w := range ws {
			ws[i] = Word{Text: w.Text, Stem: w.Stem}
		}
		group = append(group, ws)
	}
	l.Groups = append(l.Groups, group)
}

// others are the phrases that mean the same as one.
func (l *Lexicon) others(p Phrase) [][]Word {
	var out [][]Word
	for _, in := range p {
		for i, ws := range l.Groups[in.Group] {
			if i != in.At {
				out = append(out, ws)
			}
		}
	}
	return out
}

// Others gives the stems of the single words that mean the same as the word of a stem.
func (l *Lexicon) Others(stem string) []string {
	var out []string
	for at := l.begin(stem); at < len(l.Phrases) && l.words(l.Phrases[at])[0].Stem == stem; at++ {
		if len(l.words(l.Phrases[at])) > 1 {
			continue
		}
		for _, other := range l.others(l.Phrases[at]) {
			if len(other) == 1 {
				out = append(out, other[0].Stem)
			}
		}
	}
	return out
}

// begin is where the phrases begin whose first word has a stem.
func (l *Lexicon) begin(stem string) int {
	at, _ := slices.BinarySearchFunc(l.Phrases, stem, func(p Phrase, stem string) int { return strings.Compare(l.words(p)[0].Stem, stem) })
	return at
}

func stems(ws []Word) string {
	s := ""
	for _, w := range ws {
		s += w.Stem + " "
	}
	return s
}

// Alike finds the phrases among a query's plain words that have others of the
// same meaning: the longest first, from the left, none overlapping.
func (l *Lexicon) Alike(plain []Word) []Same {
	var out []Same
	for i := 0; i < len(plain); {
		n, first := 1, plain[i].Stem
		for at := l.begin(first); at < len(l.Phrases) && l.words(l.Phrases[at])[0].Stem == first; at++ {
			ws := l.words(l.Phrases[at])
			if len(ws) <= len(plain)-i && slices.EqualFunc(ws, plain[i:i+len(ws)], func(a, b Word) bool { return a.Stem == b.Stem }) {
				n = len(ws)
				out = append(out, Same{From: i, To: i + n, Other: l.others(l.Phrases[at])})
				break
			}
		}
		i += n
	}
	return out
}
