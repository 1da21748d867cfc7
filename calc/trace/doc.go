// Package trace finds the fault of a device in the fewest minutes.
//
// It looks at a Device on the bench (Next, Tree, ParseReading, and Sheet for the
// record at the end); the arithmetic of orders is solve's, the words are say's:
//
//	symptoms, readings, mends in vain        shop: power minutes, live tests?
//	       |                                        |
//	       v                                        v
//	   bench ----> beliefs ---- chances ----> planned ----> solve.Plan ----> Advice
//	  (read once,  (trust, "shown",           (likeliest readings,           (step and
//	   remarks)     meter error, a fault       what is left to do,            reasons,
//	                per block that no          rules that no minutes          in no
//	                note describes)            are weighed against)           words)
//
// Beliefs (belief.go, unknown.go) are careful: a reading is trusted by .95, a
// fault that shows only when warm is not excluded by a cold healthy reading, a
// test that covers a fault's block without a stated reading moves nothing, and
// each block keeps a chance for a fault that nobody wrote down. Planning (plan.go)
// is plain: it takes each suspect's likeliest reading and is done again after
// every reading. So a bound on the minutes from here holds "if readings are true".
//
// Rules (rules.go) come first: nothing on the mains before its proofs, nothing
// powered after a reading that forbids it, no part before a reading on it, no mend
// twice. In the plan a test that has to come before something else is a group of
// work, paid once by the first action that needs it; so the order of steps stays
// the cheapest one that keeps the rules.
//
// Everything is computed from its arguments alone: no clock, no randomness, no
// order of a map; the work is bounded by counting, so that every machine gives
// the same answer.
package trace
