// Package rest tells how far a resting battery is charged by its volts: as a band,
// because the published tables disagree.
//
// # Method
//
// The volts per cell are looked up in several published tables, with a straight line between
// two rows; a table that ends above empty goes on along its last step. The band runs from the
// lowest to the highest answer of all tables, over the error of the meter.
//
// With a hydrometer the reading is brought to 26.7 °C (80 °F): 0.004 is added for each
// 5.56 K (10 °F) above and taken off below. The resting volts of a cell are near its
// gravity + 0.84, which shows a cell that does not fit its acid.
//
// # Where it holds
//
// Nothing drawn and nothing charged since the stated time, near 25 °C: lead-acid 8 h at least, better
// 24; lithium 1 h; nickel a day. Cells alike.
//
// # Where it misleads
//
// Surface charge: hours after charging a lead-acid battery still reads high. A lamp for some
// minutes and a rest help.
//
// Volts tell the charge, not the health. A worn battery of a tenth of its capacity shows full volts. Load it.
//
// A 12 V battery of 10.5 V that was charged overnight has lost 2 V, a whole cell: no table holds.
//
// LiFePO4 is so flat between 20 and 90 % that 10 mV a cell, a good meter's error, are 20 points.
// NiMH says next to nothing: only near empty does it fall.
//
// # Sources disagree
//
// Lead-acid at 12.15 V: 25 % (recreational-vehicle magazine), 44 % (mailing list), 48 % (energy page), 50 %
// (linear rule). Which is right depends on the acid the maker filled in, so all stand; the hydrometer decides.
//
// A sealed 12 V battery at 12.0 V: 15 % (study quoted in a car builders' forum), 25 % (vehicle maker's manual), 40 %
// (travellers' page, and the linear rule).
//
// A LiFePO4 cell at 3.20 V: 20 % (firmware table, and one chart), 18 % (modeller's measurement), 40 to 60 % (battery seller).
//
// The gravity's reference temperature is 26.7 °C in American tables, 20 °C in a Japanese car maker's: 0.005 apart.
//
// # Sources
//
// - Flooded: [rv-magazine] and [rest-mailing-list]; a third table from 12.60 V 100 % to 11.95 V 25 %: [memory].
// - Sealed: 12.8, 12.6, 12.3, 12.0 V for 100, 75, 50, 25 % of a vehicle maker, and the linear rule (V − 11.4)/1.5: [memory].
// - LiFePO4 and Li-ion: [tracker-firmware]; end of discharge 2.0 V: [lifepo4-pack-sheet]; 2.75 V: [battsys].
// - NiMH says little; rest of 8 h, better 24; a shorted cell takes 2 V: [practice].
// - Hydrometer, 0.004 per 10 °F: [golf-car-manual]; gravity bands and volts = gravity + 0.84: [memory].
// - Below what and above what a cell is not charged: Li-ion 2.5 and 4.25 V, LiFePO4 2.0 V: [pcm-sheet]; LiFePO4 3.70 V: [lifepo4-pack-sheet]; lead-acid empty at 1.75 V: [sw12140e]; dead at 1.0 V, too high above 2.45 to 2.65 V, NiMH 0.9 and 1.6 V: [practice].
package rest
