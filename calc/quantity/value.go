package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Value is an amount of one kind. Num, Low and High are in the kind's base
// unit; Low == High == Num where nothing is known of a range.
type Value struct {
	Kind      Kind
	Num       float64
	Low, High float64
	// Unit is the unit the amount was written in, or should be shown in; ""
	// lets Text choose. For money it is the currency.
	Unit string
	// Span tells that it was written as two ends, 220–240 V, and not as an amount
	// with a tolerance.
	Span bool
	// Limit is the side to which it is rounded in print, Digits how many significant
	// digits it gets; 0 for the usual three.
	Limit  Limit
	Digits int
}

// Limit tells on which side a printed amount must lie, so that whoever keeps to the print
// keeps to the amount: a highest is rounded down, a lowest up, all else to the nearest.
type Limit int8

// The limits: none, an amount that must not be exceeded, one that must be reached.
const (
	NoLimit Limit = iota
	Highest
	Lowest
)

// Binding is the value without the ends of its range that do not count: of a range of
// highest amounts the lowest binds, of lowest ones the highest. Others stay.
func (v Value) Binding() Value {
	switch v.Limit {
	case Highest:
		v.Num, v.High = v.Low, v.Low
	case Lowest:
		v.Num, v.Low = v.High, v.High
	}
	return v
}

// Apart prints two amounts of one kind with as many digits as tell them from each other, up
// to eight, for sentences that compare them: 2.00 A and 2.00 A say nothing, 2.003 A and
// 2.001 A do.
func Apart(a, b Value) (string, string) {
	a.Limit, b.Limit = NoLimit, NoLimit // to their own sides they might change places
	for n := digitsShown; ; n++ {
		a.Digits, b.Digits = n, n
		one, other := a.Text(), b.Text()
		if one != other || n == 8 || Round(a.Num, 8) == Round(b.Num, 8) {
			return one, other
		}
	}
}

// Of is a Value without a range.
func Of(k Kind, base float64) Value { return Value{Kind: k, Num: base, Low: base, High: base} }

// Between is a Value that is a range, with its middle as the number.
func Between(k Kind, low, high float64) Value {
	if low > high {
		low, high = high, low
	}
	return Value{Kind: k, Num: low + float64((high-low)/2), Low: low, High: high}
}

// Ranged tells whether the value carries a range that is visible in print.
func (v Value) Ranged() bool { return v.Low != v.High && Round(v.Low, 10) != Round(v.High, 10) }

// Rounded is the value with its numbers rounded to ten significant digits.
func (v Value) Rounded() Value {
	exact := v.Low == v.High && v.Low == v.Num
	v.Num = Round(v.Num, 10)
	if exact {
		v.Low, v.High = v.Num, v.Num
	} else {
		v.Low, v.High = Round(v.Low, 10), Round(v.High, 10)
	}
	return v
}

// Finite tells whether number and range are ordinary numbers.
func (v Value) Finite() bool {
	return !math.IsNaN(v.Num+v.Low+v.High) && !math.IsInf(v.Num, 0) && !math.IsInf(v.Low, 0) && !math.IsInf(v.High, 0)
}

// Round rounds to a number of significant digits, ties away from zero in
// decimal, the same on every machine: the digits come from the exact decimal
// expansion, not from a scaled product.
func Round(x float64, digits int) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', digits-1, 64), 64)
	if err != nil {
		return x
	}
	if r == 0 {
		return 0 // never "-0"
	}
	return r
}

// digitsShown is the number of significant digits of a printed value.
const digitsShown = 3

// Text prints the value: three significant digits (four when the first is 1)
// with an engineering prefix and its unit, as a range "24–26 Ω" where the
// value is one, e.g. "24.0 V", "1.09 A", "2 h 5 min".
func (v Value) Text() string {
	if !v.Finite() {
		return "no value"
	}
	if v.Ranged() {
		return rangeText(v)
	}
	return v.text(v.Num)
}

