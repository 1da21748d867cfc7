// Package combine adds resistors, capacitors or inductors in series and parallel, and finds the best pair of
// preferred values for a wanted one.
//
// # Method
//
// Resistors and inductors add in series, and by their reciprocals in parallel. Capacitors are the other way round:
// they add in parallel, and by their reciprocals in series. A reciprocal sum is always below the smallest part.
//
// The part that is loaded most carries a share of value/sum where values add, and of its
// reciprocal in the sum of reciprocals else: volts and watts of resistors in series, current and watts of resistors in parallel, volts of
// capacitors in series.
//
// The best pair: every value of the series within four decades is tried with its best partner, in series and in parallel. The
// smallest relative error wins. Tie rule: one part before two, adding before reciprocal, then the pair whose values are closest
// together, as it shares the load best.
//
// # Where it holds
//
// Parts out of circuit. Inductors that do not couple: not on one core.
//
// # Where it misleads
//
// A pair is as exact as its parts. Two parts of 5 % make 5 % at worst, so a pair that is right to 0.1 % on paper is worth
// it with 1 % parts or measured ones.
//
// Watts do not add by themselves: two resistors of 1 W make a 2 W one only if they are equal.
//
// Volts of capacitors in series do not part evenly: by capacitance at AC, by leakage at DC. Two
// electrolytics in series need a resistor across each. In parallel the lowest rating counts.
//
// Two capacitors of a motor in series by mistake act as one smaller: 5 µF and 85 µF are 4.72 µF.
//
// X and Y capacitors, fuses and fusible resistors are never made up from two.
//
// # Sources
//
// - Series and parallel: [own 1/R = 1/R₁ + 1/R₂]; 8 Ω with 24 Ω for 6 Ω: [doe-basic-dc figure 28].
// - Preferred values: [iec-60063].
package combine
