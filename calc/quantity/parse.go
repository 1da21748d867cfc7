package quantity

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Parse reads an amount of the kind as people write it on a bench:
//
//	17V   4k7   1R5   22E   4E7   100n   2.2 µF   45 MFD   5V1   0,5 A   T2A   1/4 W   248 °F   18 AWG   7/0.2 mm   1h30   2 weeks   C20
//	17V±2%   100 Ω ± 5 Ω   12–14 V   12 to 14 V   12..14 V   220~240 V
//
// What can be read two ways (4,702 kΩ, 01R, mf) is refused with both readings.
// A number without a unit is taken in the kind's first unit. The Value keeps
// the unit it was written in. The error is one sentence without the input's name.
func Parse(k Kind, text string) (Value, error) { return parse(k, text) }

// ParseAny tries several kinds in order; the unit decides, a number without a
// unit goes to the first kind. The error is that of the first kind.
func ParseAny(ks []Kind, text string) (Value, error) {
	var first error
	for _, k := range ks {
		v, err := parse(k, text)
		if err == nil {
			return v, nil
		}
		if _, two := err.(twoWays); two {
			return Value{}, err
		}
		if first == nil {
			first = err
			if len(ks) > 1 {
				var names []string
				for _, k := range ks {
					names = append(names, article(k))
				}
				first = errors.New(quote(text) + " is neither " + strings.Join(names, " nor ") + "; write it like " + examples(ks))
			}
		}
	}
	return Value{}, first
}

func quote(s string) string {
	s = strings.TrimSpace(strings.ToValidUTF8(s, "�"))
	if utf8.RuneCountInString(s) > 40 {
		s = string([]rune(s)[:40]) + "…"
	}
	return "“" + s + "”"
}

var tidy = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ", "\u2212", "-", "+/-", "±", "+-", "±", "\u03bc", "µ", "_", " ",
	"½", "1/2", "¼", "1/4", "¾", "3/4")

func parse(k Kind, text string) (Value, error) {
	if !k.Known() {
		return Value{}, errors.New("this takes no number")
	}
	s := strings.TrimSpace(tidy.Replace(strings.ToValidUTF8(text, "�")))
	if s == "" {
		return Value{}, errors.New("an amount is missing, for instance " + example(k))
	}
	if len(s) > 80 {
		return Value{}, errors.New(quote(text) + " is too long for an amount")
	}
	if i := strings.Index(s, "±"); i >= 0 {
		return withTolerance(k, text, s[:i], s[i+len("±"):])
	}
	if low, high, ok := splitRange(s); ok {
		return parseRange(k, text, low, high)
	}
	return single(k, text, s)
}

func splitRange(s string) (low, high string, ok bool) {
	for _, sep := range []string{"–", "—", " to ", "...", "…", "..", "~", "～", "÷"} {
		if i := strings.Index(s, sep); i > 0 && strings.ContainsAny(s[i+len(sep):], "0123456789") {
			if (sep == "~" || sep == "～") && !numeric(s[:i]) {
				continue // 120V~60Hz is alternating volts and no range
			}
			return strings.TrimSpace(s[:i]), strings.TrimSpace(s[i+len(sep):]), true
		}
	}
	if len(s) < 2 {
		return "", "", false
	}
	// a hyphen between digits is a range too, as in 12-14 V
	if i := strings.Index(s[1:], "-"); i >= 0 {
		i++
		if before, after := strings.TrimSpace(s[:i]), strings.TrimSpace(s[i+1:]); before != "" && after != "" &&
			after[0] >= '0' && after[0] <= '9' && !strings.HasSuffix(before, "e") && !strings.HasSuffix(before, "E") {
			return before, after, true
		}
	}
	return "", "", false
}

func parseRange(k Kind, text, low, high string) (Value, error) {
	h, err := single(k, text, high)
	if err != nil {
		return Value{}, err
	}
	if numeric(low) {
		_, unit := cutNumber(high)
		low += " " + unit
	}
	l, err := single(k, text, low)
	if err != nil {
		return Value{}, err
	}
	if l.Num > h.Num {
		return Value{}, errors.New(quote(text) + " is a range whose first number is the larger; write the lower one first")
	}
	v := Between(k, l.Num, h.Num)
	v.Unit, v.Span = h.Unit, true
	return v, nil
}

func numeric(s string) bool {
	_, rest := cutNumber(s)
	return strings.TrimSpace(rest) == ""
}

