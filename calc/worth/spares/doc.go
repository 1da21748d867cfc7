// Package spares computes how many of a part to keep, so that the shelf is seldom empty
// when the part is wanted.
//
// # Method
//
// Faults come one by one and independently, so the number of parts wanted while a delivery is on
// its way follows the Poisson law with the mean λ = uses per year · delivery time. The part is ordered
// again whenever one is taken. The number to keep is the least s for which more than s − 1 are wanted
// during a delivery no more often than the chance allowed.
//
// # Where it holds
//
// Parts taken one at a time, each order one delivery time. The rate is from the shop's own job sheets: ten uses tell
// the rate to about a third.
//
// # Where it misleads
//
// A batch of the same device with the same fault is not independent: keep more after the third in a month.
//
// Zero uses in two years does not mean a rate of zero: with none seen in T years the rate may well be up to 3/T (95 %).
//
// Electrolytic capacitors, batteries and rubber age on the shelf. Do not keep more than two years' use of them.
//
// A part that is not made any more has no delivery time: decide on a last purchase instead.
//
// # Sources disagree
//
// A shelf filled once a week asks that the week's demand be no more than the stock: with 3 a week and nine times in ten
// that is 5 (a university exercise). Ordered again at each use, as here, the shelf must still hold one when the next is wanted: 6.
// Where deliveries come at fixed days, one less than is said here will do.
//
// # Sources
//
// - Poisson demand during the lead time with one-for-one reordering: [own the Poisson law].
// - Mean 4, F(3) = 0.433 and F(4) = 0.629: [stevenson example 15]. 3 a week, 90 %, stock 5: [southampton-6744].
// - The rule of three, 3/T at 95 %: [memory Hanley and Lippman-Hand 1983]; it is −ln 0.05 = 2.996.
package spares
