package quantity

import (
	"errors"
	"math"
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

// points are the letters without a prefix that stand for the decimal point: 4R7 and,
// on Dutch and Indian parts, 4E7 for ohms; 5V1 on a Zener diode, 3A15 on a fuse.
var points = map[Kind]string{Resistance: "RrΩE", Inductance: "H", Capacitance: "F", Voltage: "Vv", Current: "A", Power: "W"}

// letterPoint reads the code of IEC 60062 in which a letter stands for the
// decimal point: 4k7, 1R5, 2n2, R47, 4M7.
func letterPoint(k Kind, s string) (Value, bool) {
	point, ok := points[k]
	if !ok {
		return Value{}, false
	}
	i := strings.IndexFunc(s, func(r rune) bool { return r < '0' || r > '9' })
	if i < 0 {
		return Value{}, false
	}
	r, size := utf8.DecodeRuneInString(s[i:])
	frac := s[i+size:]
	if frac == "" || strings.Trim(frac, "0123456789") != "" {
		return Value{}, false
	}
	var f float64
	switch {
	case strings.ContainsRune(point, r):
		f = 1
	case r == '.' || r == ',':
		return Value{}, false
	case k == Voltage || k == Current || k == Power:
		return Value{}, false
	default:
		_, ff, ok := findUnit(k, string(r))
		if !ok || ff == 1 {
			return Value{}, false
		}
		f = ff
	}
	whole := s[:i]
	if whole == "" {
		whole = "0"
	}
	x, err := strconv.ParseFloat(whole+"."+frac, 64)
	if err != nil {
		return Value{}, false
	}
	v := Of(k, x*f)
	for _, p := range prefixes {
		if p.factor == f && f != 1 {
			v.Unit = p.letter + kinds[k][0].name
		}
	}
	return v, true
}

// twoWays is the error of a text with two readings, both of which it names.
type twoWays string

func (e twoWays) Error() string { return string(e) }

// ambiguous refuses what two people would read differently.
func ambiguous(k Kind, s string) error {
	digits, rest := cutNumber(s)
	unit := strings.TrimSpace(rest)
	if i := strings.IndexByte(digits, ','); i > 0 && strings.Count(digits, ",") == 1 && !strings.ContainsAny(digits, "./ ") {
		whole, after := digits[:i], digits[i+1:]
		if len(after) == 3 && strings.Trim(after, "0123456789") == "" && strings.Trim(whole, "+-0") != "" {
			point, none := join(whole+"."+after, unit), join(whole+after, unit)
			return twoWays(quote(s) + " can be read as " + point + " or as " + none + "; write one of them")
		}
	}
	if k == Resistance && len(digits) > 1 && digits[0] == '0' && strings.Trim(digits, "0123456789") == "" && (unit == "R" || unit == "r" || unit == "E") {
		n := strings.TrimLeft(digits, "0")
		if n != "" {
			return twoWays(quote(s) + " can be read as " + n + " Ω or, with its point misplaced, as 0." + digits[1:] + " Ω; write " + n + "R or 0R" + digits[1:])
		}
	}
	if k == Capacitance {
		for _, sep := range []string{"/", "+"} {
			one, other, two := strings.Cut(s, sep)
			a, err1 := number(one)
			b, err2 := number(strings.TrimRight(strings.TrimSpace(other), "FµuMDfdmpn "))
			if two && err1 == nil && err2 == nil && a >= b {
				return twoWays(quote(s) + " are two capacitors in one can; enter one of them at a time")
			}
		}
	}
	if k == Area && unit == "" {
		// square millimetres and gauges are both written as bare numbers
		if n, err := strconv.Atoi(digits); err == nil && n > 6 && n <= 50 {
			return twoWays(quote(s) + " can be square millimetres or a gauge; write " + digits + " mm² or " + digits + " AWG")
		}
		if strings.HasSuffix(digits, "/0") {
			return twoWays(quote(s) + " can be a gauge or a slip; write it like " + digits + " AWG or 7/0.2 mm")
		}
	}
	if k == Capacitance && unit == "mf" {
		return twoWays(quote(s) + " on an old part means microfarads, and mF would be millifarads; write " + digits + " µF or " + digits + " mF")
	}
	return nil
}

// printed reads marks as they stand on parts: the speed of a fuse (T2A, IEC 60127) or the curve of a
// circuit breaker (C20, IEC 60898) before its amperes, and a battery's hours (C20, C/20).
func printed(k Kind, s string) (Value, bool) {
	letters := strings.TrimRight(s, "0123456789.,mA /") // what stands before the number
	if letters == "" || letters == s {
		return Value{}, false
	}
	rest := strings.TrimSpace(s[len(letters):])
	switch k {
	case Current:
		switch letters {
		case "FF", "F", "M", "T", "TT":
		case "B", "C", "D":
			if strings.Trim(rest, "0123456789") != "" {
				return Value{}, false
			}
		default:
			return Value{}, false
		}
		v, err := single(Current, s, rest)
		return v, err == nil
	case Duration, Ratio:
		if letters != "C" {
			return Value{}, false
		}
		x, err := number(strings.TrimPrefix(rest, "/"))
		switch divided := strings.HasPrefix(rest, "/"); {
		case err != nil || x <= 0 || k == Ratio && !divided:
			return Value{}, false
		case k == Ratio: // a current of C/10
			return Of(k, 1/x), true
		}
		v := Of(k, x*3600)
		v.Unit = "h"
		return v, true
	}
	return Value{}, false
}

// clock reads 1h30, 1 h 30 min, 2min30, 1:30 (hours:minutes).
func clock(s string) (Value, bool) {
	rest := strings.ReplaceAll(strings.ToLower(s), " ", "")
	if a, b, ok := strings.Cut(rest, ":"); ok {
		h, err1 := strconv.ParseUint(a, 10, 16)
		m, err2 := strconv.ParseUint(b, 10, 16)
		if err1 != nil || err2 != nil || m > 59 || len(b) != 2 {
			return Value{}, false
		}
		return Of(Duration, float64(h)*3600+float64(m)*60), true
	}
	total, parts, last := 0.0, 0, 1e18
	for rest != "" {
		digits, tail := cutNumber(rest)
		x, err := number(digits)
		if err != nil || x < 0 {
			return Value{}, false
		}
		name := tail
		if i := strings.IndexFunc(tail, func(r rune) bool { return r >= '0' && r <= '9' }); i >= 0 {
			name, rest = tail[:i], tail[i:]
		} else {
			rest = ""
		}
		f := last / 60 // 1h30 means 30 of the next smaller unit
		if name != "" {
			u, ok := unit{}, false
			for _, c := range kinds[Duration] {
				if c.matches(name) {
					u, ok = c, true
				}
			}
			if !ok {
				return Value{}, false
			}
			f = u.factor
		} else if parts == 0 || last < 60 || last > 3600 {
			return Value{}, false
		}
		if f >= last {
			return Value{}, false
		}
		total += float64(x * f)
		parts, last = parts+1, f
	}
	if parts < 2 {
		return Value{}, false
	}
	return Of(Duration, total), true
}

// strands reads a stranded conductor, 7/0.2 or 16/0.2 mm: the count of wires and the diameter of each
// in millimetres. It gives the copper in square metres.
func strands(s string) (float64, bool) {
	n, d, ok := strings.Cut(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s), "mm")), "/")
	if !ok {
		return 0, false
	}
	count, err := strconv.Atoi(strings.TrimSpace(n))
	if err != nil || count < 2 || count > 10000 {
		return 0, false
	}
	mm, err := number(strings.TrimSpace(d))
	if err != nil || mm < 0.01 || mm > 5 {
		return 0, false
	}
	return float64(count) * math.Pi / 4 * mm * mm * 1e-6, true
}

