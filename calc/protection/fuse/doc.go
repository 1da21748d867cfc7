// Package fuse judges whether the fuse in hand may stand in the holder.
//
// What is printed on the old fuse or beside its holder goes first: it is never raised. Only
// what lies below it is a question of current, temperature and the pulse at switching on.
//
// # Method
//
// Steady current: the fuse carries its rating times the share its standard allows continuously (100 % for
// IEC 60127, 75 % for UL 248-14; the lower where the standard is not known) times what the heat of its
// place leaves of it, 1 − d·(T − 25 °C).
//
// Pulse at switching on: its melting integral is k·I²·t, with k by its shape: 1 for a rectangle, 1/2 for a
// half sine, 1/3 for a straight ramp, 1/5 for a parabola, 1/2 for an exponential fall whose
// time constant is t. The fuse stands 48, 38, 29 or 22 % of its own nominal melting integral 100, 1,000,
// 10,000 or 100,000 times; between these counts the share is read off the straight line on
// paper with both scales logarithmic. Fewer than 100 pulses are taken as 100.
//
// Breaking: the current of a short circuit at this place, given or as volts over loop ohms, must not be more than the
// breaking capacity: stated by the maker, or by the letter L (35 A or ten times the rating, whichever is more), E (150 A),
// H (1500 A), or for UL-listed fuses on 250 V by rating.
//
// The volts across a fuse at its rated current over that current is its hot resistance, which lies some way above what
// a meter reads on the cold part.
//
// # Where it holds
//
// Small cartridge fuses of one standard in place of their like, in a sound holder, in air at 25 °C or warmer, with ten seconds between
// pulses so that the wire cools.
//
// # Where it misleads
//
// A fuse that carries the current and stands the pulse may still be wrong: it also protects the wires and the parts behind it, and
// only the maker of the device knows those. That is why a higher rating is never offered.
//
// Where the device draws more than the marked fuse carries, the device is at fault or not as it was made. Find that first.
//
// A meter tells an open fuse from a whole one, not a 2 A from a 3 A one, nor quick from time-lag.
//
// A rating in volts for AC says nothing of DC: an arc on DC has no zero crossing to go out at.
//
// A fuse that opened with a black or silvered glass broke a short circuit; a wire sagged through in the middle says overload
// or age (common practice, no source).
//
// # Sources disagree
//
// How much less a warm fuse carries: 0.2 % per kelvin and 0.5 % per kelvin stand on one page (Interface Bus), and
// 110 % at 25 °C against 100 % at 40 °C, which is 0.6 % per kelvin, on another (Elliott Electric). The curves differ with the make
// of the wire; we take 0.5 % unless told otherwise. Look up the maker's curve.
//
// What an unqualified rating means: the current it carries continuously (IEC 60127: holds 1.5 times for an hour) or that at which it is about to open
// (UL 248-14: opens at 1.35 times within the hour). A 2 A fuse of one is no 2 A fuse of the other.
//
// # Sources
//
// - Pulse integrals and shares for 100 to 100,000 pulses: [littelfuse-catalogue pulse charts 1 and 2].
// - 75 % of the rating: [littelfuse-fuseology]. 100 % for IEC: [iec-60127-1 (summary)].
// - Breaking capacity of UL-listed fuses at 250 V: [littelfuse-fuseology standards page]. L, E, H: [iec-60127-2 (summary)] and [schurter-spt H is 1500 A].
// - Resistance hot and cold: [bel-5ht]. Warm fuse: [elliott-derating].
// - Never above the mark, and find out why it opened: [practice].
package fuse
