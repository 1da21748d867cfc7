package quantity

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// The ways of writing an amount that a trade has of its own: printed codes, clocks, gauges, sums.

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
