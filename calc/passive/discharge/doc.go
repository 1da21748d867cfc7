// Package discharge computes how long a charged capacitor stays dangerous across a
// resistor, and what the resistor has to stand.
//
// # Method
//
// The volts fall as V(t) = V₀·e^(−t/RC), so the time to a safe voltage is
// t = RC·ln(V₀/V_safe). The energy is CV₀²/2; at the first instant the resistor carries
// V₀/R and takes V₀²/R.
//
// The same law gives the resistor for a wanted time, R = t/(C·ln(V₀/V)), and from volts read again after a
// time the resistance through which a capacitor leaks by itself.
//
// A resistor that stays across a supply takes V²/R continuously: with the mains given
// as RMS volts from that, else from the volts of the capacitor.
//
// The safe voltage is 34 V unless another is given: the strictest of the rules for the pins of a pulled
// plug (`plug-pins` holds them side by side).
//
// # Where it holds
//
// One capacitor and one resistor with nothing else drawing current, for film and
// electrolytic types. Enter the peak volts: a 230 V mains charges to 325 V. A capacitor 20 %
// over its mark takes 20 % longer: write 470 µF ± 20 %.
//
// # Where it misleads
//
// The bleeder may be open. Then nothing here holds and the charge may stay for
// days. Measure before touching, with a meter that was just proved.
//
// Volts come back: a discharged capacitor recovers some of its charge from the
// dielectric. Leave the resistor on, and measure again after a minute.
//
// Low volts are not the whole of safety. A large capacitor below 34 V still welds a
// screwdriver, burns and destroys a meter set to ohms.
//
// A resistor's rating in watts says nothing of a pulse: look up its pulse energy and
// its highest volts, which for a small film resistor are 200 to 350 V (from memory).
//
// The discharge current is printed in one published page as V·R·e^(−t/RC); it must be V/R.
//
// # Sources
//
// - Time, energy, first power: [own RC·ln(V₀/V), CV²/2, V₀²/R].
// - 34 V: [iec-60335-1 22.5 (summary)].
// - A rated resistor, never a dead short: [practice].
package discharge
