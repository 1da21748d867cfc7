package env

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"unicode/utf8"

	"faultleaf/internal/problem"
)

// Shown writes to w so that a terminal shows what a note, a sheet or a parcel says and obeys
// none of it: signs that cannot be seen are written out, all but the ends of lines and tabs.
func Shown(w io.Writer) io.Writer { return &shown{w: w} }

type shown struct {
	w    io.Writer
	mu   sync.Mutex
	half []byte // of a sign whose end has not come yet
}

func (s *shown) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	text := p
	if len(s.half) > 0 {
		text = append(s.half, p...)
		s.half = nil
	}
	var b strings.Builder
	for i := 0; i < len(text); {
		c, n := utf8.DecodeRune(text[i:])
		switch {
		case c == utf8.RuneError && n == 1 && !utf8.FullRune(text[i:]):
			s.half = append([]byte(nil), text[i:]...)
			n = len(text) - i
		case c == utf8.RuneError && n == 1:
			fmt.Fprintf(&b, `\x%02x`, text[i])
		case c == '\n' || c == '\t':
			b.WriteRune(c)
		case problem.Hidden(c):
			b.WriteString(problem.WrittenOut(c))
		default:
			b.WriteRune(c)
		}
		i += n
	}
	if _, err := io.WriteString(s.w, b.String()); err != nil {
		return 0, err
	}
	return len(p), nil
}
