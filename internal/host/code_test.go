package host

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// The code is a square with a quiet zone; its corner is the finder pattern of
// ISO/IEC 18004: seven dark squares, one light, five, three.
func TestCode(t *testing.T) {
	lines := strings.Split(strings.TrimSuffix(Code("http://192.0.2.7:7411/"), "\n"), "\n")
	wide := utf8.RuneCountInString(lines[0])
	for i, l := range lines {
		if utf8.RuneCountInString(l) != wide {
			t.Errorf("line %d has another width", i)
		}
	}
	if (wide+1)/2 != len(lines) {
		t.Errorf("%d wide, %d lines", wide, len(lines))
	}
	if lines[0] != strings.Repeat("█", wide) || lines[1] != lines[0] {
		t.Error("no quiet zone above")
	}
	if got := []rune(lines[2]); string(got[:12]) != "████ ▄▄▄▄▄ █" {
		t.Errorf("the corner is %q", string(got[:12]))
	}
	if Code(strings.Repeat("x", 5000)) != "" {
		t.Error("an address that is too long has a code")
	}
}
