// Package trace finds the fault of a device in the fewest minutes.
//
// It has two layers. The bare one solves a Model exactly as written: causes with
// chances, tests with costs, repairs, access work that is paid once (Solve, and
// Plan.Start to walk the order found). The other one looks at a Device on the
// bench (Next, Tree, ParseReading, and Sheet for the record at the end):
//
//	symptoms, readings, mends in vain        shop: power minutes, live tests?
//	       |                                        |
//	       v                                        v
//	  beliefs ------ chance of each cause -----> Model ----> Solve ----> Advice
//	  (trust, "shown", meter error,             (likeliest readings,     next step, why,
//	   a rest "not in these notes")              what is left to do)     and till when
//
// Beliefs (belief.go) are careful: a reading is trusted by .95, a fault that
// shows only when warm is not excluded by a cold healthy reading, a test that
// covers a fault's block without a stated reading moves nothing, and some chance
// is kept for a fault that no note describes. Planning (next.go) is plain: it
// takes each cause's likeliest reading, leaves the rest out, and is done again
// after every reading. So a bound on the minutes from here holds "if readings
// are true".
//
// Solving (search.go) is a search with a table of states, asked again with a
// slowly rising limit:
//
//	{a b c d e}, closed                     limit 20: proved that no order is cheaper
//	   |  fuse, 1 min                       limit 21: proved again, deeper
//	   +-- open   -> {a b}, closed          limit 22: an order for 21.4. Done.
//	   |                |  grille off, element, 8 min
//	   |                +-- open -> {a}     mend a
//	   |                +-- good -> {b}     mend b
//	   +-- whole  -> {c d e}, closed ...
//
// Bounds (bound.go) keep it from looking where no good order leads. Where it is
// still too much, a simple policy is improved by looking one step ahead, with
// small sets solved exactly (roll.go); what the search proved until then says
// how far from the optimum that can be.
//
// Everything is computed from its arguments alone: no clock, no randomness, no
// order of a map; the work is bounded by counting, so that every machine gives
// the same answer.
package trace
