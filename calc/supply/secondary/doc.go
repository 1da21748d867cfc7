// Package secondary gives the AC volts that the secondary of a supply or charger should show, off load
// and loaded, from the DC (or AC) output on its label.
//
// # Method
//
// Off load a small transformer gives more than loaded by its regulation, a tenth for a large one and half for a tiny one; it
// follows the size in VA unless it is given.
//
// An AC adapter is rated loaded: off load it shows its volts times one plus the regulation.
//
// A DC adapter with rectifier and capacitor rises twice to two and a half times as much, as the load also
// pulls the capacitor below the peak. Off load its capacitor stands at the peak, so its secondary shows (DC off load + diode drops) over √2.
//
// Before a linear regulator the DC must stay 2.5 V above the output at 10 % less mains; makers allow up to half as much again.
//
// A transformer charger for lead-acid batteries without capacitor shows 13 to 20 V off load for 12 V, 17 V being healthy; other
// batteries in proportion.
//
// The mains may be off by the share entered; it moves every window but the charger's, which has it in already.
//
// # Where it holds
//
// Transformers at mains frequency, a bridge unless another circuit is chosen; volts of one half for a centre tap.
//
// # Where it misleads
//
// A label gives volts at the rated load. Twelve on the label and eighteen on the meter, off load, is
// a healthy plain adapter, and death to what was made for a regulated one.
//
// A switch-mode supply shows its label's volts, loaded or not, and has no such secondary. Light and thin means switch-mode.
//
// Right volts off load do not prove the winding: a weak one or a bad joint drops only under load. Load it
// with a resistor or lamp and look again. Shorted turns take some volts, hum and heat.
//
// No volts at all: the primary, or the thermal link buried in its winding, is open. It opened for a reason.
//
// A meter in AC on rectified volts with a capacitor shows only the ripple; one in DC on AC shows nothing. Averaging meters read a few per cent off on bent waves.
//
// # Sources disagree
//
// Adapters of the AC kind read 10 to 25 % above the label (repair FAQ), 12 to 34 % (a table of adapters), 20 % (users
// of energy monitors); DC ones 32 to 80 % (the same table), 50 to 75 % for 12 V and 1 A (18 to 21 V measured), and 10 to 25 % in the
// repair FAQ, which is too little for DC adapters with a capacitor.
//
// # Sources
//
// - 7 VA, 7 to 22 V loaded with 9 to 28.3 V off load: [ptc7].
// - Half wave, 5 V and 100 mA from 5.3 V AC loaded: [atc-frost].
// - AC adapters 10 to 34 % above the label off load, DC roughly double; charger 13 to 20 V AC, 17 V healthy, for 12 V lead-acid: [practice].
// - Headroom of 2.5 V and up to half as much again before a regulator: [memory].
package secondary
