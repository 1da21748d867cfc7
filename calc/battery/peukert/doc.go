// Package peukert tells how long a battery runs a load: by Peukert's rule with the time its
// capacity was rated at, for a constant current or a constant power.
//
// # Method
//
// A capacity C rated over H hours stands for the current C/H. At another current I the battery lasts
// t = H·(C/(I·H))^k. At the rated current that is H for any k, as it must be.
//
// The exponent k comes from two ratings of the maker, k = ln(t₁/t₂)/ln(I₂/I₁), or is taken as entered: 1.05 to 1.15 for AGM, 1.1 to 1.25
// for gel, 1.2 to 1.6 for flooded, near 1.05 for lithium.
//
// A load in watts draws I = P/(η·V): with the mean volts under load, and the efficiency of an inverter or converter between.
//
// # Where it holds
//
// A new battery at 25 °C, discharged in one go, between the times of the two ratings. Against one maker's table
// of a 14 Ah block (k from its 20 h and 1 h ratings) the rule is 3 % short at 10 h and 9 % short at 5 h.
//
// # Where it misleads
//
// Age and cold are not in it: at 0 °C about 85 %, at −15 °C about 65 % of the capacity are left. An old battery has what
// it has: measure it.
//
// Charge that a high current leaves in a lead-acid battery is not lost: after a rest some of it comes out.
//
// Below the rated current the rule promises more than the mark. Count on the mark.
//
// Emptying a lead-acid battery costs its life. Use the share that may be used: half is usual.
//
// # Sources disagree
//
// A blog prints t = C/I^k and gets 14.5 h for 100 Ah at 5 A with k = 1.2. Where the 100 Ah are the 20 h capacity, as nearly always, 5 A is
// the rated current and the answer is 20 h. The short form is right only for a capacity rated at one ampere; it stands beside the result as a warning.
//
// The exponent of flooded types: 1.2 to 1.6 (battery seller), 1.2 to 2 (the blog), 1.25 "typical" (maker of a battery monitor).
//
// # Sources
//
// - t = H·(C/(I·H))^k and k from two discharges: [own].
// - 14 Ah block, currents, watts and temperatures: [sw12140e].
// - Exponents of 1.2 to 1.6 for flooded, near 1.05 for lithium, half of lead-acid: [practice].
package peukert
