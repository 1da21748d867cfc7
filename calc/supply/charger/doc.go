// Package charger computes what a transformer and a rectifier push into a battery when no
// capacitor stands between them, as in plain chargers.
//
// # Method
//
// Current flows only while the rectified source stands above the battery's own
// volts E (its EMF, what it would show with no current) and the diodes. At each
// instant the current is what the rest of the volts drives through all resistances
// in the path: winding, series resistor or lamp, cables, diodes and battery.
//
// The mean over a period is what charges, and what a moving-coil or DC meter shows.
// The RMS value is what heats the winding and the fuse. With ideal diodes there is
// a closed form: current begins at the angle α = arcsin(E/Û), and over each
// half-wave with current the mean is (2·Û·cos α − E·(π − 2α)) / (2π·R), twice that for
// full wave.
//
// The source resistance is what the winding shows at its terminals: its own plus
// the primary's divided by the square of the turns ratio. Of the diodes silicon or
// Schottky at 27 °C is modelled.
//
// # Where it holds
//
// A sine wave, resistances, a battery that holds its volts over one period (any
// battery larger than a torch's does). Transformer chargers without electronics, old
// lead-acid chargers and those with a lamp in series.
//
// # Where it misleads
//
// The battery's EMF climbs while it charges: 12 V lead-acid from 12 V to more than 14 V.
// The current falls as it does, and how steeply is the whole character of such a
// charger; the plot shows it. Little resistance means a large current at first and a steep fall.
//
// The resistances are few tenths of an ohm, so half a volt of mains makes much of a difference: enter the
// AC with its tolerance. Real transformers have leakage inductance, which lowers the peaks.
//
// A plain charger does not stop. Its peak is far above the volts at which charging
// should end, so time or a voltage limit has to end it.
//
// An ordinary AC clamp or a cheap multimeter on the winding reads neither mean nor RMS
// rightly: the pulses are peaked, with an RMS 1.3 to 3 times the mean.
//
// "Mean volts of the AC less battery volts over resistance" gives nothing or far too little: a 12 V
// winding (mean of the rectified sine 10.8 V) does charge a 12 V battery, at its peaks.
//
// # Sources disagree
//
// A published worked example (half-wave charger, 240 V, battery 180 V, 0.5 Ω) gives the
// charge of a cycle as 422.33 C: that is the integral over the angle; divided by
// ω = 314.16 per second it is 1.344 C.
//
// # Sources
//
// - Conduction angle, peak and integral of the half-wave charger: [guru-2006].
// - A battery put on backwards, the resistor for 12 V EMF and 24 V peak, closed form for ideal diodes: [own].
// - Real diodes: [ngspice diode Is 14.11 nA, N 1.984, Rs 33.89 mΩ].
// - 12 V lead-acid: gassing begins at about 14.4 V: [practice].
package charger
