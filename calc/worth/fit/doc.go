// Package fit holds a replacement part against the original: which ratings must be
// equal, which may be higher, and which may never differ.
//
// # Method
//
// Each kind of part has its rules. A rating is equal (within a few per cent, or within the tolerance that the
// kind allows), at least as high, at most as high, or of the same class. The part fits only if every rating that
// matters is known of both and passes. What is not known is asked for; it never counts as passed.
//
// A fuse: the ampere mark and the speed equal, volts and breaking capacity no lower. A thermal link: the
// temperature the same, the kind (one-shot or self-resetting) the same, amperes and volts no lower. An X capacitor may be replaced
// by a Y of the same value and volts; a Y never by an X. The value of a Y is never
// higher. A fusible or flameproof resistor stays one, and the watts of a fusible one stay the same, since it opens by them.
//
// # Where it holds
//
// Parts in the place they were made for. The original's ratings are read from the part, the diagram or the maker's list; a
// part that an earlier repairer fitted may be wrong already.
//
// # Where it misleads
//
// Ratings are not all: size, lead spacing, pin order, insulation distance, approval marks and heat sink matter too.
//
// "Higher is better" is wrong for fuses, thermal links, the value of a snubber, the gain of an old
// transistor stage, and a capacitor that a supply must charge at each start.
//
// A self-resetting cut-out in the place of a one-shot link lets the device come back hot again and again. A surface thermostat does not
// measure what a link in the winding measures.
//
// # Sources disagree
//
// On a fuse with a lower ampere mark: one training text allows it with the warning that it may open under normal load; standards and
// makers ask for the same. It is not passed here.
//
// # Sources
//
// - Fuse: never a higher ampere rating, a lower voltage rating or a slower one; same current and delay with higher volts is the best substitute: [neets-fuses].
// - Y2 in place of X2 and never the reverse: [iec-60384-14 classes (summary)]. Surge that each class stands (X1 4 kV, X2 2.5 kV, Y1 8 kV, Y2 5 kV, Y4 2.5 kV, X3 and Y3 none): [iec-60384-14 (memory)]. One part of two classes: [kemet-safety].
// - Fusible resistor, electrolytic capacitors, link, resistor, diode, transistor, regulator, relay, switch, cord: [practice].
package fit
