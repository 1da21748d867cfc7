package passive

import "math"

// Remaining is what is left of v0 volts after t at the time constant tau.
func Remaining(v0, tau, t float64) float64 {
	v := v0 * math.Exp(-t/tau)
	if v < 1e-6 {
		return 0 // less than any meter shows, and than the dielectric gives back
	}
	return v
}
