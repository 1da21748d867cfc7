package trace

import (
	"slices"
	"strings"

	"faultleaf/calc/inorder"
)

// Expects are the readings that a fault gives on a test as its note says, in one
// text: what it states; else, if the test does not cover its block, the healthy
// reading; else "", for nothing is known.
func (c *Cause) Expects(t *Test) string {
	if stated := c.Reads[t.ID]; len(stated) > 0 {
		ids := make([]string, len(stated))
		for i, r := range stated {
			ids[i] = string(r.Reading)
		}
		inorder.Up(ids)
		return strings.Join(ids, " ")
	}
	if slices.Contains(t.Covers, c.Block) {
		return ""
	}
	for _, b := range t.Reads {
		if b.Healthy {
			return string(b.ID)
		}
	}
	return ""
}
