// Package battery holds what the rooms of its shelf share.
package battery

import (
	"strconv"

	"faultleaf/calc"
)

// CellCounts are the cells in series that a form offers: as words, because half
// a cell is none.
func CellCounts() []calc.Choice {
	var out []calc.Choice
	for n := 1; n <= 24; n++ {
		s := strconv.Itoa(n)
		out = append(out, calc.Choice{Name: s, Label: s})
	}
	return out
}
