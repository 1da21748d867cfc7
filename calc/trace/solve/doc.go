// Package solve finds the order of tests and repairs that costs least on average. It knows
// no device: a Model is causes with their chances, tests with the result that each cause
// gives, repairs, and access work that is paid once for all that needs it.
//
// Solve gives a Plan: the best first action, what the whole will cost from there, and a
// policy that can be walked. Up to a budget of states it is exact; beyond it, a greedy
// policy with an exact tail, and the plan says how far off it may be.
//
//	model.go   the model, and the form in which it is searched
//	search.go  depth first over sets of causes and open accesses, with a table (table.go)
//	bound.go   lower bounds, never too high
//	roll.go    what is done where the budget runs out
package solve
