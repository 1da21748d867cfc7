// Package junction tells from readings in a meter's diode range what a part with two or
// three legs is, which leg is which, and what the readings cannot show.
//
// # Method
//
// Each pair of legs is read both ways round. A reading below 0.05 V is a short, OL is
// open, anything between conducts. What matters is which pairs conduct, and in which
// direction:
//
// - Red on one leg conducts to both others: NPN, that leg is the base.
// - Black on one leg conducts from both others: PNP, that leg is the base.
// - Of the two junctions the emitter's reads a few millivolts more than the collector's.
// - One pair that conducts both ways is a leak, a resistor inside, or the circuit around.
// - A short both ways is a short.
//
// The reading itself tells the material: 0.15 to 0.45 V Schottky or germanium, 0.45 to
// 0.85 V silicon, above that two junctions in series, and from 1.5 V a light-emitting diode.
//
// # Where it holds
//
// A part out of the circuit, or with all legs but one unsoldered, at room temperature, on a
// meter that sends about 1 mA and shows OL above some 2 to 3 V. The red lead is the
// positive one, as in all digital meters; in many pointer meters it is the negative one in ohms.
//
// # Where it misleads
//
// The meter's volts are 3, the circuit's may be 300. A transistor that breaks down
// at 40 V, has lost its gain, or leaks only when hot reads as new here. So the best result
// is "junctions intact; gain and breakdown untested".
//
// A double diode with joined ends reads like a transistor. A MOSFET shows only its body diode, a
// transistor with one junction open shows the same. A Darlington, a transistor with a diode across it or
// resistors inside cannot be told from a faulty plain one. Thyristors, and many IGBTs, show little at
// all. In all these cases the mark on the part and a new one beside it decide.
//
// A MOSFET with a charged gate conducts both ways. Short its legs together, then read again.
//
// Two legs that read OL both ways may be healthy: a suppressor for both polarities, a
// stack of high-voltage diodes, a light-emitting diode beyond the meter's volts.
//
// # Sources disagree
//
// A good silicon junction: 0.5 to 0.8 V (manuals of two meter makers), 0.6 to 0.7 V (a shop's test
// procedure), 0.45 to 0.9 V (instruction pages on transistors). Large junctions read low, small ones
// high. We take 0.45 to 0.85 V; below and above it the sentence says what else it may be.
//
// # Sources
//
// - Silicon 500 to 800 mV, germanium 200 to 300 mV, base and type from the leg in common, the emitter from the higher reading: [gvda diodes].
// - At 1 mA and 25 °C models of silicon junctions give 0.577 to 0.689 V: [ngspice].
// - The six readings of good and of failed transistors; for PNP the black lead is on the base; short below 0.05 V: [practice].
// - Schottky 0.15 to 0.45 V, double diodes, MOSFETs, Darlingtons, light-emitting diodes: [memory].
package junction
