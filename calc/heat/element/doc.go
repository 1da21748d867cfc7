// Package element computes the ohms that a heating element or filament should
// show, cold and hot, from its rating plate.
//
// A cold resistance reading is the first test of anything that heats. This
// says what it should be before it is taken, how far it may stray, and what one
// open half of two equal parts would show instead.
//
// # Method
//
// Hot, the element draws its rated power from its rated mains: R = V²/P.
//
// Cold, resistance wire shows that divided by the ratio of its resistivity in use
// and at 20 °C. Nickel-chromium 79/21 rises from 107.5 to 108.3 · 10⁻⁸ Ω·m between 20
// and 100 °C; that slope is carried on to the wire's temperature in use.
//
// A tungsten filament shows between a sixteenth and a tenth of its hot
// resistance, as under `lamp-law`; 12.5 is taken in the middle.
//
// The range holds the makers' limits of rated power (power above 200 W: 10 % under
// to 5 % over; up to 200 W: 10 % either way; up to 25 W: 20 % either way), unless a
// tolerance is given, and wire that is up to 8 % higher hot than cold. Power at
// another supply: by V² for wire; for tungsten the current follows the power 0.55 of
// the volts.
//
// # Where it holds
//
// Nickel-chromium and iron-chromium-aluminium wire, bare or in a sheathed tube,
// and filament lamps, on DC or on mains frequency, read away from everything else
// in the circuit. Take the ohms of the leads off the reading below 10 Ω.
//
// Where the plate gives two ranges, such as 220–240 V and 1850–2200 W, the
// lower ends belong together and so do the upper ones, and are computed so: they are one element.
//
// # Where it misleads
//
// A PTC heater is a ceramic, not a wire: its resistance falls a little and then
// climbs by powers of ten near its switching temperature. Cold ohms tell nothing of
// its power; measure current once it is warm.
//
// A filament read cold looks like a short: a lamp of 100 W and 230 V shows about
// 42 Ω and not 529 Ω. Power computed from cold ohms is ten times too high.
//
// Ohms in the right range do not prove insulation: a sheathed element can read well
// and still leak to its sheath when warm. Parallel parts hide each other, and a
// lamp, a motor or a supply across the element lowers the reading.
//
// # Sources disagree
//
// One source prints the power of a lamp at half its volts as 0.330 (exponent 1.6) and,
// from volts times amperes, as 0.342 (exponent 1.55). We use 1.55, which agrees with
// the current law that it prints beside it.
//
// A published answer gives 379 W for a lamp of 120 V whose cold filament is 28 Ω; the
// arithmetic is 120²/28 = 514 W, and 379 W would need 38 Ω.
//
// # Sources
//
// - Resistivity of nichrome 79/21 and of tungsten: [crc-wire-table].
// - Current of a lamp by the exponent 0.55: [standard-handbook-ee lamp rerating].
// - Limits of rated power: [iec-60335-1 clause 10 (memory)].
// - Filament cold at 1/16 to 1/10 of hot; wire at most 8 % higher hot; lower ohms before the switching temperature of a PTC: [memory].
package element
