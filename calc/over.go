package calc

import (
	"strconv"
	"strings"
)

// over makes one sentence of those at the corners of the inputs' ranges: where they differ
// in an amount only, the amount becomes its range, so that the sentence holds over
// all of it. Where they differ in more, the first stands as it is.
func over(first string, others []string) string {
	parts := amounts(first)
	low, high := append([]part(nil), parts...), append([]part(nil), parts...)
	for _, o := range others {
		if o == first {
			continue
		}
		at := amounts(o)
		if len(at) != len(parts) {
			return first
		}
		for i, p := range at {
			if p.before != parts[i].before || p.number != "" != (parts[i].number != "") {
				return first
			}
			if p.base(p.number) < low[i].base(low[i].number) {
				low[i] = p
			}
			if p.base(p.top()) > high[i].base(high[i].top()) {
				high[i] = p
			}
		}
	}
	var b strings.Builder
	for i, p := range parts {
		b.WriteString(p.before)
		switch l, h := low[i], high[i]; {
		case l.number+l.unit == h.top()+h.unit:
			b.WriteString(l.number + l.unit)
		case l.unit == h.unit && !strings.HasPrefix(h.top(), "-"):
			b.WriteString(l.number + "–" + h.top() + l.unit)
		default:
			b.WriteString(l.number + l.unit + " to " + h.top() + h.unit)
		}
	}
	return b.String()
}

// part is the text before an amount, its number as printed, that of its upper end where it is a
// range already, and the blank and prefixed unit behind it.
type part struct{ before, number, end, unit string }

func (p part) top() string {
	if p.end != "" {
		return p.end
	}
	return p.number
}

// base is a number in its unit without prefix.
func (p part) base(number string) float64 {
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return 0
	}
	for _, u := range prefixed {
		for _, f := range factors {
			if strings.TrimSpace(p.unit) == f.letter+u {
				return x * f.by
			}
		}
	}
	return x
}

var (
	prefixed = []string{"V", "A", "Ω", "W", "F", "H", "VA", "J", "s", "Hz", "Ah", "m"}
	factors  = []struct {
		letter string
		by     float64
	}{{"p", 1e-12}, {"n", 1e-9}, {"µ", 1e-6}, {"m", 1e-3}, {"", 1}, {"k", 1e3}, {"M", 1e6}, {"G", 1e9}}
)

// amounts parts a sentence at its numbers. A unit belongs to a number only where it takes a
// prefix, as only then two corners may print it differently.
func amounts(s string) []part {
	var parts []part
	digit := func(i int) bool { return i < len(s) && s[i] >= '0' && s[i] <= '9' }
	start := 0
	for i := 0; i < len(s); {
		if !digit(i) {
			i++
			continue
		}
		from := i
		if from > 0 && s[from-1] == '-' && (from == 1 || s[from-2] == ' ') {
			from--
		}
		for digit(i) || i < len(s) && s[i] == '.' && digit(i+1) {
			i++
		}
		p := part{before: s[start:from], number: s[from:i]}
		if next := i + len("–"); strings.HasPrefix(s[i:], "–") && digit(next) {
			for i = next; digit(i) || i < len(s) && s[i] == '.' && digit(i+1); i++ {
			}
			p.end = s[next:i]
		}
		if i < len(s) && s[i] == ' ' {
			end := i + 1
			for end < len(s) && !strings.ContainsRune(" .,;:)", rune(s[end])) {
				end++
			}
			word := s[i+1 : end]
			for _, u := range prefixed {
				for _, f := range factors {
					if word == f.letter+u {
						p.unit = s[i:end]
					}
				}
			}
			i += len(p.unit)
		}
		parts, start = append(parts, p), i
	}
	return append(parts, part{before: s[start:]})
}
