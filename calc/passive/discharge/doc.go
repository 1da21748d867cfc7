// Package discharge computes how long a charged capacitor stays dangerous across a
// resistor, and what the resistor has to stand.
//
// # Method
//
// The volts fall as V(t) = V₀·e^(−t/RC), so the time to a safe voltage is
// t = RC·ln(V₀/V_safe). The energy is CV₀²/2; at the first instant the resistor carries
// V₀/R and takes V₀²/R.
//
// A resistor that stays across a supply takes V²/R for good: with the mains given
// as RMS volts from that, else from the volts of the capacitor.
//
// What is left between the pins of a pulled plug is judged by three rules side by
// side, because they disagree: 34 V after 1 s (household), 37 % of the first peak after
// 1 s (office and IT equipment), 60 V after 1 s for pins that can be touched and after
// 5 s for the rest (machinery).
//
// The safe voltage is 34 V unless another is given: the strictest of these rules.
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
// # Sources disagree
//
// Household appliances: 34 V after 1 s with capacitors up to 0.1 µF exempt in the
// summaries read; the amended fifth edition exempts below 0.1 µF and not at it, and the domestic
// rule of Japan is 45 V. At just 0.1 µF the verdict here says that editions differ.
//
// IT equipment: 37 % of the peak after 1 s in IEC 60950; IEC 62368-1, which follows it,
// has 60 V after 2 s (from memory). One capacitor can pass one rule and fail another.
//
// # Sources
//
// - Time, energy, first power: discharge work sheet of a resistor maker (2005), name withheld by rule of this project.
// - 34 V after 1 s and the exemption: Japanese-language summary of the household appliance standard (IEC 60335-1; clause 22.5 from memory) and an article on X capacitors.
// - 37 % after 1 s: IEC 60950 as quoted on a product-safety mailing list.
// - 60 V, 5 s and 1 s: IEC 60204-1 as quoted in a note of sdev.dk.
package discharge
