// Package bias computes the quiescent current of an amplifier's output stage from the volts
// across its emitter resistors.
//
// # Method
//
// At rest the same current flows through the output device and its emitter (or source) resistor:
// I = V/R. Across two equal resistors in series the meter sees twice the volts of one. The
// device idles at I times the volts across it, for each half.
//
// In theory a class AB stage of bipolar transistors hands over most smoothly where each emitter resistor
// is as large as the transistor's own kT/(qI), which is at 26 mV across it. MOSFET stages want
// more current and the maker's figure. Output valves are read alike, across 1 Ω in the cathode: millivolts are milliamperes.
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
// Theory says 26 mV across each resistor; amplifier builders in a forum say 100 mA in any stage, which is 22 mV at 0.22 Ω, or 30 to 45 mA; three makers'
// papers say 4.4 mV (public-address amplifier at 25 °C), 10 ± 1 mV (instrument amplifier) and 9 to 11 mV (kit). Makers
// stay low to stay cool. The maker's figure for the amplifier in hand goes first.
//
// # Sources
//
// - 26 mV across the emitter resistor including the device's own: [oliver-1971].
// - 10 ± 1 mV, other devices ± 3 mV: [laney-cd650]. 9 to 11 mV: [akitika-gt-108]. 4.4 mV at 25 °C, a public-address amplifier: [memory].
// - 1 Ω in the cathode: [aguilar-db-359] and [ceriatone].
// - 30 to 100 mA in any stage, and the rule of ten minutes: [practice].
package bias
