package env

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// No sign reaches the terminal that steers it, however the text is cut.
func TestShown(t *testing.T) {
	for _, c := range []struct{ says, want string }{
		{"Cord\tbroken\n", "Cord\tbroken\n"},
		{"\x1b[2J\x1b]0;title\a", `\u001b[2J\u001b]0;title\u0007`},
		{"a\rb", `a\u000db`},
		{"gpj.\u202eexe", `gpj.\u202eexe`},
		{"cord\u200b-broken", `cord\u200b-broken`},
		{"a\U000e0041b", `a\udb40\udc41b`},
		{"\u009b31m", `\u009b31m`},
		{"\x9b31m", `\x9b31m`},
		{"µ Ω ü – “x” 👨\u200d🔧", "µ Ω ü – “x” 👨\u200d🔧"},
	} {
		for cut := range len(c.says) {
			var b strings.Builder
			w := Shown(&b)
			for _, part := range []string{c.says[:cut], c.says[cut:]} {
				if n, err := w.Write([]byte(part)); err != nil || n != len(part) {
					t.Fatal(n, err)
				}
			}
			if b.String() != c.want {
				t.Errorf("%q cut at %d: %q", c.says, cut, b.String())
			}
		}
	}
}

func FuzzShown(f *testing.F) {
	f.Add("a\x1b[2J\u202e\xff", 3)
	f.Fuzz(func(t *testing.T, says string, cut int) {
		var b strings.Builder
		w := Shown(&b)
		cut = min(max(cut, 0), len(says))
		_, _ = w.Write([]byte(says[:cut]))
		_, _ = w.Write([]byte(says[cut:]))
		for _, c := range b.String() {
			if unicode.IsControl(c) && c != '\n' && c != '\t' || unicode.Is(unicode.Bidi_Control, c) {
				t.Fatalf("%q lets %q through", says, c)
			}
		}
		if !utf8.ValidString(b.String()) {
			t.Fatalf("%q", b.String())
		}
	})
}