// Middle prints the number alone, without the range it may carry.
func (v Value) Middle() string {
	if !v.Finite() {
		return "no value"
	}
	return v.text(v.Num)
}

func rangeText(v Value) string {
	if v.Kind == Percent && v.Digits == 0 && math.Max(-v.Low, v.High) >= 1 {
		v.Digits = digitsShown + 1 // 88.2–111.1 %, not 88–111.1 %
	}
	low, high := v.text(v.Low), v.text(v.High)
	if low == high {
		return low
	}
	ln, lu := splitUnit(low)
	hn, hu := splitUnit(high)
	if lu == hu && !strings.ContainsAny(ln, " ") && !strings.ContainsAny(hn, " ") {
		if strings.HasPrefix(hn, "-") || strings.HasPrefix(hn, "−") {
			return ln + " to " + join(hn, hu)
		}
		return ln + "–" + join(hn, hu)
	}
	return low + " to " + high
}

// splitUnit parts "24.0 V" into "24.0" and "V".
func splitUnit(s string) (number, unit string) {
	if i := strings.LastIndexByte(s, ' '); i >= 0 {
		return s[:i], s[i+1:]
	}
	return s, ""
}

func join(number, unit string) string {
	switch {
	case unit == "":
		return number
	case strings.HasPrefix(unit, "/"):
		return number + unit
	}
	return number + " " + unit
}

// text prints one number of the value's kind.
func (v Value) text(x float64) string {
	x = Round(x, 10)
	switch v.Kind {
	case Money:
		return join(fixed(x, 2, v.Limit), v.Unit)
	case MoneyPerHour:
		return join(fixed(x, 2, v.Limit), v.Unit) + "/h"
	case Duration:
		if v.Unit == "" {
			return durationText(x, v.digits(digitsShown), v.Limit)
		}
	case Percent:
		if math.Abs(x) < leastPercent/100 && v.Limit == NoLimit {
			x = 0
		}
		return join(significant(x*100, v.digits(2+boolInt(math.Abs(x) >= 1)), v.Limit), "%")
	case Count:
		if x != math.Trunc(x) {
			return significant(x, v.digits(digitsShown), v.Limit)
		}
		return trimZeros(significant(x, precision{10, false}, v.Limit))
	}
	if v.Unit != "" {
		if u, f, ok := findUnit(v.Kind, v.Unit); ok {
			return join(v.digitsOf((x-u.offset)/(u.factor*f)), v.Unit)
		}
	}
	base := kinds[v.Kind]
	if len(base) == 0 {
		return significant(x, v.digits(digitsShown), v.Limit)
	}
	u := base[0]
	y := (x - u.offset) / u.factor
	if u.prefix == "" {
		return join(v.digitsOf(y), u.name)
	}
	letter, factor := prefixFor(y, u.prefix)
	if math.Abs(y) < leastShown*factor && v.Limit == NoLimit {
		return join("0", u.name) // what is left of a difference of two equal amounts
	}
	s := v.digitsOf(y / factor)
	if strings.HasPrefix(s, "1000") { // 999.7 mA rounds up into the next prefix
		letter, factor = prefixFor(math.Copysign(factor*1000, y), u.prefix)
		s = v.digitsOf(y / factor)
	}
	return join(s, letter+u.name)
}

// leastPercent and leastShown are what is printed as nothing below: a share, in per cent, and an
// amount in the smallest prefix of its unit.
const leastPercent, leastShown = 0.0005, 0.0005

// digits is how many significant ones are wished: just so many if the value says so, else the
// usual, with one more behind a leading 1.
func (v Value) digits(usual int) precision {
	if v.Digits > 0 {
		return precision{v.Digits + usual - digitsShown, false}
	}
	return precision{usual, true}
}

// precision is a number of significant digits; with more, a number that starts with 1 gets one
// more, as a 1 in front carries the least information.
type precision struct {
	digits int
	more   bool
}

