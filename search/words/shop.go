package words

import (
	_ "embed"
	"hash/crc32"
	"strings"
	"sync"

	"github.com/blevesearch/snowballstem"
	"github.com/blevesearch/snowballstem/english"
)

//go:embed shop.txt
var shopText string

// rules counts the ways of splitting: it goes up when Split would cut or stem
// any text differently, because an index written before does not fit then.
const rules = 2

// Fingerprint changes when the rules or the list of shop spellings change. An
// index carries it and cannot be read with another one.
func Fingerprint() uint32 {
	return crc32.ChecksumIEEE([]byte(shopText)) + rules
}

// shopLines are the lines of the list, without comments.
var shopLines = sync.OnceValue(func() []string {
	var lines []string
	for _, line := range strings.Split(shopText, "\n") {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			lines = append(lines, line)
		}
	}
	return lines
})

// spellings holds the lines "wrong = right".
var spellings = sync.OnceValue(func() map[string][]string {
	m := map[string][]string{}
	for _, line := range shopLines() {
		if wrong, right, ok := strings.Cut(line, " = "); ok {
			m[wrong] = strings.Fields(right)
		}
	}
	return m
})

// spell gives the words meant by one word as written; most mean themselves.
func spell(text string) []string {
	if right, ok := spellings()[text]; ok {
		return right
	}
	return []string{text}
}

// Stem brings the forms of an English word together: heats, heated and heating
// are heat. Anything with a digit or a letter beyond a to z stays as it is.
func Stem(word string) string {
	if len(word) < 3 {
		return word
	}
	for i := 0; i < len(word); i++ {
		if word[i] < 'a' || word[i] > 'z' {
			return word
		}
	}
	env := snowballstem.NewEnv(word)
	english.Stem(env)
	return env.Current()
}

// Same is a phrase found in a query, and what else it may be called.
type Same struct {
	From, To int      // the phrase is words From to To-1 of the query's plain words
	Other    [][]Word // the plain words of the phrases that mean the same
}

type phrase struct {
	words []Word
	other [][]Word
}

// phrases holds the lines "this | that" by the stem of each phrase's first word,
// longest phrases first.
var phrases = sync.OnceValue(func() map[string][]phrase {
	m := map[string][]phrase{}
	for _, line := range shopLines() {
		if !strings.Contains(line, "|") {
			continue
		}
		var group [][]Word
		known := map[string]bool{}
		for _, text := range strings.Split(line, "|") {
			ws := Plain(Split(text))
			if key := stems(ws); len(ws) > 0 && !known[key] {
				known[key] = true
				group = append(group, ws)
			}
		}
		for i, ws := range group {
			var other [][]Word
			other = append(append(other, group[:i]...), group[i+1:]...)
			addPhrase(m, ws, other)
		}
	}
	return m
})

// addPhrase keeps the phrases under a word sorted and puts the groups of one
// phrase together.
func addPhrase(m map[string][]phrase, ws []Word, other [][]Word) {
	list := m[ws[0].Stem]
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
	m[ws[0].Stem] = list
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
func Alike(plain []Word) []Same {
	var out []Same
	for i := 0; i < len(plain); {
		n := 1
		for _, p := range phrases()[plain[i].Stem] {
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
