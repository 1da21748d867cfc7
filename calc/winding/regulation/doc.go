// Package regulation computes how far a transformer's volts fall under load, from two readings or from its
// size, and the source resistance that goes with it.
//
// # Method
//
// Regulation is (U₀ − U)/U: volts off load less volts at rated load, over those at rated load. Some makers
// divide by U₀ instead, which gives a smaller figure; both are shown.
//
// Two readings, off load and with a load that draws I amperes, give the source resistance
// (U₀ − U)/I. At another current the volts are U₀ − R·I. With the rated current entered the regulation is
// for that, else for the current of the reading.
//
// From the size: a small mains transformer loses the more of its volts the smaller it is. The share is
// taken as 0.75·VA^−0.4, half of that to one and a half times that between makes and kinds.
//
// # Where it holds
//
// Mains transformers up to some kVA, with a resistor or filament lamp as load: there the resistance of the windings
// makes nearly all of the drop. Both readings at the same mains volts.
//
// Warm copper has a fifth to a third more resistance than cold: read loaded volts after minutes, and
// again after hours.
//
// # Where it misleads
//
// Behind a rectifier and a capacitor the winding's current comes in pulses, and the volts fall further: use the rectifier's own page.
//
// A motor or a choke as load drops more by leakage inductance, a capacitor may even raise the volts.
//
// The mains itself sags under a large load. Read the primary both times, or the transformer takes
// the blame for the cord.
//
// More drop than its size explains means a bad joint, a cold or wrong winding, or leads in the way.
// Less is no fault. Shorted turns show as heat and current off load, hardly here.
//
// "10 % regulation" is no promise to hold the volts within 10 %; it says how far they fall.
//
// # Sources disagree
//
// 100 V off load and 95 V loaded are 5 % in a control-transformer maker's text, which divides by the volts off load; by the
// usual definition (Hammond, Talema, Bicron, Precision) they are 5.3 %.
//
// The data sheet of a 7 VA toroid promises at most 25 %. Its own table, 7 V loaded and 9 V off load, is 29 % by the usual
// definition and 22 % of the volts off load.
//
// Textbooks call 3 % the limit of a good power transformer; that holds for kVA. Dealers tell 20 to 30 % below 30 VA.
//
// # Sources
//
// - Definition, and 11 V against 10 V as 10 %, with the remark that some makers divide by the higher figure: [talema].
// - Over full-load volts: [hammond]. In proportion to the load used: [precision-toroids].
// - 9.990 V off load, 9.348 V at full load, 3 %: [lessons-in-electric-circuits].
// - Resistance referred to the secondary, 2.5 Ω and 0.04 Ω at 10:1: [theraja example 7.16].
// - 7 VA table: [ptc7]. Below 30 VA 20 to 30 %: [practice].
// - Law by size: fit to values [memory 30 % at few VA, 12 % at 100 VA, 6 % at 500 VA].
package regulation
