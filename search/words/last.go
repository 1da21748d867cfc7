package words

// Unfinished gives the word that a text ends in, as folded, and where it starts;
// ok is false if the text ends in something else, such as a space. It is neither
// respelled nor dropped: "no" may become "noise" while one types.
func (l *Lexicon) Unfinished(text string) (word string, start int, ok bool) {
	l.with(func(s *Splitter) {
		if raw := s.scan(text); len(raw) > 0 {
			last := raw[len(raw)-1]
			word, start, ok = last.text, last.start, last.end == len(text)
		}
	})
	return word, start, ok
}
