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

// Of a file with very many mistakes a hundred are printed, and how many are left; other
// files are told whole.
func TestPrintOfMany(t *testing.T) {
	var l List
	for i := range mostOfFile + 7 {
		l.Add("a.md", i+1, 1, "wrong", "")
	}
	l.Add("b.md", 1, 1, "wrong", "")
	var b strings.Builder
	if err := l.Print(&b); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(b.String()), "\n")
	if len(lines) != mostOfFile+2 || lines[mostOfFile] != "b.md:1:1: wrong" || lines[mostOfFile+1] != "a.md: 7 more of the same file are not told; mend those above first" {
		t.Errorf("%d lines, at the end %q", len(lines), lines[len(lines)-2:])
	}
}
