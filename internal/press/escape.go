package press

import (
	"fmt"
	"html/template"
	"reflect"
	"strings"
)

// escaper appends a text so that it is only a text where it stands.
type escaper func(b []byte, text string) []byte

// escapers are html/template's, by the names of those that a value passes one after
// the other.
var escapers = map[string]escaper{
	"htmlescaper":                         appendText,
	"attrescaper":                         appendText,
	"rcdataescaper":                       appendText,
	"urlfilter urlnormalizer attrescaper": appendAddress,
	"urlnormalizer attrescaper":           func(b []byte, text string) []byte { return appendURL(b, text, &inAddress) },
	"urlescaper attrescaper":              func(b []byte, text string) []byte { return appendURL(b, text, &inQuery) },
}

// escaperOf is how a value of a type is written, nil where it is not. What somebody
// vouches for is left as it is in its own place, and stands in no other.
func escaperOf(names string, of reflect.Type) escaper {
	switch {
	case of == nil, of.Implements(reflect.TypeFor[fmt.Stringer]()), of.Implements(reflect.TypeFor[error]()):
		return nil
	case of.PkgPath() != "html/template":
		return escapers[names]
	case of == reflect.TypeFor[template.HTML]() && names == "htmlescaper",
		of == reflect.TypeFor[template.JS]() && names == "jsvalescaper":
		return func(b []byte, text string) []byte { return append(b, text...) }
	}
	return nil
}

// entities are the letters that would not be letters in a text or an attribute.
var entities = [256]string{0: "\uFFFD", '"': "&#34;", '&': "&amp;", '\'': "&#39;", '+': "&#43;", '<': "&lt;", '>': "&gt;"}

func appendText(b []byte, text string) []byte {
	done := 0
	for i := range len(text) {
		if e := entities[text[i]]; e != "" {
			b = append(append(b, text[done:i]...), e...)
			done = i + 1
		}
	}
	return append(b, text[done:]...)
}

// appendAddress appends a whole address, unless following it could do more than
// show a page or begin a letter.
func appendAddress(b []byte, text string) []byte {
	if scheme, _, ok := strings.Cut(text, ":"); ok && !strings.Contains(scheme, "/") &&
		!strings.EqualFold(scheme, "http") && !strings.EqualFold(scheme, "https") && !strings.EqualFold(scheme, "mailto") {
		return append(b, "#ZgotmplZ"...)
	}
	return appendURL(b, text, &inAddress)
}

// urlLetters says of each byte how it stands in an address that stands in an
// attribute: as itself, as an entity, or, with "", as %xx.
type urlLetters struct {
	as      [256]string
	escaped bool // what is a %xx already stays
}

var inAddress, inQuery = lettersOf("!#$&*+,/:;=?@[]", true), lettersOf("", false)

func lettersOf(marks string, escaped bool) (l urlLetters) {
	l.escaped = escaped
	for _, c := range []byte("-._~abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789" + marks) {
		l.as[c] = string(appendText(nil, string(c)))
	}
	return l
}

func appendURL(b []byte, text string, letters *urlLetters) []byte {
	const hex = "0123456789abcdef"
	for i := range len(text) {
		c := text[i]
		switch as := letters.as[c]; {
		case as != "":
			b = append(b, as...)
		case c == '%' && letters.escaped && i+2 < len(text) && isHex(text[i+1]) && isHex(text[i+2]):
			b = append(b, c)
		default:
			b = append(b, '%', hex[c>>4], hex[c&15])
		}
	}
	return b
}

func isHex(c byte) bool {
	return '0' <= c && c <= '9' || 'a' <= c && c <= 'f' || 'A' <= c && c <= 'F'
}
