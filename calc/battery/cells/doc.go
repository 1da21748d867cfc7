// Package cells judges the readings of the cells of one pack against each other.
//
// # Method
//
// The readings are compared with their median, the reading of the middle cell: one bad cell does not
// move it, as it would move the mean. The spread is highest less lowest.
//
// Up to the limit for the chemistry and the state the cells match. Above it they have drifted apart. A cell
// that lies below the median by four times the limit (lead-acid, one and a half times) is weak: dead, leaky or of
// far less capacity. With gravities 0.050 apart the lowest cell is done.
//
// Limits in volts a cell: lithium 0.05 at rest, 0.10 under load; lead-acid 0.05 at rest, 0.10 under load; NiMH 0.05 and 0.10.
// Gravity: 0.030 apart asks for an equalising charge, 0.050 condemns.
//
// Before all this: a lithium cell below its lowest volts is not charged, a cell below zero has been
// driven into reverse.
//
// # Where it holds
//
// Cells of one pack, alike, read within minutes in the same state with the same meter. Under load read all during one
// discharge.
//
// # Where it misleads
//
// LiFePO4 at rest: 3.25 V and 3.29 V may be 40 and 70 % full. Matching volts say little there; read it near full, while charging, or
// near empty.
//
// A parallel group hides its dead cell: it reads like its neighbours and runs down faster. Read under load.
//
// Cells that match may all be worn. Then the pack's capacity says it.
//
// One new cell among old ones does not make a pack: the old ones follow soon, and the new one is overcharged.
//
// # Sources disagree
//
// Gravity: 0.030 asks for equalising (battery maker), 0.040 is defective (cleaning machine's manual), 0.050 condemns (car training notes). The middle one
// calls for a second look after charging.
//
// # Sources
//
// - Lithium 0.05 V at rest, 0.1 V in use: [grepow]. A group 0.5 V low held a dead cell, groups 0.2 to 0.3 V low were unexplained: [practice a solar car team].
// - Lead-acid 0.05 V a cell at rest, gravity 0.030: [chbattery]. Gravity 0.050: [autoshop101]; 0.040: [minuteman-e24].
// - The variation from the average counts, and the worked pack under load: [witte].
// - Lowest volts: LiFePO4 2.0 V: [lifepo4-pack-sheet].
// - NiMH limits, lead-acid under load, and the multiple of the limit for a weak cell: [practice].
// - Below what and above what a cell is not charged: Li-ion 2.5 and 4.25 V, LiFePO4 2.0 V: [pcm-sheet]; LiFePO4 3.70 V: [lifepo4-pack-sheet]; lead-acid empty at 1.75 V: [sw12140e]; dead at 1.0 V, too high above 2.45 to 2.65 V, NiMH 0.9 and 1.6 V: [practice].
package cells
