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

// A root follows from one above it: a fault's from its device's, a device's from a block's.
func TestFirstOfRoots(t *testing.T) {
	l := List{
		{File: "content/blocks/cord.md", Says: "a", Root: true},
		{File: "content/devices/fan.md", Of: "fan", Says: "b", Root: true},
		{File: "content/faults/fan-a.md", Of: "fan", Says: "c", Root: true},
	}
	for n, want := range []string{"a", "b", "c"} {
		if first, left := l[n:].First(); len(first) != 1 || first[0].Says != want || left != 2-n {
			t.Errorf("%v, %d left", first, left)
		}
	}
}

// What may follow from a file that could not be read is left and counted, and nothing else is.
func TestFirst(t *testing.T) {
	device := Problem{File: "content/devices/kettle.md", Of: "kettle", Says: "a"}
	fault := Problem{File: "content/faults/kettle-a.md", Of: "kettle", Says: "b"}
	other := Problem{File: "content/faults/fan-a.md", Of: "fan", Says: "c"}
	block := Problem{File: "content/blocks/cord.md", Says: "d"}
	onKettle := Problem{File: "content/blocks/cord.md", On: "kettle", Says: "e"}
	onBoth := Problem{File: "content/blocks/cord.md", On: "fan kettle", Says: "f"}
	page := Problem{File: "content/pages/a.md", Says: "g"}
	words := Problem{File: "content/complaints.yaml", Says: "h"}
	root := func(p Problem) Problem { p.Root, p.Says = true, p.Says+"!"; return p }
	rest := List{device, fault, other, block, onKettle, onBoth, page, words}
	for _, c := range []struct {
		root Problem
		want string
		left int
	}{
		{device, "a b c d e f g h", 0}, // no root at all
		{root(device), "a! c d f g h", 3},
		{root(fault), "b! a c d e f g h", 1},
		{root(block), "d! g h", 6},
		{root(onKettle), "e! c d f g h", 3},
		{root(page), "g! a b c d e f g h", 0},
		{root(words), "h! g h", 6},
	} {
		l := rest
		if c.root.Root {
			l = append(List{c.root}, rest...)
		}
		first, left := l.First()
		var got []string
		for _, p := range first {
			got = append(got, p.Says)
		}
		if s := strings.Join(got, " "); s != c.want || left != c.left {
			t.Errorf("%v: %s, %d left; wanted %s, %d", c.root, s, left, c.want, c.left)
		}
		var b strings.Builder
		if err := l.Print(&b); err != nil || strings.Contains(b.String(), "more may follow") != (left > 0) {
			t.Errorf("%q", b.String())
		}
	}
}