// gauge reads an American wire gauge and gives the diameter in metres:
// 0.005 in at 36, ratio 92^(1/39) a step (ASTM B258).
func gauge(s string) (float64, bool) {
	t := strings.ToUpper(strings.TrimSpace(s))
	n, ok := strings.CutSuffix(t, "AWG")
	if !ok {
		n, ok = strings.CutPrefix(t, "AWG")
	}
	if !ok {
		return 0, false
	}
	n = strings.TrimSpace(strings.Trim(strings.TrimSpace(n), "#"))
	g := 0
	if z := strings.TrimSuffix(n, "/0"); z != n {
		k, err := strconv.Atoi(z)
		if err != nil || k < 1 || k > 4 {
			return 0, false
		}
		g = 1 - k
	} else if strings.Trim(n, "0") == "" && n != "" && len(n) <= 4 {
		g = 1 - len(n)
	} else {
		k, err := strconv.Atoi(n)
		if err != nil || k < 1 || k > 50 {
			return 0, false
		}
		g = k
	}
	return 0.005 * 0.0254 * math.Pow(92, float64(36-g)/39), true
}

// money reads 12.50, €12.50, 12,50 EUR, £3, 40/h. Cents are written with two
// digits after point or comma.
func money(k Kind, text, s string) (Value, error) {
	bad := errors.New(quote(text) + " is not a sum of money; write it like 12.50 or 12,50 €")
	if k == MoneyPerHour {
		for _, end := range []string{"/h", "per hour", "an hour", "/ h", "/hour"} {
			s = strings.TrimSpace(strings.TrimSuffix(s, end))
		}
	}
	i := strings.IndexFunc(s, func(r rune) bool { return r >= '0' && r <= '9' || r == '-' || r == '.' })
	if i < 0 {
		return Value{}, bad
	}
	before := strings.TrimSpace(s[:i])
	digits, rest := cutNumber(s[i:])
	after := strings.TrimSpace(rest)
	if before != "" && after != "" || len(before+after) > 8 || strings.ContainsAny(before+after, "0123456789%/;:") {
		return Value{}, bad
	}
	x, err := number(digits)
	if err != nil {
		return Value{}, bad
	}
	v := Of(k, x)
	v.Unit = before + after
	return checked(k, text, v)
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
	if k := kindOfUnit(strings.TrimSpace(rest)); k != "" {
		return k
	}
	if _, ok := letterPoint(Resistance, s); ok {
		return Resistance
	}
	return ""
}
