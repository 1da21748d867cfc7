// Package rectifier is the calculator "rectifier": what a transformer winding, a
// rectifier and a reservoir capacitor give, and what that costs the winding and
// the diodes.
//
// # Method
//
// The steady state is solved, not estimated. The capacitor is charged through
// the source's resistance and the diodes' exponential law whenever the rectified
// source stands above it, and discharged by the load. The volts over one period
// are followed by an implicit method, and the start is sought for which the
// period ends where it began. Its steps lie closest where current flows and where
// it begins. From that wave come the mean, the ripple, the peak of the diode
// current and the RMS current of the source.
//
// The source resistance is what the winding shows at its terminals: its own
// resistance plus the primary's divided by the square of the turns ratio. It can
// be measured: (open-circuit volts minus loaded volts) over the load current,
// with a resistor as load.
//
// The capacitor for a wanted ripple is sought with the same solution, until the
// ripple is the wanted one.
//
// At switching on the capacitor is empty and only the resistances hold the current
// back: at the crest, the worst instant, the whole peak less the diodes stands over them. The page of `inrush` leaves the
// diodes out, as mains asks nothing of them: for 17 V and 0.5 Ω it has 48.1 A, this one 38.4 A, and the same with ideal diodes.
//
// Beside it stand the estimates of the textbooks, and how far they are off: the
// ripple as load current over (charges a second times the capacitance), the mean
// as peak less diode drops less half that ripple, and the makers' factors for
// the RMS current.
//
// # Where it holds
//
// - A sine wave behind a resistance, a reservoir capacitor, and a load that is a resistor or takes a constant current.
// - Silicon rectifiers as modelled (see Sources); Schottky diodes roughly; ideal ones for comparison with tables.
// - Steady state; the first cycles after switching on are another matter.
//
// # Where it misleads
//
// - Real transformers have leakage inductance and the mains has flattened peaks: measured peak and RMS currents are usually below these (general knowledge, not measured here).
// - The open-circuit peak is what the capacitor and the regulator must stand, and mains may be 10 % high.
// - There is no fixed ratio of RMS to DC current. It follows the source resistance over the load resistance: for a full wave about 1.6 at 10 %, 1.8 at 5 %, 2.1 at 2 %, 2.6 at 0.5 %. The makers' 1.6 to 1.8 is the high-resistance end.
// - The textbook ripple I / (2 f C) overstates by 19 to 56 % in the checked full-wave cases, I / (f C) by 9 to 21 % for half wave.
// - In centre-tap circuits the volts of one half are asked for here; some tables give them end to end, a slip of a factor of two.
//
// # Sources disagree
//
// - RMS current of a centre-tap winding with capacitor for 1 A of DC: 1.2 A (ATC-Frost), 0.8 A (Petra Toroid) and 1.0 A (Hammond). 0.8 is the figure without a capacitor, copied; solved cases give 1.29 to 1.71 A per half winding.
// - Capacitor for 2 A, 50 Hz, 1 V of ripple: C = I / (2 f U) gives 20000 µF; a web lecture's I / (4 f U) gives 10000 µF and understates the ripple by 22 to 40 %.
//
// # Sources
//
// - Check values: [ngspice transient, with the diode Is 14.11 nA, N 1.984, Rs 33.89 mΩ at 27 °C], held against an independent Runge-Kutta solution; the same diode is "silicon" here.
// - Behind a stiff source, with a small capacitor: peak current = C dv/dt + load: [own].
// - Ideal diodes and an endless capacitor: tan θ - θ = π Rs / (2 RL) for full wave and π Rs / RL for half wave: [own], the physics of Schade's curves of 1943 (the curves themselves not read).
// - Makers' factors, compared in the tests: [hammond I_dc = 0.28 I_ac for half wave, 1.00 for a full-wave centre tap] and [atc-frost].
// - Bridge factor 1.8 for the RMS current: [practice].
// - Schottky, a 1N5819 of 1 A and 40 V, the model of `diode-drop`: Is 31.7 µA, N 1.373, Rs 51 mΩ: [memory libraries of circuit simulators].
package rectifier
