// Package preferred finds the preferred values next to an amount, in the series E3 to
// E192 of IEC 60063.
//
// # Method
//
// A series En has n values in each decade, about 10^(1/n) apart: E3, E6, E12 and E24 to two digits, E48, E96 and E192
// to three. Each is every second value of the next finer one, but E24 and E48 are two families: 120 is in E12 and
// not in E96.
//
// The nearest value is the one with the smallest error in parts of the wanted amount, |value − wanted| / wanted.
// Tie rule: where two lie equally far, the lower is taken.
//
// # Where it holds
//
// Resistors, capacitors and, by habit, inductors and Zener diodes. The tolerance that goes with a series is
// about half its step: E6 20 %, E12 10 %, E24 5 %, E48 2 %, E96 1 %, E192 0.5 %. Parts of 1 % are sold in E24 too.
//
// # Where it misleads
//
// A value in a finer series is not always on the shelf: electrolytic capacitors come in E3 and E6, film in E6 or E12.
//
// Nearest is not safest. Where the part limits a current, take the value above; where it sets a voltage in
// a feedback, compute the circuit again with the real value. A part that was odd (2.7 Ω beside 3.0 Ω) may have been
// chosen: fit the marked value.
//
// Nearest by ratio would part two neighbours at their geometric mean and not half way. The two rules differ only
// in a sliver: between 1.0 and 1.5 by 1.225 against 1.25.
//
// The two digits of E24 and coarser do not follow from the formula. Rounding 10^(i/24) gives other numbers at eight places:
// 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7 and 8.2.
//
// # Sources disagree
//
// E192: rounding 10^(185/192) gives 9.19, and a table made by the formula prints that; the tables made from the
// standard have 9.20, which is used here.
//
// # Sources
//
// - Values of E6 to E192, and series by tolerance: [iec-60063].
// - 9.20 in every table of E192 against 9.19 by the formula: [iec-60063 E192 (memory)].
package preferred
