// Package volts gives the volts at which a battery is charged and floated, by chemistry,
// cells and temperature.
//
// # Method
//
// The volts per cell at 25 °C times the number of cells, moved by the temperature where the chemistry asks
// for it. AGM by a maker's rule: float 2.25 V − 3 mV/K, recharge 2.35 V − 5 mV/K, both from
// 5 to 40 °C; colder or hotter the value at that end stands, and the result says so. Flooded and gel:
// − 5 mV/K. Lithium has no such move: it is charged to its volts or not at all.
//
// The published band stands beside each number, moved alike.
//
// NiMH is not charged to volts: it is charged with a current, and what ends it is a dip of 5 mV a cell.
//
// # Where it holds
//
// The battery's own temperature, not that of the room, and volts measured at its terminals. The label on the battery goes first, always.
//
// # Where it misleads
//
// A charger without a probe is set for one room. In a cold shed it never fills a battery, in a hot
// cabinet it dries it out.
//
// Right volts over the pack say nothing of each cell: one cell may be far too high. That is why
// lithium needs its protection board, and why this page refuses without one.
//
// A meter 1 % high makes 0.14 V: more than ten degrees of correction.
//
// # Sources disagree
//
// AGM, recharge at 25 and 30 °C: the maker's table prints 13.95 and 14.25 V for a 12 V block. Its own formula and its column per cell
// (2.35 and 2.325 V) give 14.10 and 13.95 V; those are right, the two rows of the block column are not.
//
// AGM float at 25 °C: one manual says 13.67 ± 0.06 V for a 12 V block and 2.24 to 2.26 V a cell, which is 13.44 to 13.56 V.
// The number here, 13.50 V, lies in the latter; a distributor's 2.25 to 2.30 V (13.5 to 13.8 V) holds both.
//
// AGM recharge in cycles: 2.40 to 2.45 V a cell (distributor), 2.35 to 2.40 V (one maker's data sheet), 2.35 V (the maker whose rule stands here).
//
// Per kelvin and cell: −3 mV (battery pages, and the maker's float), −5 mV (maker of flooded and gel types, and the maker's recharge).
//
// Gel float: 2.25 V (maker) and 2.175 V (encyclopedia). Flooded float: 2.15 to 2.23 V (battery questions page).
//
// Li-ion: 4.20 V (cell maker), 4.1 V "usually" (battery page): the lower loses some charge and gains life.
//
// # Sources
//
// - AGM rule and its ends at 5 and 40 °C: [narada-12ndf tables 3-2 and 3-3].
// - AGM manual that contradicts itself: [cd-rs-1826]. Distributor: [sla-instructions]. Data sheet: [sw12140e].
// - Gel 2.40 and 2.25 V, −5 mV/K: [trojan-guide table 6].
// - Flooded 2.15 to 2.23 V float, 2.40 V, end at 2.583 V: [practice].
// - LiFePO4 3.65 ± 0.05 V, 0.02 C, not below 2.0 V: [lifepo4-pack-sheet]. Li-ion 4.200 ± 0.049 V, 0 to 45 °C: [battsys].
// - NiMH: [nimh-sheet].
// - Lead-acid not charged above 50 °C or, discharged, below freezing: [memory].
// - Below what and above what a cell is not charged: Li-ion 2.5 and 4.25 V, LiFePO4 2.0 V: [pcm-sheet]; LiFePO4 3.70 V: [lifepo4-pack-sheet]; lead-acid empty at 1.75 V: [sw12140e]; dead at 1.0 V, too high above 2.45 to 2.65 V, NiMH 0.9 and 1.6 V: [practice].
package volts
