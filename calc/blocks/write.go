package blocks

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Written is a tree as the lines of a note's front matter, and for each of its
// texts and names the place that it came from.
type Written struct {
	Text   string
	Places []Origin // by line and column
}

// Origin says where something of a written tree came from.
type Origin struct {
	Line, Column int // in the written text, from 1
	From         Place
}

// deepLines is how many levels of a tree are written on lines of their own; what
// lies deeper stands in brackets.
const deepLines = 2

// Write writes the fields of a tree as front matter, without the lines of
// dashes.
func Write(t Tree) Written {
	w := writer{}
	w.lines(t, 0, Place{})
	return Written{w.b.String(), w.places}
}

type writer struct {
	b            strings.Builder
	places       []Origin
	line, column int
}

func (w *writer) put(s string) {
	w.b.WriteString(s)
	if i := strings.LastIndexByte(s, '\n'); i >= 0 {
		w.line += strings.Count(s, "\n")
		w.column = utf8.RuneCountInString(s[i+1:])
		return
	}
	w.column += utf8.RuneCountInString(s)
}

// mark notes that what is written next came from a place; what has none of its
// own stands where its surroundings do.
func (w *writer) mark(at, around Place) Place {
	if at == (Place{}) {
		at = around
	}
	if at != (Place{}) {
		w.places = append(w.places, Origin{w.line + 1, w.column + 1, at})
	}
	return at
}

func (w *writer) lines(t Tree, level int, around Place) {
	for _, f := range t.Fields {
		w.put(strings.Repeat("  ", level))
		at := w.mark(f.At, around)
		w.put(scalar(f.Name) + ":")
		v := f.Value
		if v.At == (Place{}) {
			v.At = at
		}
		switch {
		case len(v.Fields) > 0 && level < deepLines:
			w.put("\n")
			w.lines(v, level+1, v.At)
			continue
		case f.Name == "reads" && len(v.List) > 0:
			w.put("\n")
			for _, item := range v.List {
				w.put(strings.Repeat("  ", level+1) + "- ")
				w.flow(item, v.At)
				w.put("\n")
			}
			continue
		case v.Empty() && v.IsText():
		default:
			w.put(" ")
			w.flow(v, at)
		}
		w.put("\n")
	}
}

func (w *writer) flow(t Tree, around Place) {
	at := w.mark(t.At, around)
	switch {
	case t.List != nil:
		w.put("[")
		for i, v := range t.List {
			if i > 0 {
				w.put(", ")
			}
			w.flow(v, at)
		}
		w.put("]")
	case t.Fields != nil:
		w.put("{")
		for i, f := range t.Fields {
			if i > 0 {
				w.put(", ")
			}
			w.mark(f.At, at)
			w.put(scalar(f.Name))
			if !f.Value.Empty() || !f.Value.IsText() {
				w.put(": ")
				w.flow(f.Value, at)
			}
		}
		w.put("}")
	default:
		w.put(scalar(t.Text))
	}
}

// scalar writes a text so that it is read back as it is: names, numbers and
// plain sentences stand bare, everything else in quotes.
func scalar(s string) string {
	plain := s != "" && s != "null" && s != "~"
	for i, r := range s {
		switch {
		case r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9':
		case i > 0 && (r == '-' || r == '.' || r == '_' || r == ' ' || r == '/' || r == '(' || r == ')' || r == '\''):
		case r == 'Ω' || r == 'µ' || r == '°' || r == '±' || r == '–':
		default:
			plain = false
		}
	}
	if plain && s == strings.TrimSpace(s) {
		return s
	}
	return strconv.Quote(s)
}
