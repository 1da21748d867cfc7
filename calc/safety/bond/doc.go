// Package bond is the calculator "earth-bond": whether the path from the plug's earth pin to the metal that can
// be touched is good enough, by each named rule side by side.
//
// # Method
//
// The reading is compared with the limit of each rule for this cord. The strictest decides unless
// another rule is chosen; the medical rule counts only where it is chosen.
//
// After repair and in use, EN 50678 and EN 50699 (before: VDE 0701-0702): up to 1.5 mm² 0.3 Ω for
// cords up to 5 m, 0.1 Ω more for each further 7.5 m, never more than 1 Ω; thicker cords by
// their own resistance plus 0.1 Ω. UK code of practice: 0.1 Ω plus the cord's own resistance. Makers' routine
// test (EN 50106): 0.2 Ω, or 0.1 Ω plus the cord; without a cord 0.1 Ω. Australia and New Zealand
// (AS/NZS 3760): 1 Ω. Medical (IEC 62353): device without its detachable cord 0.2 Ω, that cord alone 0.1 Ω, both 0.3 Ω.
//
// The cord's resistance is its length times the highest resistance of a fine-stranded copper conductor of its size
// at 20 °C (IEC 60228, class 5).
//
// # Where it holds
//
// Class I devices with a plug, up to 16 A. Take off the leads of the meter first (`lead-null`). Flex the cord while
// reading and take the highest value; touch every metal part that earth should reach, on bare metal.
//
// # Where it misleads
//
// A meter's milliamperes find a missing earth, not a weak one: a wire down to one strand, or a rusty
// screw, reads well. The test sends at least 0.2 A, better 10 A.
//
// With direct current a poor joint may read differently each way: measure both polarities, take the higher.
//
// Metal that is not meant to be earthed (a badge, a screw in plastic, a class II part) reads open and is no
// fault. A data cable plugged in is a second path to earth: pull it.
//
// # Sources disagree
//
// By nearly ten to one for a short cord: 0.126 Ω (UK, 1 m of 0.75 mm²) to 1 Ω (AS/NZS). The right one is the
// one of the law where the device is used; the strictest is safe in all.
//
// Between the steps of the EN rule: a maker's table gives 0.4 Ω "up to 12.5 m", the words "per further 7.5 m" may
// also be read as full steps only. In between the verdict says so.
//
// # Sources
//
// - 0.3 Ω up to 5 m, 0.1 Ω per further 7.5 m, at most 1 Ω, up to 16 A: [dguv-203-071] and [din-vde-0701-0702; superseded, carried over into EN 50678 and EN 50699]; table by length: [metratester-5].
// - Above 1.5 mm² computed from length and area, 0.1 Ω the least, at most 1 Ω: [en-50678] and [en-50699]. That it is 0.1 Ω plus the wire: [memory].
// - UK, 0.1 Ω plus cord, 26 mΩ/m for 0.75 mm²: [iet-code-5]; longest extension leads (12, 15, 25 m): [iet-code-4 10.10; superseded].
// - 0.2 Ω, or 0.1 Ω plus the cord; at least 10 A from at most 12 V: [en-50106].
// - 1 Ω: [as-nzs-3760].
// - 0.2, 0.1 and 0.3 Ω; at least 0.2 A into 0.5 Ω, at most 24 V open, both polarities: [iec-62353]. Device with fixed cord 0.3 Ω: [iec-62353 (memory)].
// - Luminaires as made, 0.5 Ω at 10 A, are not judged here: [iec-60598-1].
// - North America names no ohms for a repaired device: [osha-1926-404 asks for continuity].
// - Resistance per metre: [iec-60228]; 1.25 mm² in proportion to 1 mm², other sizes as nominal copper: [own], the same as in `cord-drop`.
package bond
