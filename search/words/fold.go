package words

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// plain lists the accented letters of the European keyboards behind the letter
// that people type instead. All are lower case: folding lowers first. It is made when
// the first such letter is met, which most questions never do.
var plain = sync.OnceValue(func() map[rune]string {
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
})

// folded are the plain letters, digits and % as fold writes them; 0 for what is no
// part of a word, or takes more to tell.
var folded = func() (t [256]byte) {
	for c := range utf8.RuneSelf {
		if isWordRune(rune(c)) {
			t[c] = fold(nil, rune(c))[0]
		}
	}
	return t
}()

// fold adds the plain spelling of one letter.
func fold(b []byte, r rune) []byte {
	if r < utf8.RuneSelf {
		if 'A' <= r && r <= 'Z' {
			r += 'a' - 'A'
		}
		return append(b, byte(r))
	}
	if unicode.Is(unicode.Mn, r) {
		return b // an accent that stands apart from its letter
	}
	r = unicode.ToLower(r)
	if to, ok := plain()[r]; ok {
		return append(b, to...)
	}
	if unicode.IsDigit(r) {
		return b // digits of other scripts would not match any part number
	}
	return utf8.AppendRune(b, r)
}
