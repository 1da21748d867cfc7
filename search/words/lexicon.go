package words

import (
	_ "embed"
	"hash/fnv"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"
)

//go:embed shop.txt
var houseText string

// rules counts the ways of splitting: it goes up when Split would cut or stem
// any text differently, because an index written before does not fit then.
const rules = 3

// Fingerprint changes when the rules or the list of the house change. An index
// carries it and cannot be read with another one. What a shop adds to the list
// lies in the index itself.
func Fingerprint() uint32 {
	h := fnv.New32a() // which needs no tables: every page works this out
	_, _ = h.Write([]byte(houseText))
	return h.Sum32() + rules
}

// Lexicon is how words are spelled and what means the same: the list of the
// house, shop.txt, and what a shop adds to it.
type Lexicon struct {
	spellings map[string][]string // lines "wrong = right"
	phrases   map[string][]phrase // lines "this | that" by the stem of each phrase's first word, longest first

	resting sync.Pool // of *Splitter
}

type phrase struct {
	words []Word
	other [][]Word
}

// House is the lexicon of shop.txt alone.
var House = sync.OnceValue(func() *Lexicon { return read(houseText) })

// WithOwn is the lexicon of the house and a shop's own lines. Lines that Faults
// finds fault with are passed over.
func WithOwn(own string) *Lexicon {
	if strings.TrimSpace(own) == "" {
		return House()
	}
	return read(houseText + "\n" + own)
}

func read(text string) *Lexicon {
	l := &Lexicon{spellings: map[string][]string{}, phrases: map[string][]phrase{}}
	var groups []string
	for _, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' || fault(line) != nil {
			continue
		}
		if wrong, right, ok := strings.Cut(line, " = "); ok {
			l.spellings[strings.TrimSpace(wrong)] = strings.Fields(right)
		} else {
			groups = append(groups, line)
		}
	}
	for _, line := range groups { // once all spellings are known
		l.group(strings.Split(line, "|"))
	}
	return l
}

// Replaced gives the words that others stand for, as "speaker" for which "loudspeaker" is read: no
// index holds them, so slips in them are told by this list, which is sorted. It leaves out short ones, of which
// any other word may seem a slip, and of what means "not" all but the longer contractions: who writes
// "newer" does not mean "never".
func (l *Lexicon) Replaced() []string {
	var out []string
	for wrong, right := range l.spellings {
		if len(wrong) > 4 && (!slices.Contains(right, "not") || len(wrong) > 5 && strings.HasSuffix(wrong, "nt")) {
			out = append(out, wrong)
		}
	}
	slices.Sort(out)
	return out
}

// Spelled is what stands for a replaced word.
func (l *Lexicon) Spelled(replaced string) []string { return l.spellings[replaced] }

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

// group adds phrases that mean the same.
func (l *Lexicon) group(texts []string) {
	var group [][]Word
	known := map[string]bool{}
	for _, text := range texts {
		ws := Plain(l.Split(text))
		if key := stems(ws); len(ws) > 0 && !known[key] {
			known[key] = true
			group = append(group, ws)
		}
	}
	for i, ws := range group {
		var other [][]Word
		other = append(append(other, group[:i]...), group[i+1:]...)
		l.add(ws, other)
	}
}

// add keeps the phrases under a word sorted and puts the groups of one phrase
// together.
func (l *Lexicon) add(ws []Word, other [][]Word) {
	list := l.phrases[ws[0].Stem]
	at := len(list)
	for i, p := range list {
		if stems(p.words) == stems(ws) {
			list[i].other = append(list[i].other, other...)
			return
		}
		if len(p.words) < len(ws) && i < at {
			at = i
		}
	}
	list = append(list, phrase{})
	copy(list[at+1:], list[at:])
	list[at] = phrase{ws, other}
	l.phrases[ws[0].Stem] = list
}

// Others gives the stems of the single words that mean the same as the word of a stem.
func (l *Lexicon) Others(stem string) []string {
	var out []string
	for _, p := range l.phrases[stem] {
		if len(p.words) == 1 {
			for _, other := range p.other {
				if len(other) == 1 {
					out = append(out, other[0].Stem)
				}
			}
		}
	}
	return out
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
		n := 1
		for _, p := range l.phrases[plain[i].Stem] {
			if len(p.words) <= len(plain)-i && stems(p.words) == stems(plain[i:i+len(p.words)]) {
				n = len(p.words)
				out = append(out, Same{From: i, To: i + n, Other: p.other})
				break
			}
		}
		i += n
	}
	return out
}
