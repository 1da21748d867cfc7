package say

import (
	"strings"

	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
)

// ChainTitle names the drawing of a chain, behind the device's name.
const ChainTitle = "from the plug to the work done"

// Reaches says how much of the suspicion a test tells about.
func Reaches(blocks int, share float64) string {
	if blocks == 1 {
		return "tells about this one: " + quantity.Chance(share)
	}
	return "tells about these: " + quantity.Chance(share)
}

// Chain says a drawing of a chain in words: its blocks in order, the suspicion,
// and what the test at hand tells about.
func Chain(order, suspicion, covers []string) string {
	s := "In the order of the wire: " + strings.Join(order, ", ") + "."
	if len(suspicion) > 0 {
		s += " Suspicion now: " + strings.Join(suspicion, ", ") + "."
	}
	if len(covers) > 0 {
		s += " The test tells about " + strings.Join(covers, ", ") + "."
	}
	return s
}

// Mend says of a fault where it sits and how long its mend takes, with opening
// and closing.
func Mend(d *trace.Device, c *trace.Cause) string {
	if c.Mend.None != "" {
		return block(c.Block) + " · past mending"
	}
	return block(c.Block) + " · mend " + quantity.Minutes(d.MendMinutes(c))
}

// More says together what a list leaves to be unfolded.
func More(n int, share float64) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "One more, " + quantity.Chance(share)
	}
	return quantity.Number(float64(n)) + " more, together " + quantity.Chance(share)
}

// Room says what is opened for a test, and how long that takes with closing.
func Room(opening []*trace.Access) string {
	minutes, undo := 0.0, 0.0
	var does []string
	for _, a := range opening {
		minutes, undo = minutes+a.Minutes, undo+a.Undo
		does = append(does, trace.InSentence(a.Does))
	}
	s := strings.Join(does, ", then ") + ", " + quantity.Minutes(minutes)
	if undo > 0 {
		s += ", and " + quantity.Minutes(undo) + " to close"
	}
	return s
}

// OverLimit is said under the rule where the job costs more than the owner allows.
const OverLimit = "ask owner"

// ArmEnds is what is reached at the end of the rule of minutes.
func ArmEnds(a trace.Advice) string {
	switch a.Kind {
	case trace.DoStop, trace.Past, trace.Replace:
		return "stop"
	}
	return "mended"
}

// ArmSays says the rule of minutes in words.
func ArmSays(clock, rest float64) string {
	return "Minute " + quantity.Number(quantity.Round(clock, 2)) + "; about " + quantity.Minutes(rest) + " from here to the end, if readings are true"
}
