package words

// Splitter cuts one text after the other. It remembers what it made of each word,
// because most words of a text were met before. It is not for several goroutines at
// once; a Lexicon is.
type Splitter struct {
	lexicon   *Lexicon
	spellings map[string]spelling // by the letters as they were folded
	forms     map[string]*form    // by its text

	// kept for the next text
	buf []byte
	raw []piece
	out []Word
}

// mostKnown is how many words a Splitter remembers at most, about 4 MB. Behind that it
// begins anew, which costs little: the common ones are soon back.
const mostKnown = 20_000

// spelling is what a stretch of folded letters stands for.
type spelling struct {
	text   string // in its one spelling
	number bool   // begins with a digit
	bare   bool   // nothing but a number
	means  []*form
}

// form is a word that is meant.
type form struct {
	text, stem string
	idle       bool
	filler     bool
	ends       bool

	denied *form   // with not before it
	pairs  []*form // with each of the small words that ended it so far
}

// Splitter gives a new one.
func (l *Lexicon) Splitter() *Splitter {
	return &Splitter{lexicon: l, spellings: map[string]spelling{}, forms: map[string]*form{}}
}

// Split is Lexicon.Split; the words hold until the next call.
func (s *Splitter) Split(text string) []Word {
	s.forget()
	return s.split(text, false)
}

// with lends a Splitter.
func (l *Lexicon) with(do func(*Splitter)) {
	s := l.rested()
	s.forget()
	do(s)
	l.keep.Lock()
	l.resting = append(l.resting, s)
	l.keep.Unlock()
}

// rested is one that was lent before, or a new one.
func (l *Lexicon) rested() *Splitter {
	l.keep.Lock()
	defer l.keep.Unlock()
	n := len(l.resting)
	if n == 0 {
		return l.Splitter()
	}
	s := l.resting[n-1]
	l.resting = l.resting[:n-1]
	return s
}

func (s *Splitter) forget() {
	if len(s.spellings)+len(s.forms) > mostKnown {
		clear(s.spellings)
		clear(s.forms)
	}
}

// spelled says what folded letters stand for.
func (s *Splitter) spelled(folded []byte) spelling {
	if known, ok := s.spellings[string(folded)]; ok {
		return known
	}
	raw := string(folded)
	to := spelling{number: startsDigit(raw)}
	if to.number {
		to.text = tidyNumber(raw)
		num, rest := splitNumber(to.text)
		to.bare = rest == "" && num != ""
	} else {
		to.text = s.lexicon.tidyWord(raw)
	}
	if to.text != "" {
		to.means = s.meant(to.text)
	}
	s.spellings[raw] = to
	return to
}

// meant gives the words meant by one as written; most mean themselves.
func (s *Splitter) meant(text string) []*form {
	var out []*form
	for _, word := range s.lexicon.Spelled(text) {
		out = append(out, s.form([]byte(word)))
	}
	if out == nil {
		out = []*form{s.form([]byte(text))}
	}
	return out
}

func (s *Splitter) form(text []byte) *form {
	f := s.forms[string(text)]
	if f == nil {
		f = &form{text: string(text)}
		f.stem, f.idle, f.filler, f.ends = Stem(f.text), idle.Has(f.text), filler.Has(f.text), Ends(f.text)
		s.forms[f.text] = f
	}
	return f
}

// deny is the word with not before it.
func (f *form) deny() *form {
	if f.denied == nil {
		f.denied = &form{text: "not-" + f.text, stem: Deny(f.stem)}
	}
	return f.denied
}

// with is the word and the small one that ends it.
func (f *form) with(ends *form) *form {
	for _, p := range f.pairs {
		if p.text[len(f.text)+1:] == ends.text {
			return p
		}
	}
	p := &form{text: f.text + "-" + ends.text, stem: With(f.stem, ends.text)}
	f.pairs = append(f.pairs, p)
	return p
}
