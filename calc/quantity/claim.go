package quantity

import (
	"errors"
	"strings"
)

// Claim is a printed amount whose last written digit counts: "24 V", "1.09 A",
// "24–26 Ω". It is what a note says; Check tells whether a value agrees.
type Claim struct {
	Text      string
	kind      Kind
	low, high claimNumber
	ranged    bool
}

type claimNumber struct {
	written  float64 // as written, in the claim's unit
	decimals int
	unit     unit
	factor   float64 // of the prefix
	name     string  // the unit as printed
}

// ParseClaim reads a claim about an amount of the kind. A claim needs its unit,
// unless the kind has none.
func ParseClaim(k Kind, text string) (Claim, error) {
	s := strings.TrimSpace(tidy.Replace(text))
	c := Claim{Text: strings.TrimSpace(text), kind: k}
	if !k.Known() {
		return Claim{}, errors.New("this output is a word, not an amount; write = to have it filled in")
	}
	if k.isMoney() {
		v, err := money(k, text, s)
		if err != nil {
			return Claim{}, err
		}
		i := strings.IndexFunc(s, func(r rune) bool { return r >= '0' && r <= '9' || r == '-' })
		digits, _ := cutNumber(s[max(i, 0):])
		c.low = claimNumber{written: v.Num, decimals: decimalsOf(digits), unit: kinds[k][0], factor: 1, name: v.Unit}
		return c, nil
	}
	if low, high, ok := splitRange(s); ok {
		h, err := claimOne(k, text, high)
		if err != nil {
			return Claim{}, err
		}
		if numeric(low) {
			low += " " + h.name
		}
		l, err := claimOne(k, text, low)
		if err != nil {
			return Claim{}, err
		}
		c.low, c.high, c.ranged = l, h, true
		return c, nil
	}
	one, err := claimOne(k, text, s)
	c.low = one
	return c, err
}

func claimOne(k Kind, text, s string) (claimNumber, error) {
	digits, rest := cutNumber(strings.TrimSpace(s))
	x, err := number(digits)
	if err != nil {
		return claimNumber{}, errors.New(quote(text) + " is not an amount; write the number and its unit, like " + examples([]Kind{k}) + ", or = to have it filled in")
	}
	rest = strings.TrimSpace(rest)
	u, f := kinds[k][0], 1.0
	if rest != "" {
		var ok bool
		if u, f, ok = findUnit(k, rest); !ok {
			return claimNumber{}, errors.New(quote(rest) + " is no unit of " + string(k) + "; write it like " + examples([]Kind{k}))
		}
	} else if u.name != "" {
		return claimNumber{}, errors.New(quote(text) + " lacks its unit; write it like " + examples([]Kind{k}))
	}
	return claimNumber{written: x, decimals: decimalsOf(digits), unit: u, factor: f, name: rest}, nil
}

func decimalsOf(digits string) int {
	if i := strings.LastIndexAny(digits, ".,"); i >= 0 {
		return len(digits) - i - 1
	}
	return 0
}

// Check compares a value with the claim at the claim's last written digit, in
// its unit, rounded to the value's side where it is a limit. computed is the value as the
// claim should have said it.
func (c Claim) Check(v Value) (ok bool, computed string) {
	if !v.Finite() {
		return false, "no value"
	}
	low := c.low.of(v.Low)
	if !c.ranged {
		if v.Ranged() {
			// one number cannot stand for a range
			return false, c.low.print(low, v.Limit) + "–" + c.low.printUnit(c.low.of(v.High), v.Limit)
		}
		num := c.low.of(v.Num)
		return c.low.agrees(num, v.Limit), c.low.printUnit(num, v.Limit)
	}
	high := c.high.of(v.High)
	computed = c.low.print(low, v.Limit)
	if c.low.name != c.high.name {
		computed = c.low.printUnit(low, v.Limit)
	}
	computed += "–" + c.high.printUnit(high, v.Limit)
	return c.low.agrees(low, v.Limit) && c.high.agrees(high, v.Limit), computed
}

// of is a base amount in the claim's unit, to ten digits.
func (n claimNumber) of(base float64) float64 {
	return Round((Round(base, 10)-n.unit.offset)/(n.unit.factor*n.factor), 10)
}

func (n claimNumber) agrees(x float64, side Limit) bool {
	return n.print(x, side) == fixed(n.written, n.decimals, NoLimit)
}

func (n claimNumber) print(x float64, side Limit) string { return fixed(x, n.decimals, side) }

func (n claimNumber) printUnit(x float64, side Limit) string {
	return join(n.print(x, side), n.name)
}
