// Package heat holds the law of the filament lamp, for every room that has one in its
// circuit.
package heat

import "math"

// Exponents of the lamp rerating law: Standard Handbook for Electrical Engineers,
// 11th edition, as given by an encyclopaedia.
const (
	currentExponent     = 0.55
	lightLow, lightHigh = 3.4, 3.5
)

// Hot over cold resistance of a healthy filament; sources in the room lamplaw.
const (
	LeastHotOverCold  = 10.0
	LikelyHotOverCold = 12.5
	MostHotOverCold   = 16.0
)

// Current is the current of a filament lamp over its rated current at a fraction of
// its rated volts (both plain ratios; 0 at 0). It never goes above what the cold filament
// would draw.
func Current(fraction float64) float64 {
	if fraction <= 0 {
		return 0
	}
	return math.Min(math.Pow(fraction, currentExponent), float64(fraction*LikelyHotOverCold))
}

// Ohms is the resistance of the filament over V²/P at a fraction of its rated
// volts; down to the cold resistance.
func Ohms(fraction float64) float64 {
	if fraction <= 0 {
		return 1 / LikelyHotOverCold
	}
	return math.Max(math.Pow(fraction, 1-currentExponent), 1/LikelyHotOverCold)
}

// Light is the light over the rated light at a fraction of the rated volts, between the
// two exponents in print, the lower number first.
func Light(fraction float64) (low, high float64) {
	if fraction <= 0 {
		return 0, 0
	}
	a, b := math.Pow(fraction, lightLow), math.Pow(fraction, lightHigh)
	return math.Min(a, b), math.Max(a, b)
}

// Cold is the range, in ohms, that a healthy filament reads cold, from its hot
// resistance V²/P.
func Cold(hot float64) (low, high float64) { return hot / MostHotOverCold, hot / LeastHotOverCold }
