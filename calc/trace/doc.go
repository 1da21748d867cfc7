// Package trace finds the fault of a device in the fewest minutes.
//
// It has two layers. The bare one solves a Model exactly as written: causes with
// chances, tests with costs, repairs, access work that is paid once (Solve). The
// other one looks at a Device on the bench:
//
//	symptoms, readings                     shop: power minutes, live tests?
//	       |                                        |
//	       v                                        v
//	  beliefs ------ chance of each cause -----> Model ----> Solve ----> Advice
//	  (trust, "shown", meter error,             (likeliest readings,     next step,
//	   a rest "not in these notes")              what is left to do)     and why
//
// Beliefs are careful: a reading is trusted by .95, a fault that shows only when
// warm is not excluded by a cold healthy reading, and some chance is kept for a
// fault that no note describes. Planning is plain: it takes each cause's
// likeliest reading, leaves the rest out, and is done again after every reading.
// So a bound on the minutes from here holds "if readings are true".
//
// Everything is computed from its arguments alone: no clock, no randomness, no
// order of a map; the work is bounded by counting, so that every machine gives
// the same answer.
package trace
