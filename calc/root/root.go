// Package root finds where a function of one variable is zero or highest. Every room that has to
// solve something uses it, so that all of them converge to one tolerance.
package root

import "math"

// Near is the share of itself to which a root is found: far below the ten digits that
// are printed, so that native and browser print the same.
const Near = 1e-13

// most steps of a search; a bracket halves at least every second one.
const most = 200

// Between gives the root of f between low and high, where f has different signs; else the end at
// which it is nearer to zero. It is the method of Chandrupatla (Advances in Engineering
// Software 28, 1997; from memory): inverse quadratic where that is safe, halving else.
func Between(low, high float64, f func(x float64) float64) float64 {
	a, b := high, low
	fa, fb := f(a), f(b)
	if fa == 0 || fb == 0 || (fa < 0) == (fb < 0) {
		if math.Abs(fb) < math.Abs(fa) || fb == 0 {
			return b
		}
		return a
	}
	c, fc := a, fa
	share := .5
	for range most {
		x := a + float64(share*(b-a))
		fx := f(x)
		if (fx < 0) == (fa < 0) {
			c, fc = a, fa
		} else {
			c, fc, b, fb = b, fb, a, fa
		}
		a, fa = x, fx
		at, least := a, math.Abs(fa)
		if math.Abs(fb) < least {
			at, least = b, math.Abs(fb)
		}
		end := (Near*math.Abs(at) + 1e-300) / math.Abs(b-c)
		if least == 0 || end > .5 {
			return at
		}
		xi, phi := (a-b)/(c-b), (fa-fb)/(fc-fb)
		share = .5
		if float64(phi*phi) < xi && float64((1-phi)*(1-phi)) < 1-xi {
			share = float64(fa/(fb-fa)*(fc/(fb-fc))) + float64((c-a)/(b-a)*(fa/(fc-fa))*(fb/(fc-fb)))
		}
		share = math.Max(end, math.Min(1-end, share))
	}
	return a
}

// Newton gives the root of a rising or falling f between low and high by its slope, starting where told; a step that
// leaves what is known to hold the root, or is hardly shorter than the one before the last, is replaced by halving.
func Newton(low, high, start float64, f func(x float64) (y, slope float64)) float64 {
	x := start
	before, last := high-low, high-low
	for range most {
		y, slope := f(x)
		if y == 0 {
			return x
		}
		if (y > 0) == (slope > 0) {
			high = math.Min(high, x)
		} else {
			low = math.Max(low, x)
		}
		next := x - y/slope
		if !(next > low && next < high) || math.Abs(next-x) > before/2 {
			next = low + (high-low)/2
		}
		before, last = last, math.Abs(next-x)
		if math.Abs(next-x) <= Near*math.Abs(next) || high-low <= Near*math.Abs(next) {
			return next
		}
		x = next
	}
	return x
}

// Highest gives where f, which rises to one crest and then falls, is highest between low and
// high, by golden sections; a flat crest hides it below about a hundred-millionth.
func Highest(low, high float64, f func(x float64) float64) float64 {
	const golden = 0.6180339887498949
	a, b := high-float64(golden*(high-low)), low+float64(golden*(high-low))
	fa, fb := f(a), f(b)
	for range most {
		if high-low <= 1e-9*math.Max(math.Abs(low), math.Abs(high)) {
			break
		}
		if fa < fb {
			low, a, fa = a, b, fb
			b = low + float64(golden*(high-low))
			fb = f(b)
		} else {
			high, b, fb = b, a, fa
			a = high - float64(golden*(high-low))
			fa = f(a)
		}
	}
	return low + (high-low)/2
}