// digitsOf prints temperatures to a tenth, as no bench thermometer and no
// resistance reading means more, and everything else by significant digits.
func (v Value) digitsOf(y float64) string {
	n := v.digits(digitsShown)
	if v.Kind == Temperature || v.Kind == Rise {
		return fixed(y, max(1, n.digits-digitsShown+1), v.Limit)
	}
	return significant(y, n, v.Limit)
}

func prefixFor(y float64, allowed string) (string, float64) {
	a := math.Abs(y)
	letter, factor := "", 1.0
	if a == 0 {
		return letter, factor
	}
	found := false
	for _, p := range prefixes {
		if p.letter != "" && !strings.Contains(allowed, p.letter) {
			continue
		}
		// the smallest allowed prefix serves for anything smaller still
		if !found || a >= p.factor*(1-1e-12) {
			letter, factor, found = p.letter, p.factor, true
		}
	}
	return letter, factor
}

// decimal is a number as ten digits, d.ddddddddd times a power of ten; every text
// is made of it, because taking a binary number apart is the costly step.
type decimal struct {
	digits   [10]byte
	exp      int
	negative bool
}

// decimalOf gives the ten-digit decimal nearest to x; false if x is not finite.
func decimalOf(x float64) (d decimal, ok bool) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return d, false
	}
	var buf [24]byte
	text := strconv.AppendFloat(buf[:0], math.Abs(x), 'e', 9, 64) // d.ddddddddde±xx
	d.negative = x < 0
	d.digits[0] = text[0]
	copy(d.digits[1:], text[2:11])
	for _, c := range text[13:] {
		d.exp = d.exp*10 + int(c-'0')
	}
	if text[12] == '-' {
		d.exp = -d.exp
	}
	return d, true
}

// significant prints x with significant digits, and never as an exponent
// unless it is beyond any bench.
func significant(x float64, n precision, side Limit) string {
	d, ok := decimalOf(x)
	if !ok || d.digits[0] == '0' {
		return "0"
	}
	digits := n.digits
	if d.digits[0] == '1' && n.more && digits < 10 {
		digits++
	}
	if d.exp >= 9 || d.exp < -6 {
		return strconv.FormatFloat(Round(Round(x, 10), digits), 'e', digits-1, 64)
	}
	s, carried := d.fixed(max(digits-1-d.exp, 0), side)
	// rounding may have carried into one digit more: 9.996 is 10.0, not 10.00
	if carried && digits-1-d.exp > 0 {
		s, _ = d.fixed(digits-2-d.exp, side)
	}
	return s
}

// fixed prints x with a number of decimals.
func fixed(x float64, decimals int, side Limit) string {
	d, ok := decimalOf(x)
	if !ok {
		return strconv.FormatFloat(x, 'f', decimals, 64)
	}
	s, _ := d.fixed(decimals, side)
	return s
}

// fixed prints the decimal with a number of decimals and tells whether that
// carried into one digit more. It rounds half away from zero, as a person would:
// 26.45 becomes 26.5, though the nearest binary number lies a little below. A limit is
// rounded to its own side.
func (d decimal) fixed(decimals int, side Limit) (text string, carried bool) {
	digits := append(make([]byte, 0, 32), d.digits[:]...)
	keep := d.exp + 1 + decimals
	if keep < 0 { // all its digits lie behind the last one shown
		digits, keep = append([]byte(strings.Repeat("0", min(-keep, 400))), digits...), 0
	}
	switch {
	case keep < len(digits):
		up := digits[keep] >= '5'
		if side != NoLimit {
			up = strings.Trim(string(digits[keep:]), "0") != "" && d.negative == (side == Highest)
		}
		digits = digits[:keep]
		for i := keep - 1; up; i-- {
			if i < 0 {
				digits, carried = append([]byte{'1'}, digits...), true
				break
			}
			if digits[i]++; digits[i] <= '9' {
				break
			}
			digits[i] = '0'
		}
	default:
		for range keep - len(digits) {
			digits = append(digits, '0')
		}
	}
	if pad := decimals + 1 - len(digits); pad > 0 {
		digits = append([]byte(strings.Repeat("0", pad)), digits...)
	}
	out := make([]byte, 0, len(digits)+2)
	if d.negative {
		out = append(out, '-')
	}
	out = append(out, digits[:len(digits)-decimals]...)
	if decimals > 0 {
		out = append(append(out, '.'), digits[len(digits)-decimals:]...)
	}
	return clean(string(out)), carried
}

