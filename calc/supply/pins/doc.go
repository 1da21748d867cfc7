// Package pins says how many ohms to expect across the pins of a pulled plug with the switch on, from the
// rating plate and the kind of device.
//
// It is the first test of all, before anything is opened: one reading tells an open path from a short and from
// a load that may be whole.
//
// # Method
//
// The plate gives V²/P. What the pins show is a share of it that depends on what is inside.
//
// A heating element shows V²/P less the few per cent that its wire is higher hot, with the makers' limits
// of power. A filament shows a sixteenth to a tenth of it cold.
//
// A transformer shows the copper of its primary only: about half of its regulation times V²/P, and the regulation
// follows its size (a few per cent for a large one, a third for a small one); the window is that of `winding-verdict`.
//
// A motor shows its copper too, not what holds back the current when it runs: a few hundredths to a third of
// V²/P, wide because of makes and sizes.
//
// A switch-mode supply or LED lamp has no ohms of its own. The reading climbs as the meter charges the
// capacitor, and ends at the resistors across it, or at OL.
//
// # Where it holds
//
// Plug pulled, switch on, thermostat and timer calling, and cold. One load: what else is in parallel lowers the reading.
// Take the ohms of the leads off below 10 Ω.
//
// # Where it misleads
//
// Copper in the right range does not prove a winding. One shorted turn in hundreds changes the ohms by less than the meter's
// error, and burns the transformer all the same. "Not open" is all that it says.
//
// V²/P is for heaters. A transformer of 100 VA reads 8 to 61 Ω and not 529 Ω, and is whole.
//
// A device with a soft switch, a relay or a triac shows OL or its standby supply with everything whole.
//
// A universal motor reads higher on a dirty commutator: turn it by hand and take the lowest. A start winding is in parallel only
// while its switch is closed.
//
// A meter in ohms cannot see insulation: test that at its own volts.
//
// # Sources
//
// - Heater and filament: as under element and lamp-law; limits of rated power: [iec-60335-1 clause 10 (memory)].
// - Primaries of tens of ohms (large) to several hundred ohms (small): [mikroe-textbook].
// - Fan motor of an oven, 120 V: about 37 Ω, below 5 Ω shorted: [lg-lre3085st].
// - Wash pump, washing machine motor, microwave transformer (the oven stays unopened here all the same): [memory service manuals].
// - Vacuum cleaner of 1000 to 1250 W, 20 Ω or less across its plug: [practice].
// - Shares of V²/P for motors, and watts of those motors: [memory].
package pins
