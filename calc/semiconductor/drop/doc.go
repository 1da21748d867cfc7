// Package drop computes the forward volts of a diode or of a transistor's base from
// current and temperature.
//
// # Method
//
// V = n·(kT/q)·ln(1 + I/Is) + I·Rs, with T in kelvin. What a book often leaves out is that
// Is itself grows steeply with temperature:
// Is(T) = Is·(T/T₀)^(XTI/n)·exp((Eg·q/(n·k))·(1/T₀ − 1/T)).
// That growth is why a hot diode drops less, although T stands before the logarithm.
//
// The slope is the mean between the two temperatures given; with both the same it is the slope there.
//
// # Where it holds
//
// Typical parts of each kind, from −55 °C to the most their material stands. Parts of one type differ by
// some 50 mV, and a larger junction drops less at the same current. The temperature is that of the
// junction, not of the air.
//
// # Where it misleads
//
// "Silicon drops 0.7 V" holds near 10 to 100 mA. A meter's diode range at 1 mA shows 0.57 to 0.69 V, and a rectifier
// at its rated current 0.9 to 1.0 V.
//
// "−2 mV per kelvin" holds for a small transistor at small current. A rectifier at 100 mA has −1.3 mV, so the rule is
// 55 % too steep there; at 10 µA a base has −2.2 mV.
//
// The formula with a constant Is gives +1.8 mV per kelvin at 1 mA: the wrong sign.
//
// A diode that carries current heats itself. Its drop falls, and in parallel diodes
// the hottest takes ever more: they do not share.
//
// # Sources disagree
//
// Schottky in a meter's diode range: 0.15 to 0.45 V (from memory) and models of a 1 A type, which give 0.12 to
// 0.13 V at 1 mA. The band is that of small ones; a large one may read below it and be good.
//
// A Schottky at 1 A from 25 to 125 °C: a data sheet's limits fall by 0.05 V, the model's volts by 0.12 V, because the
// model leaves out that its series resistance grows with heat. Near rated current and hot, believe the data sheet.
//
// # Sources
//
// - Formula: the diode equation; held against [ngspice].
// - Rectifier, a 1 A type: Is 14.11 nA, n 1.984, Rs 33.89 mΩ, Eg 1.11 eV, XTI 3 at 27 °C: [ngspice its model of a 1N4001].
// - Small signal, a 1N4148: Is 222 pA, n 1.65, Rs 68.6 mΩ; germanium, a point-contact OA1160: Is 2.5 µA, n 1.5, Rs 68 Ω, Eg 0.67 eV: [qucs-library].
// - Transistor, a small NPN: Is 10 fA, n 1, the one number fitted to an operating point (0.540 V at 10 µA and 25 °C): [own the same point].
// - Schottky, a 1N5819 of 1 A and 40 V: Is 31.7 µA, n 1.373, Rs 51 mΩ, Eg 0.69 eV, XTI 2: [memory libraries of circuit simulators].
// - Limits, 0.55 V at 25 °C and 0.50 V at 125 °C for 1 A: [irf-pd-20590]. 1.0 V at 10 mA: [panjit-1n4148].
// - About −2 mV per kelvin, for comparison: [practice].
package drop
