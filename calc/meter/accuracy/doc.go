// Package accuracy is the calculator "meter-error": how far off a reading may be by the
// meter's own data, and whether it passes a limit, fails it, or cannot tell.
//
// # Method
//
// The maker gives the error as ±(percent of the reading + counts). A count, also called digit, is one
// step of the last figure shown, so a reading of 5.00 V with ±(0.5 % + 3) is off by at most
// 25 mV + 3·10 mV = 55 mV. Bench meters and needle meters give a percentage of the range as well or
// instead; it adds the same amount whatever the reading.
//
// A reading passes a limit only if the whole band around it lies inside, and fails only if the
// whole band lies outside. Else the meter cannot tell, and the answer is no pass.
//
// # Where it holds
//
// For the function and range whose line of the data sheet is used, at 18 to 28 °C, within the time after
// calibration and, on AC, within the frequencies and wave form the sheet names. The counts are those of the
// range in use: see what one step of the last figure is worth there.
//
// # Where it misleads
//
// Low in a range the counts rule: 3 counts on a reading of 20 counts are 15 %, whatever the percentage
// says. Take the lowest range that shows the reading.
//
// On AC many meters are right for a sine only: on the cut wave of a dimmer or the pulses into a rectifier a meter
// that measures the mean and is marked in RMS can read a third too low (common practice, no source).
//
// The circuit may be wrong while the meter is right: a meter loads what it measures (`meter-load`), and leads add
// their ohms (`lead-null`).
//
// Two readings by one meter share most of its percentage error: a ratio or a difference is better than the
// two errors added.
//
// # Sources disagree
//
// Whether a value inside the limit but nearer to it than the error passes: simple acceptance says yes and
// shares the risk (up to 50 % wrong just at the limit); a guard band as wide as the error says no. Both are
// in ILAC-G8:09/2019. Here the guard band is kept, and the zone between is called "cannot tell".
//
// # Sources
//
// - Percent plus counts, 2 V on a 2 V range ±(0.5 % + 3) is ±13 mV: explanation of a test-instrument seller (gvda-instrument.com, multimeter error).
// - 100.0 V with ±(1 % + 2) is 98.8 to 101.2 V: the same seller's introduction to accuracy.
// - 2.000 V on a 5 V range with ±(0.08 % + 2) is 1.9964 to 2.0036 V: note of a test-instrument distributor (victorruoshui.com).
// - Percent of reading plus percent of range, 5 V on 10 V: user's guide of the Keysight 34401A, chapter 1.
// - Guard band and zones: ILAC-G8:09/2019, Guidelines on Decision Rules and Statements of Conformity, 4.2.
package accuracy
