package words

import (
	"strings"
	"unicode"
)

// plain lists the accented letters of the European keyboards behind the letter
// that people type instead. All are lower case: folding lowers first.
var plain = func() map[rune]string {
	m := map[rune]string{}
	for _, line := range strings.Fields(`
		a:àáâãäåāăą c:çćĉċč d:ďđ e:èéêëēĕėęě g:ĝğġģ h:ĥħ i:ìíîïĩīĭįı j:ĵ k:ķ l:ĺļľŀł
		n:ñńņňŉ o:òóôõöøōŏő r:ŕŗř s:śŝşšș t:ţťŧț u:ùúûüũūŭůűų w:ŵẁẃẅ y:ýÿŷ z:źżž
		ae:æ oe:œ ss:ß th:þ d:ð
		u:µμ ohm:Ωω °c:℃ °f:℉ °:º 2:²`) {
		to, from, _ := strings.Cut(line, ":")
		for _, r := range from {
			m[r] = to
		}
	}
	return m
}()

// fold writes the plain spelling of one letter.
func fold(b *strings.Builder, r rune) {
	if r < 0x80 {
		if 'A' <= r && r <= 'Z' {
			r += 'a' - 'A'
		}
		b.WriteByte(byte(r))
		return
	}
	if unicode.Is(unicode.Mn, r) {
		return // an accent that stands apart from its letter
	}
	r = unicode.ToLower(r)
	if to, ok := plain[r]; ok {
		b.WriteString(to)
		return
	}
	if unicode.IsDigit(r) {
		return // digits of other scripts would not match any part number
	}
	b.WriteRune(r)
}
