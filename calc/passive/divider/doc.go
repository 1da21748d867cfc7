// Package divider computes the volts of a divider of two resistors, without load and with one.
//
// # Method
//
// Without load the tap has V·R₂/(R₁+R₂). Seen from the tap the divider is a source of that voltage with R₁ and R₂ in
// parallel as its inner resistance. A load of R draws it down to that voltage times R/(R + inner resistance); a load
// given in amperes takes off its current times the inner resistance.
//
// The current of the supply and the watts in each resistor are those with the load on.
//
// # Where it holds
//
// DC, and AC at which no capacitance counts. A stiff supply; else add its resistance to R₁.
//
// # Where it misleads
//
// A meter is a load: 10 MΩ for most digital ones, 20 kΩ per volt for many pointer ones (common practice, no source). Two
// resistors of 1 MΩ halve 10 V to 5.00 V, and a 10 MΩ meter reads 4.76 V. Enter the meter as the load.
//
// A reading that is too high at a tap is as telling as one too low: R₁ fallen or R₂ open. High-ohm resistors at high volts
// drift up and open, and sense dividers then send the supply up.
//
// The ratio keeps its accuracy only if both drift alike: two of 5 % in a divider by ten are off by some 9 %. Write 10 kΩ ± 5 % to see it.
//
// Small resistors have a voltage limit, 200 to 350 V (from memory): a divider on rectified mains has several in a row, and
// the row is replaced by as many.
//
// A divider is no supply: it gives volts to what draws little. A load that changes moves the tap.
//
// # Sources
//
// - Loaded divider, a load in amperes, a source with its own resistance: [own]; 24 V on three resistors at 1 A: [doe-basic-dc figure 29].
package divider
