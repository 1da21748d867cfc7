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
// - Percent plus counts: [gvda multimeter error, introduction to accuracy]; other examples [own the same sum].
// - Percent of reading plus percent of range: [keysight-34401a chapter 1].
// - Guard band and zones: [ilac-g8 4.2] and [iso-guide-98-4].
package accuracy
