package supply

import "math"

// Regulation is how much the volts of a small mains transformer rise when its full resistive load is taken off, as
// a fraction of the loaded volts, from its size in VA: likely value and the range over makes and kinds.
//
// The law 0.75·VA^−0.4 is a fit to values from memory (30 % at some VA, 12 % at 100 VA, 6 % at 500 VA); published
// values that the tests hold it against: a data sheet of 7 VA (28 to 31 %), AC wall adapters (12 to 34 %).
func Regulation(va float64) (low, likely, high float64) {
	likely = 0.75 * math.Pow(va, -0.4)
	return likely / 2, likely, likely * 1.5
}
