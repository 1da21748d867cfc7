// Package reading is the one home of what a meter shows and of the bands that a
// test's readings fall into.
//
// A Reading is an interval: everything that a display proves about the amount.
// "26 Ω" proves 26 Ω within the meter's error. OL proves only that the amount is
// above what that meter (or the range it stood on) can show, the beep of a
// continuity test that it is below what lets that meter beep; "> 20 MΩ" and
// "< 0.1 Ω" say their own limit. So neither settles a band that it does not lie
// wholly in: a healthy element of 26 Ω may beep, and OL on the 200 Ω range is
// no more than above 200 Ω.
//
// A Span is a band as a note writes it, with its operator; Evaluate is the only
// place that makes numbers of spans, for notes, for an edited rating plate and
// for the browser alike.
//
// Limits that nobody stated are the most careful ones that bench meters have
// (common practice, no source): see Meter.
package reading
