// Package led computes the series resistor of light-emitting diodes, and what current a
// fitted resistor really gives.
//
// # Method
//
// R = (supply − n·Vf) / I for n diodes in series, and the resistor takes I²·R. The next value
// of the E24 series that is not smaller is named; smaller would mean more current.
//
// Vf is a band, not a number. So the current is computed for the lowest and highest Vf of the colour as
// well. The less the resistor has to drop, the more the current hangs on the diode.
//
// # Where it holds
//
// Indicator diodes with a resistor on steady DC, near their usual current. White and blue lamps for lighting
// with an inductive driver are another matter.
//
// # Where it misleads
//
// The light of a diode tells little of its current: twice the current looks hardly brighter.
//
// On rectified AC without a capacitor the current flows in pulses: the mean is lower, the peak higher.
//
// A diode across the supply without a resistor, or several in parallel on one resistor, hangs on millivolts: the
// one with the lowest Vf takes most, warms up, and takes more.
//
// Reversed volts kill at about 5 V: on AC a diode the other way round belongs across it.
//
// A meter's diode range lights red ones dimly and may show OL for a good blue or white one.
//
// # Sources disagree
//
// Red: 1.7 V (a school course), 1.8 V (a maker space), 2.0 V (data sheet, older type), 1.8 to 2.1 V (a table
// by colour). Green: 2.4 V typical (data sheet, yellowish green), 3.0 to 3.5 V (table, pure green): two kinds of
// crystal, and the colour's name does not say which. Hence two greens here, and a band for each colour.
//
// # Sources
//
// - Worked examples: [own supply less drop over current].
// - Red 2 V, yellow and green 2.4 V typical, all 3 V at most at 20 mA; reversed 6 V: [vishay-tlh-tll].
// - Bands by colour: [practice], widened to hold the values above. Infrared from 1.1 V; 5 V as the common reversed limit: [memory].
// - E24 series: [iec-60063].
package led
