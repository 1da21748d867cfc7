package quantity

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Style is how a shop writes amounts. Amounts are computed and printed without one; a
// style changes finished texts, at the edge. Its zero value leaves them alone.
type Style struct {
	Comma    bool `json:"comma,omitempty"`    // 0,5 A
	Imperial bool `json:"imperial,omitempty"` // °F, feet and inches; a rise stays in kelvin, a wire's area in mm²
}

// imperial is what takes the place of a unit: x of the unit are x·factor + offset.
var imperial = map[string]struct {
	name           string
	factor, offset float64
}{
	"°C": {"°F", 1.8, 32},
	"mm": {"in", 1 / 25.4, 0}, "cm": {"in", 1 / 2.54, 0}, "m": {"ft", 1 / 0.3048, 0}, "km": {"ft", 1000 / 0.3048, 0},
}

// Says is a text with its amounts as the shop writes them. What is no amount, such as a
// standard's number or 3G1.5, stays.
func (s Style) Says(text string) string {
	if s == (Style{}) {
		return text
	}
	var b strings.Builder
	for i := 0; i < len(text); {
		n := numberAt(text, i)
		if n == 0 {
			_, size := utf8.DecodeRuneInString(text[i:])
			b.WriteString(text[i : i+size])
			i += size
			continue
		}
		low, between, high := text[i:i+n], "", ""
		i += n
		for _, dash := range []string{"–", " to "} {
			if m := numberAt(text, i+len(dash)); strings.HasPrefix(text[i:], dash) && m > 0 {
				between, high = dash, text[i+len(dash):i+len(dash)+m]
				i += len(dash) + m
				break
			}
		}
		unit := unitAt(text[i:])
		to, ok := imperial[unit]
		if !ok || !s.Imperial {
			b.WriteString(s.number(low) + between + s.number(high))
			continue
		}
		b.WriteString(s.number(scaled(low, to.factor, to.offset)) + between)
		if high != "" {
			b.WriteString(s.number(scaled(high, to.factor, to.offset)))
		}
		b.WriteString(" " + to.name)
		i += len(" " + unit)
	}
	return b.String()
}

// Input is a default as the shop writes it, where it is still read as the same amount to
// three digits.
func (s Style) Input(kind Kind, text string) string {
	styled := s.Says(text)
	if styled == text {
		return text
	}
	was, err := Parse(kind, text)
	if err != nil {
		return text
	}
	is, err := Parse(kind, styled)
	if err != nil || Round(is.Num, 2) != Round(was.Num, 2) {
		return text
	}
	return styled
}

func (s Style) number(n string) string {
	if s.Comma {
		return strings.Replace(n, ".", ",", 1)
	}
	return n
}

// numberAt is the length of the plain decimal number at a place of a text; 0 if none
// begins there. A number is no part of a word or of a longer figure.
func numberAt(text string, at int) int {
	if at > len(text) {
		return 0
	}
	if before, _ := utf8.DecodeLastRuneInString(text[:at]); at > 0 && !strings.ContainsRune(" (–±≤≥<>“/", before) {
		return 0
	}
	i, points, digits := at, 0, 0
	if strings.HasPrefix(text[i:], "-") {
		i++
	} else if strings.HasPrefix(text[i:], "−") {
		i += len("−")
	}
	for ; i < len(text); i++ {
		c := text[i]
		if point := c == '.' && digits > 0 && i+1 < len(text) && isDigit(text[i+1]); point {
			points++
		} else if isDigit(c) {
			digits++
		} else {
			break
		}
	}
	if digits == 0 || points > 1 {
		return 0
	}
	if after, _ := utf8.DecodeRuneInString(text[i:]); i < len(text) && (after == '-' || after >= 'a' && after <= 'z' || after >= 'A' && after <= 'Z') {
		return 0
	}
	return i - at
}

// unitAt is the unit that stands behind a number, after one space and before
// anything but a word.
func unitAt(rest string) string {
	rest, ok := strings.CutPrefix(rest, " ")
	if !ok {
		return ""
	}
	end := strings.IndexFunc(rest, func(r rune) bool { return strings.ContainsRune(" ,;:.)”", r) })
	if end < 0 {
		end = len(rest)
	}
	return rest[:end]
}

// scaled is a number in another unit, as exact as it was printed: a temperature to as many
// decimals, a length to as many digits.
func scaled(text string, factor, offset float64) string {
	x, err := strconv.ParseFloat(strings.Replace(text, "−", "-", 1), 64)
	if err != nil {
		return text
	}
	y := float64(x*factor) + offset
	if offset != 0 {
		decimals := 0
		if i := strings.IndexByte(text, '.'); i >= 0 {
			decimals = len(text) - i - 1
		}
		return fixed(Round(y, 10), decimals, NoLimit)
	}
	return trimZeros(significant(y, precision{max(3, len(strings.Trim(strings.ReplaceAll(text, ".", ""), "-0"))), false}, NoLimit))
}

// Spaced is an amount with the blank that stands between a number and its unit in print, where a hand left it
// out: “700 W” for “700W”. Any other text stays as it is.
func Spaced(text string) string {
	digits, unit := cutNumber(text)
	if digits == "" || unit == "" || unit[0] == ' ' || kindOfUnit(unit) == "" {
		return text
	}
	return digits + " " + unit
}
