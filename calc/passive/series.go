// Package passive holds what the rooms of its shelf, and the rooms of others, share:
// the preferred values of IEC 60063 and the emptying of a capacitor.
package passive

import "math"

// e24 is a list and not a formula: rounding 10^(i/24) gives other numbers at eight
// places (2.6 for 2.7, 3.2 for 3.3 ... 8.3 for 8.2). IEC 60063.
var e24 = [24]int{100, 110, 120, 130, 150, 160, 180, 200, 220, 240, 270, 300, 330, 360, 390, 430, 470, 510, 560, 620, 680, 750, 820, 910}

// e192 are the rounded steps of 10^(1/192), but for 9.20 where rounding gives 9.19.
var e192 = func() (values [192]int) {
	for i := range values {
		values[i] = int(math.Round(100 * math.Pow(10, float64(i)/192)))
	}
	values[185] = 920
	return values
}()

// Sizes are the numbers of values to the decade, coarsest first.
var Sizes = []int{3, 6, 12, 24, 48, 96, 192}

// Series gives one decade of the series with n values, as whole numbers 100 to 999.
// Up to E24 each series is every second value of the next, and again from E48 to E192.
func Series(n int) []int {
	all := e24[:]
	if n > len(e24) {
		all = e192[:]
	}
	values := make([]int, 0, n)
	for i := 0; i < len(all); i += len(all) / n {
		values = append(values, all[i])
	}
	return values
}

// Coarsest is the size of the coarsest series that holds three digits 100 to 999; 0
// where none does.
func Coarsest(digits int) int {
	for _, n := range Sizes {
		for _, v := range Series(n) {
			if v == digits {
				return n
			}
		}
	}
	return 0
}

// Amount is digits·10^(decade−2), rounded once: 470 and 3 are 4700.
func Amount(digits, decade int) float64 {
	if decade >= 2 {
		return float64(digits) * math.Pow10(decade-2)
	}
	return float64(digits) / math.Pow10(2-decade)
}

// Apart takes a positive amount to the nearest three digits and its decade; exact
// tells whether they are the amount.
func Apart(x float64) (digits, decade int, exact bool) {
	decade = int(math.Floor(math.Log10(x)))
	digits = int(math.Round(x / math.Pow10(decade) * 100))
	if digits >= 1000 {
		digits, decade = digits/10, decade+1
	}
	return digits, decade, math.Abs(Amount(digits, decade)-x) <= 1e-9*x
}
