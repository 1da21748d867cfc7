package finder

import (
	"strings"
	"unicode/utf8"
)

// writer writes JSON.
type writer struct {
	strings.Builder
	inside bool // something stands before in this object or list
}

func (w *writer) comma() {
	if w.inside {
		w.WriteByte(',')
	}
	w.inside = true
}

func (w *writer) object(write func()) {
	w.WriteByte('{')
	w.inside = false
	write()
	w.WriteByte('}')
	w.inside = true
}

// name begins a member of an object.
func (w *writer) name(name string) {
	w.comma()
	w.quote(name)
	w.WriteByte(':')
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
		w.WriteString("true")
	}
}

func (w *writer) list(name string, n int, write func(i int)) {
	w.name(name)
	w.WriteByte('[')
	for i := range n {
		if i > 0 {
			w.WriteByte(',')
		}
		write(i)
	}
	w.WriteByte(']')
	w.inside = true
}

// quote writes a text as RFC 8259 wants it; bytes that are no text become U+FFFD.
func (w *writer) quote(s string) {
	const digits = "0123456789abcdef"
	w.WriteByte('"')
	for i := 0; i < len(s); {
		if n := plain(s[i:]); n > 0 {
			w.WriteString(s[i : i+n])
			i += n
			continue
		}
		if c := s[i]; c < utf8.RuneSelf {
			if c == '"' || c == '\\' {
				w.WriteByte('\\')
				w.WriteByte(c)
			} else {
				w.WriteString(`\u00`)
				w.WriteByte(digits[c>>4])
				w.WriteByte(digits[c&15])
			}
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(s[i:])
		w.WriteRune(r)
		i += n
	}
	w.WriteByte('"')
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
