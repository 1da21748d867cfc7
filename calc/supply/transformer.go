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

// One winding makes so much of the regulation, and copper reads cold so much less than warm, when it is
// rated: from memory.
const windingLeast, windingMost, cold = 0.35, 0.65, 0.75

// Winding is what a sound winding for so many volts reads cold, in ohms, in a mains transformer of so
// many volt-amperes: its share of the regulation times V²/VA.
func Winding(volts, va float64) (low, high float64) {
	least, _, most := Regulation(va)
	r := volts * volts / va
	return windingLeast * least * r * cold, windingMost * most * r
}
