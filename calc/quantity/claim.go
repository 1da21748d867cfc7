package quantity

import (
	"errors"
	"math"
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
		return claimNumber{}, errors.New(quote(text) + " is not an amount; write the number and its unit, like " + example(k) + ", or = to have it filled in")
	}
	rest = strings.TrimSpace(rest)
	u, f := kinds[k][0], 1.0
	if rest != "" {
		var ok bool
		if u, f, ok = findUnit(k, rest); !ok {
			return claimNumber{}, errors.New(quote(rest) + " is no unit of " + string(k) + "; write it like " + example(k))
		}
	} else if u.name != "" {
		return claimNumber{}, errors.New(quote(text) + " lacks its unit; write it like " + example(k))
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
// its unit. computed is the value as the claim should have said it.
func (c Claim) Check(v Value) (ok bool, computed string) {
	if !v.Finite() {
		return false, "no value"
	}
	if !c.ranged {
		num := v.Num
		if v.Ranged() {
			// one number cannot stand for a range
			return false, c.low.print(v.Low) + "–" + c.low.printUnit(v.High, c.kind)
		}
		return c.low.agrees(num), c.low.printUnit(num, c.kind)
	}
	computed = c.low.print(v.Low)
	if c.low.name != c.high.name {
		computed = c.low.printUnit(v.Low, c.kind)
	}
	computed += "–" + c.high.printUnit(v.High, c.kind)
	return c.low.agrees(v.Low) && c.high.agrees(v.High), computed
}

func (n claimNumber) of(base float64) float64 {
	return (Round(base, 10) - n.unit.offset) / (n.unit.factor * n.factor)
}

func (n claimNumber) agrees(base float64) bool {
	return n.print(base) == fixed(n.written, n.decimals)
}

func (n claimNumber) print(base float64) string { return fixed(n.of(base), n.decimals) }

func (n claimNumber) printUnit(base float64, k Kind) string {
	if math.IsNaN(base) {
		return "no value"
	}
	return join(n.print(base), n.name)
}
