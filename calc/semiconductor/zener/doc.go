// Package zener computes a Zener diode behind a series resistor: the resistors that work, the
// loads that it holds, and what diode and resistor have to stand.
//
// # Method
//
// While the diode conducts, the resistor carries (source − Zener) / R, and the diode takes what the
// load leaves. Three things limit it:
//
// - Load off, the diode carries all of it: the resistor must be at least (source − Zener) / highest current.
// - Load on, the diode needs its least current: the resistor must be at most (source − Zener) / (load + least current).
// - The highest current is the diode's rated power over its volts.
//
// Write a source that moves with its range, such as 12 V ± 10 %: the limits then hold for all of it.
// The smallest resistor asks for the highest source, the largest for the lowest.
//
// # Where it holds
//
// Resistor and load with a constant Zener voltage. The knee and the diode's own ohms (10 to 100 Ω for a small one at 5 mA)
// move it by some per cent. Rated power holds for short leads at 25 °C; plan with half of it.
//
// # Where it misleads
//
// "Any Zener will do as a one-way valve": it blocks only up to its own volts. Behind a higher source it conducts backwards,
// and in place of a rectifier or against reversed polarity nothing limits that current.
//
// A meter's diode range shows a good Zener as a plain diode, about 0.7 V one way and OL the other, because it cannot reach the
// Zener's volts. Only one for less than some 2.5 V shows both ways. To find its volts, feed it through 1 to 10 kΩ from a
// supply that is higher.
//
// The mark is a nominal value. A C5V1 is anywhere in 4.8 to 5.4 V, at 5 mA, and a 1.3 W type of the same number is stated at 45 mA.
//
// Volts follow temperature: below 5 V they fall with it, above 6 V they rise, by up to 0.1 % per kelvin.
//
// A Zener that fails shorted leaves the source on the resistor: it takes (source)² / R and chars.
//
// # Sources disagree
//
// Temperature coefficient of a 5.6 V type: −0.05 to +0.05 % per kelvin (BZX79C) and −0.01 to +0.06 % per kelvin (BZX55). We
// print the range of the first.
//
// # Sources
//
// - Currents and resistor: [own].
// - Range of volts and temperature coefficient by nominal volts: [bzx79c]; 1.3 W types at 45 mA: [bzx85c].
// - Plan with half the rated power; 5 mA as least current of a small type: [practice].
package zener
