// Package runcap judges a motor's run capacitor from a reading with the plug out and the capacitor isolated, and
// computes the capacitance in circuit from volts and amperes where such a measurement was made.
//
// # Method
//
// Isolated first: unplugged, discharged, both wires off, the meter on capacitance. The reading is held against the
// mark and its tolerance.
//
// In circuit the capacitor's current is 2π·f·C·V, so C = I/(2π·f·V), with the volts across the capacitor itself and the amperes of
// its own lead, both true RMS. In microfarads that is k·A/V, with k = 10⁶/(2π·f): 2653 at 60 Hz and 3183 at 50 Hz.
//
// A run capacitor is below about 70 µF and stays in circuit; a start capacitor is above and is switched off after a second.
//
// # Where it holds
//
// Film run capacitors of single-phase motors: fans, pumps, compressors, washing machines.
//
// # Where it misleads
//
// A reading within the tolerance is not a good capacitor. Breakdown under volts, leakage to the can and a loose tag do not show
// on a meter of a few volts.
//
// 2652 at 50 Hz reads 17 % low: a good capacitor of 19.6 µF would be thrown away as 16.3.
//
// The volts across the capacitor are above the mains, 300 to 420 V on a 230 V motor (from memory): measure there, not at the plug, and rate the
// new one for them.
//
// In circuit, harmonics and a meter that is not true RMS add to the current and the capacitor seems large.
//
// The size rule is an order of magnitude and not valid for small motors, says its own page: the marking, the two colours of can and the switch tell more.
//
// Winding ohms do not give the amperes of lower speeds: the rule that 2.9 A at 19 Ω is 2.2 A at 25 Ω takes a motor for a resistor.
//
// Two capacitors in series by a wrong connection read as one smaller: 5 and 85 µF are 4.72 µF.
//
// A larger capacitor makes no stronger motor: it overheats the auxiliary winding. The same µF, the same volts or more.
//
// # Sources disagree
//
// How far below its mark a run capacitor may be: ±5 % or ±6 % by most labels, ±10 % as a rule of thumb in one trade school's
// text. The label decides; 5 % stands here unless another is entered, and 10 % below is weak by all.
//
// # Sources
//
// - 2652 at 60 Hz, 3183 at 50 Hz, and the examples: [own 10⁶/(2πf)].
// - Run capacitors as such: [iec-60252-1]; tolerances of 5 and 10 % are marked on the part: [iec-60252-1 (memory)].
// - 10 % below its mark is weak; run below about 70 µF; same µF, volts the same or higher; winding ohms: [practice].
package runcap
