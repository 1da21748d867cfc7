// Package bias computes the idle current of an amplifier's output stage from the volts
// across its emitter resistors.
//
// # Method
//
// At rest the same current flows through the output device and its emitter (or source) resistor:
// I = V/R. Across two equal resistors in series the meter sees twice the volts of one. The
// device idles at I times the volts across it, for each half.
//
// The optimum for a class AB stage of bipolar transistors is near 26 mV across each emitter resistor,
// counting the device's own emitter resistance: there the crossover between the halves is smoothest.
// MOSFET stages want more current and the maker's figure.
//
// # Where it holds
//
// With no signal, no load or the load in place, after ten minutes of warming up with the covers as in use. The
// resistors must be good: a burnt one reads high and makes the current look too large.
//
// # Where it misleads
//
// The meter's own error counts: 5 mV with 0.5 % and 3 digits of 0.1 mV is worth a tenth.
//
// Setting the bias cold gives too much warm; setting it hot gives crossover distortion cold. Set it as the maker says.
//
// A stage that will not settle, or runs away as it warms, has a fault in its bias transistor or its thermal
// contact. Do not turn the trimmer to hide it.
//
// A class D or class A stage is none of this.
//
// # Sources disagree
//
// One textbook on power amplifiers gives 26 mV across each resistor as the optimum (Oliver's criterion); a well-known
// amplifier book finds lower distortion near 23 mV, and makers print anything from 2 to 30 mV. The maker's figure for
// the amplifier in hand goes first.
//
// # Sources
//
// - 26 mV across the emitter resistor including the device's own: Oliver, "Distortion in complementary-pair class-B amplifiers", Hewlett-Packard Journal 1971 (from memory).
// - 5 to 30 mA for small amplifiers and the rule of ten minutes: common practice, no source.
package bias
