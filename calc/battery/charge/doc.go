// Package charge estimates how long a battery takes to charge, and whether the current suits it.
//
// # Method
//
// What is missing, in ampere-hours, over the charger's current is the shortest time: the current
// flows in full to the end. No charger does that, and no battery takes it all, so the answer is a range.
//
// Lead-acid: from 1.1 times the missing charge over the current (what has to be put back) to the
// missing charge over the current plus a full absorption of 8 h, in which the current falls.
// Shallow cycles lie near the short end.
//
// LiFePO4: the current falls only in the last 5 %, half an hour at most. Li-ion: the taper at 4.2 V adds up to
// 2 h. NiMH at 0.1 C or less runs on a clock: 1.6 times the missing charge (16 h from empty).
// NiMH at 0.5 to 1 C stops by itself and takes 1.05 to 1.2 times.
//
// Lithium in the cold takes little: at most 0.1 C below 5 °C and 0.2 C below 15 °C, nothing below 0 °C; more plates metal
// inside, which nobody sees and which may burn later.
//
// # Where it holds
//
// A sound battery near room temperature and a charger that reaches its current. Take off what the device
// draws meanwhile.
//
// # Where it misleads
//
// A battery that is full after minutes is not charged but worn: its capacity has gone. The mark is not
// the capacity of an old battery.
//
// An old transformer charger gives its marked amperes only at first; the current falls as the volts rise.
//
// Rapid NiMH charging between 0.1 and 0.5 C is the worst: too fast for the clock, too slow for the dip in volts that ends it.
//
// # Sources disagree
//
// Highest current for flooded lead-acid: an eighth of the capacity (battery questions page). Sealed: 0.3 of the capacity
// (distributor), 0.4 (one maker's data sheet: 5.6 A at 14 Ah); gel a twentieth (the questions page). The maker's label decides; the verdict takes the lower.
//
// The moment of absorption: one charger maker says that the battery is 80 % full then and yet computes with the whole capacity
// (220 Ah at 30 A: 7.3 h, then 8 h); 80 % of it would be 5.9 h. The long end here follows the maker.
//
// # Sources
//
// - Put back 110 %, at most 0.3 C for AGM: [sla-instructions].
// - T = Ah/I, absorption up to 8 h; lithium 95 % at its start and half an hour more: [blue-power-manual 3.5].
// - Li-ion, C/2 to 1C in 2.5 to 3 h: [practice]; 0 to 45 °C, end below 20 mA at 2 to 3.4 Ah: [battsys].
// - 0.1 C from 0 to 5 °C, 0.2 C from 5 to 15 °C, usual 0.5 C: [li-ion-18650-sheet]; LiFePO4 0.1 C to 5 °C: [apl-48-50-lfp], 0.2 C to 15 °C and 0.5 C above: [ifr10440-sheet].
// - Discharged down to 2.75 V, −20 to 60 °C: [battsys]; LiFePO4 2.0 V: [lifepo4-pack-sheet]; lead-acid 1.75 V: [sw12140e]; NiMH 1.0 V: [iec-61951-2]; temperatures of lead-acid and NiMH: [memory].
// - LiFePO4, 3.65 V, ends at 0.02 C: [lifepo4-pack-sheet].
// - NiMH, 16 h at 0.1 C: [iec-61951-2]. 0.5 to 1 C, −5 mV a cell, 0.8 to 0.9 K/min, cut-out 45 to 55 °C, 10 to 45 °C: [nimh-sheet]. 1.05 to 1.2 times: [memory].
// - Flooded C/8: [practice]; 5.6 A at 14 Ah: [sw12140e].
// - Below what and above what a cell is not charged: Li-ion 2.5 and 4.25 V, LiFePO4 2.0 V: [pcm-sheet]; LiFePO4 3.70 V: [lifepo4-pack-sheet]; lead-acid empty at 1.75 V: [sw12140e]; dead at 1.0 V, too high above 2.45 to 2.65 V, NiMH 0.9 and 1.6 V: [practice].
package charge
