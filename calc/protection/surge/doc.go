// Package surge judges a varistor (MOV) that takes surges off a supply line.
//
// The mark of the old part goes first. Where it burnt away, the rated volts follow from the line, never from how low one would like to clamp.
//
// # Method
//
// Rated voltage: at least the highest voltage the line has continuously, AC as RMS. The marked voltage at 1 mA (471 is 470 V), less its tolerance of 10 %, is
// the crest the part stands, so its AC rating is 0.9·V/√2.
//
// The print is read as it stands on the part: 471K, 14D471K (disc of 14 mm), S14K275 (275 V AC). Three digits are two and
// the count of noughts, so 470 is 47 V; volts are written with their unit.
//
// Energy of one surge: k·V·I·t with the clamping volts V, the peak I and k by its shape: 1 for a rectangle, 2/π for a half sine, 1/2 for a triangle,
// 1/ln 2 = 1.44 for an exponential fall that is down to half after t. A coil that is cut off gives ½·L·I². Energy and peak must lie
// within the part's ratings for one surge.
//
// The clamping volts at that peak must lie below what the protected part stands.
//
// # Where it holds
//
// Zinc oxide discs across a line behind a fuse, for short surges: lightning far off, coils switched off.
//
// # Where it misleads
//
// Lower is not better. A part that clamps closer to the line conducts at every swell, wears out and burns; most of the low clamping is not needed by what it protects.
//
// It is no cure for volts that stay too high. On a lost neutral or a wrong tap it heats until it fails, mostly as a short circuit: there must be a fuse before it, better a thermal
// cut-off on its body.
//
// It is not a filter, not a fuse, not a proof against a near stroke of lightning, and isolates nothing. It does not make a class II device
// safe, and none is ever added from line to earth or to a touchable part.
//
// It wears. One that looks whole may clamp too low or not at all; cracked, charred or discoloured is spent. A reading in ohms says only that it is not
// short: the volts at 1 mA from a current-limited source tell more.
//
// In an insulation test at 500 V varistors from line to earth conduct and spoil the reading: it is then
// the varistor that is read.
//
// The rating for one surge is not that for many: a hundred surges are allowed at a small part of it.
//
// # Sources disagree
//
// Head room over the line: 10 % (Stetron, the volts at 1 mA over the working volts) or 20 % (a DC design guide of Littelfuse).
// We take 10 % over the rated line, as given, for mains; write 20 % where the line swells.
//
// Factor of the exponential: 1.4 in makers' notes (from memory), 1.44 by integrating.
//
// # Sources
//
// - Lower is not better: [martzloff-1989].
// - Worked example 24 V, 20 %, 31 V: [littelfuse-varistor].
// - Volts at 1 mA against AC and DC rating (470, 300, 385 V; 430, 275 V): [varistor-code]; 68, 43, 55 V: [nte2v040].
// - List of usual ratings: [memory]. Fuse before it, no part to earth added: [practice].
package surge
