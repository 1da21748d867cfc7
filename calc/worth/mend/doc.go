// Package mend compares the cost of a mend with that of a new device, per year of use.
//
// # Method
//
// A mend that succeeds with chance p costs, on average,
// parts + rate·(minutes + (1 − p)·undo): a failed one loses its parts and its time as
// well, and the minutes to put things back.
//
// It gains p·left years on average. A new device costs price/life for each year. So the
// mend may cost at most p·left·price/life, and the two are equal where it costs just that.
//
// Where nobody says how long the mended one should last, the rest of the expected life is taken, but
// at least a quarter of it, since what has lasted its life mostly goes on a while (our choice).
// Within 10 % of each other the two are called about equal (our choice).
//
// # Where it holds
//
// A shop or an owner who would buy a like device new, whose time is counted at a rate, for
// one mend of one fault. With a rate of 0 it is the comparison for someone who mends for the joy of it.
//
// # Where it misleads
//
// Only money is compared. What a new device takes to be made and what the old one becomes as
// waste, or what it means to its owner, are not in it.
//
// Chance is the number that decides and that is guessed worst; take it from the shop's own job
// sheets. Time spent on finding the fault is gone either way: enter only what is still to be spent.
//
// Safety is not for sale: a device that cannot be made as safe as it was made is not mended, whatever
// the figures say.
//
// # Sources
//
// - Cost per year of use of two choices with different lives, without interest: [memory the textbook method of engineering economics].
// - Chance of success, life and rate: the shop's own; the defaults are made up: [own].
package mend