// clean drops the sign of a zero.
func clean(s string) string {
	if strings.HasPrefix(s, "-") && strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return s
}

func trimZeros(s string) string {
	if !strings.Contains(s, ".") || strings.Contains(s, "e") {
		return s
	}
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// durationText prints seconds below two minutes, then "5 min", "2 h 5 min", "3.5 d".
func durationText(s float64, n precision, side Limit) string {
	a := math.Abs(s)
	switch {
	case a < 120:
		u := kinds[Duration][0]
		letter, factor := prefixFor(s, u.prefix)
		return significant(s/factor, n, side) + " " + letter + "s"
	case a < 3600*1.5:
		n.digits--
		return significant(s/60, n, side) + " min"
	case a < 86400*2:
		whole := fixed(s/60, 0, side)
		minutes, _ := strconv.Atoi(strings.TrimPrefix(whole, "-"))
		text := strconv.Itoa(minutes/60) + " h"
		if minutes%60 != 0 {
			text += " " + strconv.Itoa(minutes%60) + " min"
		}
		if s < 0 {
			return "-" + text
		}
		return text
	}
	return significant(s/86400, n, side) + " d"
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// In prints the number in a wished unit with a fixed number of decimals, e.g.
// In("mA", 0) of 0.0123 A is "12 mA". An unknown unit falls back to Text.
func (v Value) In(unit string, decimals int) string {
	u, f, ok := findUnit(v.Kind, unit)
	if !ok || !v.Finite() {
		return v.Text()
	}
	y := fixed((Round(v.Num, 10)-u.offset)/(u.factor*f), decimals, v.Limit)
	if v.Kind == Money {
		return join(y, v.Unit)
	}
	return join(y, unit)
}

// Minutes prints a number of minutes for a page, e.g. "7 min", "1 h 20 min".
func Minutes(m float64) string {
	if m < 9.95 && math.Abs(m-math.Round(m)) > 0.05 {
		return fixed(m, 1, NoLimit) + " min"
	}
	n := int(math.Round(m))
	if n < 120 {
		return strconv.Itoa(n) + " min"
	}
	if n%60 == 0 {
		return strconv.Itoa(n/60) + " h"
	}
	return strconv.Itoa(n/60) + " h " + strconv.Itoa(n%60) + " min"
}

// Chance prints a probability for a page: "62 %", "under 1 %", "over 99 %".
func Chance(p float64) string {
	switch {
	case p <= 0:
		return "0 %"
	case p < 0.01:
		return "under 1 %"
	case p > 0.99 && p < 1:
		return "over 99 %"
	}
	return strconv.Itoa(int(math.Round(Round(p, 10)*100))) + " %"
}

// Number prints a plain number with up to ten significant digits, for JSON and
// for coordinates; it is the shortest such spelling.
func Number(x float64) string {
	x = Round(x, 10)
	if x == 0 {
		return "0"
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

// Tick prints an axis number with just the digits that the step needs.
func Tick(x, step float64) string {
	decimals := 0
	for s := math.Abs(step); s > 0 && decimals < 9 && math.Abs(s-math.Round(s)) > 1e-9*s; decimals++ {
		s *= 10
	}
	return fixed(x, decimals, NoLimit)
}