func withTolerance(k Kind, text, middle, tolerance string) (Value, error) {
	v, err := single(k, text, strings.TrimSpace(middle))
	if err != nil {
		return Value{}, err
	}
	t := strings.TrimSpace(tolerance)
	if strings.HasSuffix(t, "%") && k != Percent && k != Temperature {
		p, err := number(strings.TrimSpace(strings.TrimSuffix(t, "%")))
		if err != nil || p < 0 || p >= 100 {
			return Value{}, errors.New("the tolerance in " + quote(text) + " should be a percentage between 0 and 100")
		}
		d := math.Abs(v.Num) * p / 100
		v.Low, v.High = v.Num-d, v.Num+d
		return checked(k, text, v)
	}
	dk := k
	if k == Temperature {
		dk = Rise
	}
	if numeric(t) && v.Unit != "" {
		t += " " + v.Unit
	}
	d, err := single(dk, text, t)
	if err != nil || d.Num < 0 {
		return Value{}, errors.New("the tolerance in " + quote(text) + " is not an amount; write it like ±2% or ±0.5 " + kinds[k][0].name)
	}
	v.Low, v.High = v.Num-d.Num, v.Num+d.Num
	return checked(k, text, v)
}

func checked(k Kind, text string, v Value) (Value, error) {
	if !v.Finite() {
		return Value{}, errors.New(quote(text) + " is too large a number")
	}
	return v, nil
}

// single reads one amount without tolerance.
func single(k Kind, text, s string) (Value, error) {
	s = strings.TrimSpace(s)
	bad := func() (Value, error) {
		return Value{}, errors.New(quote(text) + " is not " + article(k) + "; write it like " + example(k))
	}
	if k.isMoney() {
		return money(k, text, s)
	}
	if err := ambiguous(k, s); err != nil {
		return Value{}, err
	}
	if k == Duration {
		if v, ok := clock(s); ok {
			return v, nil
		}
	}
	if v, ok := printed(k, s); ok {
		return checked(k, text, v)
	}
	if k == Area {
		if a, ok := strands(s); ok {
			return checked(k, text, Of(k, a))
		}
	}
	if k == Area || k == Length {
		if g, ok := gauge(s); ok {
			v := Of(k, g)
			if k == Area {
				v = Of(k, math.Pi/4*g*g)
			}
			return checked(k, text, v)
		}
	}
	if v, ok := letterPoint(k, s); ok {
		return checked(k, text, v)
	}
	digits, rest := cutNumber(s)
	x, err := number(digits)
	if err != nil {
		return bad()
	}
	rest = strings.TrimSpace(rest)
	if rest == "" && k == Gravity && x >= 500 {
		x /= 1000 // a hydrometer's scale leaves the point out: 1240
	}
	if rest == "" {
		u := kinds[k][0]
		v := Of(k, x*u.factor+u.offset)
		return checked(k, text, v)
	}
	u, f, ok := findUnit(k, rest)
	if !ok {
		if other := kindOfUnit(rest); other != "" && other != k {
			return Value{}, errors.New(quote(text) + " is " + article(other) + ", but " + article(k) + " is asked for, like " + examples([]Kind{k}))
		}
		return bad()
	}
	v := Of(k, float64(x*(u.factor*f))+u.offset)
	v.Unit = unitName(k, rest, u, f)
	return checked(k, text, v)
}

// unitName is the printed form of a unit as written: "uF" becomes "µF".
func unitName(k Kind, written string, u unit, f float64) string {
	for _, p := range prefixes {
		if p.factor == f {
			return p.letter + u.name
		}
	}
	return u.name
}

