// Package plug is the calculator "plug-pins": what is left between the pins of a plug that was just pulled, by each
// named rule side by side, and the bleeder resistor that would satisfy them.
//
// # Method
//
// Pulled at the worst moment, the interference capacitor between the pins holds the peak of the mains and empties
// through the bleeder: V(t) = V₀·e^(−t/RC).
//
// The rules differ in volts, in seconds and in what they exempt. Household (IEC 60335-1): 34 V after 1 s, small
// capacitors exempt. IT equipment, older (IEC 60950-1, withdrawn): below 37 % of the first peak after 1 s, up to 0.1 µF exempt. IT and audio
// equipment, newer (IEC 62368-1): after 2 s 60 V from 0.3 µF on, and the more volts the less a capacitor holds, 75 V at 0.17 µF, 100 V at 91 nF, 200 V
// at 28 nF, 1000 V at 4 nF. Machinery (IEC 60204-1): 60 V after 1 s for pins that can be touched,
// after 5 s for the rest, 60 µC exempt. Laboratory equipment (IEC 61010-1): 60 V after 5 s, or not more than 45 µC.
//
// The verdict is the worst of those in force unless one rule is chosen; the withdrawn one decides only where it is chosen. The largest bleeder for a rule is t/(C·ln(V₀/V)).
//
// # Where it holds
//
// One capacitor and one resistor at all positions of the switch. Take the larger of both positions: with the switch off,
// capacitors before it keep their charge if the bleeder lies behind it.
//
// # Where it misleads
//
// The bleeder may be open: chip and film resistors on mains fail so (common practice, no source). Then the charge stays for a
// minute and more.
// Touch no pins; measure.
//
// A meter of 10 MΩ or a probe empties the capacitor while it measures: 0.1 µF in a second. What is read after the first
// moment says little.
//
// A resistor on mains must stand the volts, not only the watts: two or three in series are used for that.
//
// # Sources disagree
//
// One capacitor, three verdicts: 0.47 µF with 1 MΩ has 38.7 V after 1 s, which fails at 34 V, passes at 37 % of the peak
// (120 V) and passes at 60 V.
//
// Household: capacitors up to 0.1 µF are exempt in the summaries read; the amended fifth edition exempts below 0.1 µF and not
// at it; Japan's domestic rule is 45 V. At just 0.1 µF the verdict says that editions differ.
//
// A charged 0.1 µF is exempt nearly everywhere and is still an unpleasant shock, which a member of a
// product-safety list tried between two fingers (2002).
//
// # Sources
//
// - 34 V after 1 s and the exemption: [iec-60335-1 22.5 (summary)]; 0.1 µF, 45 µC and 350 mJ behind a protective impedance: [iec-60335-1 8.1.4].
// - 37 % after 1 s, above 0.1 µF only: [iec-60950-1 2.1.1.7; withdrawn].
// - 60 V, 5 s and 1 s; 60 µC exempt: [iec-60204-1 6.2.4].
// - 60 V in practice, 45 µC by the text, after 5 s: [iec-61010-1 6.10.3].
// - 60 V after 2 s from 0.3 µF on, more volts for less: [iec-62368-1 table 5 (memory)]; that 2 s are tested: [iec-62368-1 5.5.2.2 (excerpt)].
package plug
