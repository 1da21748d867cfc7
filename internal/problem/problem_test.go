package problem

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// Nothing in a note can steer the terminal that shows its mistakes, or fill it.
func TestVisible(t *testing.T) {
	for in, want := range map[string]string{
		"plain, 5 Ω":             "plain, 5 Ω",
		"\x1b[2J\x07":            `\u001b[2J\u0007`,
		"a\nb\u2028c":            `a\u000ab\u2028c`,
		"\u202egnp.exe\u200f":    `\u202egnp.exe\u200f`,
		strings.Repeat("x", 9e5): strings.Repeat("x", most) + "…",
	} {
		if got := Visible(in); got != want {
			t.Errorf("%.40q: %.60q", in, got)
		}
	}
	if s := (Problem{File: "content/a\x1b.md", Line: 1, Says: "“\x1b]0;x\a” is no test"}).String(); strings.ContainsAny(s, "\x1b\a") || !utf8.ValidString(s) {
		t.Errorf("%q", s)
	}
}

// A quoted text may run over the end of a line; the sentence does not.
func TestOneLine(t *testing.T) {
	var l List
	l.Add("a.md", 1, 1, "“2300\n\nher” is not a voltage", "write it\r\nlike 230 V")
	if got := l[0].String(); got != "a.md:1:1: “2300 her” is not a voltage; write it like 230 V" {
		t.Errorf("%q", got)
	}
}