// cutNumber parts "4.7 kΩ" into "4.7" and " kΩ"; fractions, signs and
// exponents belong to the number.
func cutNumber(s string) (digits, rest string) {
	i := 0
	for i < len(s) {
		c := s[i]
		switch {
		case c >= '0' && c <= '9', c == '.', c == ',', c == '/' && i > 0 && i+1 < len(s) && isDigit(s[i+1]):
		case (c == '-' || c == '+') && (i == 0 || s[i-1] == 'e' || s[i-1] == 'E'):
		case (c == 'e' || c == 'E') && i > 0 && i+1 < len(s) && (isDigit(s[i+1]) || (s[i+1] == '-' || s[i+1] == '+') && i+2 < len(s) && isDigit(s[i+2])):
		case c == ' ' && i > 0 && isDigit(s[i-1]) && i+1 < len(s) && isDigit(s[i+1]): // 10 000 or 1 1/2
		default:
			return s[:i], s[i:]
		}
		i++
	}
	return s, ""
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// number reads digits with a decimal point or comma, blanks between thousands,
// a fraction, or an exponent.
func number(s string) (float64, error) {
	s = strings.TrimSpace(s)
	if i := strings.IndexByte(s, '/'); i > 0 {
		whole := 0.0
		top := s[:i]
		if j := strings.LastIndexByte(strings.TrimSpace(top), ' '); j > 0 {
			w, err := number(top[:j])
			if err != nil {
				return 0, err
			}
			whole, top = w, top[j+1:]
		}
		a, err1 := number(top)
		b, err2 := number(s[i+1:])
		if err1 != nil || err2 != nil || b == 0 {
			return 0, errors.New("not a fraction")
		}
		if a < 0 {
			return whole - math.Abs(a/b), nil
		}
		return whole + a/b, nil
	}
	groups := strings.Split(s, " ")
	for i, g := range groups {
		// blanks part thousands only: 10 000 or 10 000,5
		if i > 0 && (len(g) < 3 || strings.Trim(g[:3], "0123456789") != "" || len(g) > 3 && isDigit(g[3])) {
			return 0, errors.New("not a number")
		}
	}
	s = strings.Join(groups, "")
	commas, points := strings.Count(s, ","), strings.Count(s, ".")
	switch {
	case commas == 1 && points == 0:
		// 0,5 is half; 1,000 could be a thousand to some, so it is refused
		after := s[strings.IndexByte(s, ',')+1:]
		before := strings.TrimLeft(s[:strings.IndexByte(s, ',')], "+-")
		if len(after) == 3 && before != "0" && before != "" {
			return 0, errors.New("a comma before three digits can be read two ways")
		}
		s = strings.Replace(s, ",", ".", 1)
	case commas > 0:
		return 0, errors.New("not a number")
	}
	if s == "" || strings.ContainsAny(s, "xXpP_") {
		return 0, errors.New("not a number")
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, errors.New("not a number")
	}
	return x, nil
}

// findUnit looks a written unit up, with an SI prefix where the unit takes one.
// A lone prefix (100n, 4k) stands for the prefix with the kind's first unit.
func findUnit(k Kind, written string) (u unit, factor float64, ok bool) {
	written = strings.TrimSpace(written)
	for _, u := range kinds[k] {
		if u.matches(written) {
			return u, 1, true
		}
	}
	for _, p := range prefixes {
		if p.letter == "" {
			continue
		}
		rest, cut := cutPrefix(written, p.letter)
		if !cut {
			continue
		}
		for i, u := range kinds[k] {
			if !strings.Contains(u.prefix, p.letter) {
				continue
			}
			if u.matches(strings.TrimSpace(rest)) || i == 0 && rest == "" {
				return u, p.factor, true
			}
		}
	}
	return unit{}, 0, false
}

func cutPrefix(s, letter string) (string, bool) {
	if rest, ok := strings.CutPrefix(s, letter); ok {
		return rest, true
	}
	switch letter {
	case "µ":
		return strings.CutPrefix(s, "u")
	case "k":
		return strings.CutPrefix(s, "K")
	}
	return s, false
}

func (u unit) matches(s string) bool {
	if s == u.name {
		return true
	}
	for _, a := range u.also {
		if s == a {
			return true
		}
	}
	return false
}

// kindOfUnit finds a kind that has this unit, for the error message.
func kindOfUnit(written string) Kind {
	for _, k := range Kinds() {
		if k.isMoney() || k == Ratio || k == Count || k == Gravity {
			continue
		}
		if u, _, ok := findUnit(k, written); ok && len(written) >= len(u.name) {
			return k
		}
	}
	return ""
}

// example is an amount to show in an error.
func example(k Kind) string {
	switch k {
	case Voltage:
		return "12 V, 5V1 or 16–18 V"
	case Current:
		return "0.5 A, 350 mA or T2A"
	case Resistance:
		return "4.7 kΩ, 4k7, 4R7 or 4E7"
	case Capacitance:
		return "2200 µF, 100n, 4n7 or 45 MFD"
	case Temperature:
		return "120 °C"
	case Rise:
		return "10 K"
	case Duration:
		return "90 s, 1 h 30 min or 2 weeks"
	case Money:
		return "12.50"
	case MoneyPerHour:
		return "30/h"
	case Area:
		return "1.5 mm² or 18 AWG"
	case Length:
		return "2.5 m or 18 AWG"
	case Percent:
		return "80 %"
	case Ratio, Count:
		return "3"
	case Gravity:
		return "1.240 or 1240"
	case Years:
		return "5 years"
	}
	return "10 " + kinds[k][0].name
}

// article is the kind with a or an before it.
func article(k Kind) string {
	if strings.ContainsAny(string(k[:1]), "aeiou") {
		return "an " + string(k)
	}
	return "a " + string(k)
}

// examples are the first spelling of each kind.
func examples(ks []Kind) string {
	var some []string
	for _, k := range ks {
		first, _, _ := strings.Cut(example(k), ", ")
		first, _, _ = strings.Cut(first, " or ")
		some = append(some, first)
	}
	return strings.Join(some, " or ")
}

// KindOf tells from its unit what kind of quantity a text is about: "24–26 Ω" is
// a resistance. "" if it has no unit that is known.
func KindOf(text string) Kind {
	s := strings.TrimSpace(tidy.Replace(strings.ToValidUTF8(text, "�")))
	if i := strings.Index(s, "±"); i >= 0 {
		s = strings.TrimSpace(s[:i])
	}
	if _, high, ok := splitRange(s); ok {
		s = high
	}
	digits, rest := cutNumber(s)
	if digits == "" {
		return ""
	}
	if rest = strings.TrimSpace(rest); slices.Contains([]string{"k", "M", "G", "µ", "u", "n", "p"}, rest) {
		return "" // a prefix alone: of ohms as well as of farads
	}
	if k := kindOfUnit(rest); k != "" {
		return k
	}
	if _, ok := letterPoint(Resistance, s); ok {
		return Resistance
	}
	return ""
}
