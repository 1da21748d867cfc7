package search

import "strings"

// Line is one thing that a search says of a query, in a sentence or less.
type Line struct {
	Kind string // understood, right, tried, missing or strange
	Text string
}

// Lines says what was understood of a query, the same on a page and on the
// command line.
func (h Heard) Lines() []Line {
	var out []Line
	add := func(kind, text string) { out = append(out, Line{kind, text}) }
	if h.Missing != "" {
		text := "No note is about “" + h.Missing + "”."
		if h.Near != nil {
			text += " " + h.Near.Title + " comes nearest."
		} else {
			text += " What follows may come near."
		}
		add("missing", text)
	}
	var understood []string
	if h.Device != "" {
		understood = append(understood, h.Device)
	}
	understood = append(understood, h.Complaints...)
	if len(understood) > 0 {
		add("understood", strings.Join(understood, " · "))
	}
	var right []string
	for _, c := range h.Right {
		right = append(right, c.From+" → "+c.To)
	}
	if len(right) > 0 {
		add("right", strings.Join(right, ", "))
	}
	for _, t := range h.Tried {
		add("tried", "“"+t+"” counts against it")
	}
	if len(h.Strange) > 0 {
		add("strange", "in no note: “"+strings.Join(h.Strange, "”, “")+"”")
	}
	return out
}
