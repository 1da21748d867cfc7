package words

import "strings"

// Stem brings the forms of an English word together: heats, heated and heating
// are heat. Anything with a digit or a letter beyond a to z stays as it is.
//
// It is Martin Porter's second English stemmer, written after its description
// (snowballstem.org/algorithms/english/stemmer.html) and held against the library that bleve uses;
// that one brings along what prints and logs, which every visitor would wait for.
func Stem(word string) string {
	if len(word) < 3 {
		return word
	}
	for i := 0; i < len(word); i++ {
		if word[i] < 'a' || word[i] > 'z' {
			return word
		}
	}
	for _, w := range irregular {
		if w[0] == word {
			return w[1]
		}
	}
	s := stemmer{w: make([]byte, len(word), len(word)+1)}
	copy(s.w, word)
	s.markY()
	s.markRegions()
	s.plural()
	if !keptThen.Has(string(s.w)) {
		s.past()
		s.endsInY()
		s.change(step2, s.p1)
		s.change(step3, s.p1)
		s.change(step4, s.p2)
		s.lastLetter()
	}
	for i, c := range s.w {
		if c == 'Y' {
			s.w[i] = 'y'
		}
	}
	return string(s.w)
}

// irregular words and their stems.
var irregular = [...][2]string{{"skis", "ski"}, {"skies", "sky"}, {"dying", "die"}, {"lying", "lie"}, {"tying", "tie"}, {"idly", "idl"}, {"gently", "gentl"}, {"ugly", "ugli"}, {"early", "earli"},
	{"only", "onli"}, {"singly", "singl"}, {"sky", "sky"}, {"news", "news"}, {"howe", "howe"}, {"atlas", "atlas"}, {"cosmos", "cosmos"}, {"bias", "bias"}, {"andes", "andes"}}

// keptThen are words that stay as they are once a plural's s is gone.
const keptThen = Set("inning outing canning herring earring proceed exceed succeed")

// stemmer is a word on its way: a y that is a consonant is written Y. p1 and p2 are
// where the regions begin that endings must lie in.
type stemmer struct {
	w      []byte
	p1, p2 int
}

func vowel(c byte) bool { return strings.IndexByte("aeiouy", c) >= 0 }

func (s *stemmer) markY() {
	for i := range s.w {
		if s.w[i] == 'y' && (i == 0 || vowel(s.w[i-1])) {
			s.w[i] = 'Y'
		}
	}
}

// markRegions: each begins behind the first consonant that follows a vowel, the second
// one counted from the first.
func (s *stemmer) markRegions() {
	behind := func(from int) int {
		for i := from + 1; i < len(s.w); i++ {
			if vowel(s.w[i-1]) && !vowel(s.w[i]) {
				return i + 1
			}
		}
		return len(s.w)
	}
	s.p1 = -1
	for _, prefix := range []string{"gener", "commun", "arsen"} {
		if strings.HasPrefix(string(s.w), prefix) {
			s.p1 = len(prefix)
		}
	}
	if s.p1 < 0 {
		s.p1 = behind(0)
	}
	s.p2 = behind(s.p1)
}

func (s *stemmer) ends(suffix string) bool {
	n := len(s.w) - len(suffix)
	return n >= 0 && string(s.w[n:]) == suffix
}

// put writes an ending in the place of the last n letters.
func (s *stemmer) put(n int, ending string) { s.w = append(s.w[:len(s.w)-n], ending...) }

// vowelIn tells whether one of the first n letters is a vowel.
func (s *stemmer) vowelIn(n int) bool {
	for _, c := range s.w[:max(n, 0)] {
		if vowel(c) {
			return true
		}
	}
	return false
}

// short tells whether the first n letters end in a short syllable.
func (s *stemmer) short(n int) bool {
	switch {
	case n == 2:
		return vowel(s.w[0]) && !vowel(s.w[1])
	case n > 2:
		last := s.w[n-1]
		return !vowel(last) && last != 'w' && last != 'x' && last != 'Y' && vowel(s.w[n-2]) && !vowel(s.w[n-3])
	}
	return false
}

