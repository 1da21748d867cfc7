package finder

import "unicode/utf8"

// writer writes JSON. It grows by append, and what few texts need stands alone: a browser translates all of a
// function at its first call, and a string builder's ways of growing into each that writes.
type writer struct {
	b      []byte
	inside bool // something stands before in this object or list
}

func (w *writer) String() string { return string(w.b) }

//go:noinline
func (w *writer) raw(s string) { w.b = append(w.b, s...) }

func (w *writer) comma() {
	if w.inside {
		w.raw(",")
	}
	w.inside = true
}

func (w *writer) object(write func()) {
	w.raw("{")
	w.inside = false
	write()
	w.raw("}")
	w.inside = true
}

// name begins a member of an object.
func (w *writer) name(name string) {
	w.comma()
	w.quote(name)
	w.raw(":")
}

func (w *writer) text(name, text string) {
	w.name(name)
	w.quote(text)
}

// some writes a text that is not empty.
func (w *writer) some(name, text string) {
	if text != "" {
		w.text(name, text)
	}
}

// yes writes what is true.
func (w *writer) yes(name string, is bool) {
	if is {
		w.name(name)
		w.raw("true")
	}
}

func (w *writer) list(name string, n int, write func(i int)) {
	w.name(name)
	w.raw("[")
	for i := range n {
		if i > 0 {
			w.raw(",")
		}
		write(i)
	}
	w.raw("]")
	w.inside = true
}

// quote writes a text as RFC 8259 wants it; bytes that are no text become U+FFFD.
func (w *writer) quote(s string) {
	w.raw(`"`)
	for s != "" {
		n := plain(s)
		w.raw(s[:n])
		if s = s[n:]; s != "" {
			s = s[w.special(s):]
		}
	}
	w.raw(`"`)
}

// special writes what a text begins with where that does not stand for itself, and gives its length.
//
//go:noinline
func (w *writer) special(s string) int {
	const digits = "0123456789abcdef"
	switch c := s[0]; {
	case c == '"' || c == '\\':
		w.b = append(w.b, '\\', c)
	case c < utf8.RuneSelf:
		w.b = append(w.b, '\\', 'u', '0', '0', digits[c>>4], digits[c&15])
	default:
		r, n := utf8.DecodeRuneInString(s)
		w.b = utf8.AppendRune(w.b, r)
		return n
	}
	return 1
}

// plain is how many bytes a text begins with that stand for themselves.
//
//go:noinline
func plain(s string) int {
	for i := range len(s) {
		if c := s[i]; c < 0x20 || c == '"' || c == '\\' || c >= utf8.RuneSelf {
			return i
		}
	}
	return len(s)
}