func (s *stemmer) plural() {
	n := len(s.w)
	switch {
	case s.ends("sses"):
		s.put(4, "ss")
	case s.ends("ied"), s.ends("ies"):
		if n > 4 {
			s.put(3, "i")
		} else {
			s.put(3, "ie")
		}
	case s.ends("us"), s.ends("ss"):
	case s.ends("s") && s.vowelIn(n-2):
		s.put(1, "")
	}
}

func (s *stemmer) past() {
	for _, e := range []string{"eedly", "ingly", "edly", "eed", "ing", "ed"} {
		if !s.ends(e) {
			continue
		}
		at := len(s.w) - len(e)
		if strings.HasPrefix(e, "eed") {
			if at >= s.p1 {
				s.put(len(e), "ee")
			}
			return
		}
		if !s.vowelIn(at) {
			return
		}
		s.put(len(e), "")
		last := s.w[at-1]
		switch {
		case s.ends("at"), s.ends("bl"), s.ends("iz"):
			s.put(0, "e")
		case at > 1 && last == s.w[at-2] && strings.IndexByte("bdfgmnprt", last) >= 0:
			s.put(1, "")
		case at == s.p1 && s.short(at):
			s.put(0, "e")
		}
		return
	}
}

func (s *stemmer) endsInY() {
	if n := len(s.w); n > 2 && (s.w[n-1] == 'y' || s.w[n-1] == 'Y') && !vowel(s.w[n-2]) {
		s.w[n-1] = 'i'
	}
}

// ending is a suffix, what is put in its place, and the letters one of which must stand
// before it ("" for any); second asks for the second region whatever the step asks for.
type ending struct {
	suffix, to, after string
	second            bool
}

// The longest suffix of a step that a word has is the one that counts: the longer ones stand
// first.
var (
	step2 = []ending{{"ational", "ate", "", false}, {"ization", "ize", "", false}, {"fulness", "ful", "", false}, {"iveness", "ive", "", false}, {"ousness", "ous", "", false},
		{"biliti", "ble", "", false}, {"lessli", "less", "", false}, {"tional", "tion", "", false}, {"alism", "al", "", false}, {"aliti", "al", "", false}, {"ation", "ate", "", false},
		{"entli", "ent", "", false}, {"fulli", "ful", "", false}, {"iviti", "ive", "", false}, {"ousli", "ous", "", false}, {"abli", "able", "", false}, {"alli", "al", "", false},
		{"anci", "ance", "", false}, {"ator", "ate", "", false}, {"enci", "ence", "", false}, {"izer", "ize", "", false}, {"bli", "ble", "", false}, {"ogi", "og", "l", false},
		{"li", "", "cdeghkmnrt", false}}
	step3 = []ending{{"ational", "ate", "", false}, {"tional", "tion", "", false}, {"alize", "al", "", false}, {"ative", "", "", true}, {"icate", "ic", "", false}, {"iciti", "ic", "", false},
		{"ical", "ic", "", false}, {"ness", "", "", false}, {"ful", "", "", false}}
	step4 = []ending{{"ement", "", "", false}, {"able", "", "", false}, {"ance", "", "", false}, {"ence", "", "", false}, {"ible", "", "", false}, {"ment", "", "", false}, {"ant", "", "", false},
		{"ate", "", "", false}, {"ent", "", "", false}, {"ion", "", "st", false}, {"ism", "", "", false}, {"iti", "", "", false}, {"ive", "", "", false}, {"ize", "", "", false}, {"ous", "", "", false},
		{"al", "", "", false}, {"er", "", "", false}, {"ic", "", "", false}}
)

// change puts another ending in the place of the longest that the word has of a step,
// where it lies in the region.
func (s *stemmer) change(step []ending, region int) {
	for i := range step {
		e := &step[i]
		if !s.ends(e.suffix) {
			continue
		}
		at := len(s.w) - len(e.suffix)
		if at >= region && (!e.second || at >= s.p2) && (e.after == "" || at > 0 && strings.IndexByte(e.after, s.w[at-1]) >= 0) {
			s.put(len(e.suffix), e.to)
		}
		return
	}
}

func (s *stemmer) lastLetter() {
	at := len(s.w) - 1
	switch {
	case s.ends("e") && (at >= s.p2 || at >= s.p1 && !s.short(at)),
		s.ends("ll") && at >= s.p2:
		s.put(1, "")
	}
}
