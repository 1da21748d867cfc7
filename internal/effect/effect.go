// Package effect says what a changed note does to the advice of the trace, before
// anybody follows it: the first step and the chances for each symptom, and faults
// that no test parts any more.
package effect

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/calc/trace/say"
)

// Effect is what differs on one device.
type Effect struct {
	Device   string   `json:"device"`
	New      bool     `json:"new,omitempty"`  // it was not there before
	Gone     bool     `json:"gone,omitempty"` // it is not there any more
	Symptoms []Change `json:"symptoms,omitempty"`
	// Confused are pairs of faults that no test parts now, and that were parted, or
	// not both there, before;
	// Parted the other way round.
	Confused [][2]string `json:"confused,omitempty"`
	Parted   [][2]string `json:"parted,omitempty"`
}

// Change is what differs for one symptom.
type Change struct {
	Symptom string   `json:"symptom,omitempty"` // "" where nothing is known yet
	Says    string   `json:"says"`
	Before  string   `json:"before"` // the first step
	After   string   `json:"after"`
	Chances []Chance `json:"chances,omitempty"` // those that moved
}

// Chance is how likely a fault was and is, from 0 to 1.
type Chance struct {
	Fault  string  `json:"fault"`
	Title  string  `json:"title"`
	Before float64 `json:"before"`
	After  float64 `json:"after"`
}

// Nothing tells whether a device gives the same advice as before.
func (e Effect) Nothing() bool {
	return !e.New && !e.Gone && len(e.Symptoms) == 0 && len(e.Confused) == 0 && len(e.Parted) == 0
}

// moves is how far a chance has moved if it is told: half a percent.
const moves = .005

// Compare says what differs between a device as it was and as it is; either may
// be nil.
func Compare(before, after *trace.Device) (Effect, error) {
	e := Effect{New: before == nil, Gone: after == nil}
	if after == nil {
		e.Device = before.ID
		return e, nil
	}
	e.Device = after.ID
	symptoms := append([]trace.Symptom{{}}, after.Symptoms...)
	for _, s := range symptoms {
		c, err := change(before, after, s)
		if err != nil {
			return e, err
		}
		if c != nil {
			e.Symptoms = append(e.Symptoms, *c)
		}
	}
	if before != nil {
		was, is := Alike(before), Alike(after)
		e.Confused, e.Parted = without(is, was, after), without(was, is, after)
	}
	return e, nil
}

// without are the pairs of a that are not in b, of faults that a device has.
func without(a, b map[[2]trace.CauseID]bool, d *trace.Device) (out [][2]string) {
	for p := range a {
		if !b[p] && d.Cause(p[0]) != nil && d.Cause(p[1]) != nil {
			out = append(out, [2]string{string(p[0]), string(p[1])})
		}
	}
	slices.SortFunc(out, func(x, y [2]string) int { return strings.Compare(x[0]+" "+x[1], y[0]+" "+y[1]) })
	return out
}

func change(before, after *trace.Device, s trace.Symptom) (*Change, error) {
	c := Change{Symptom: string(s.ID), Says: s.Says}
	if s.ID == "" {
		c.Says = "Nothing is known yet"
	}
	now, chances, err := first(after, s.ID)
	if err != nil {
		return nil, err
	}
	c.After = now
	old := map[trace.CauseID]float64{}
	if before != nil && (s.ID == "" || slices.ContainsFunc(before.Symptoms, func(x trace.Symptom) bool { return x.ID == s.ID })) {
		if c.Before, old, err = first(before, s.ID); err != nil {
			return nil, err
		}
	}
	ids := map[trace.CauseID]bool{}
	for id := range chances {
		ids[id] = true
	}
	for id := range old {
		ids[id] = true
	}
	for _, id := range slices.Sorted(maps.Keys(ids)) {
		if math.Abs(chances[id]-old[id]) < moves {
			continue
		}
		title := string(id)
		if f := after.Cause(id); f != nil {
			title = f.Title
		} else if before != nil && before.Cause(id) != nil {
			title = before.Cause(id).Title
		}
		c.Chances = append(c.Chances, Chance{string(id), title, old[id], chances[id]})
	}
	slices.SortStableFunc(c.Chances, func(x, y Chance) int {
		return int(math.Copysign(1, max(y.Before, y.After)-max(x.Before, x.After)))
	})
	if c.Before == c.After && len(c.Chances) == 0 {
		return nil, nil
	}
	return &c, nil
}

// first is the first step for a symptom in words, and the chances of the faults.
func first(d *trace.Device, s trace.SymptomID) (string, map[trace.CauseID]float64, error) {
	var e trace.Evidence
	if s != "" {
		e.Symptoms = []trace.SymptomID{s}
	}
	a, err := trace.Step(d, e)
	if err != nil {
		return "", nil, err
	}
	chances := map[trace.CauseID]float64{}
	for _, c := range a.Chances {
		if d.Cause(c.ID) != nil {
			chances[c.ID] = c.Chance
		}
	}
	return say.Step(d, a.Action, a.Again), chances, nil
}

// Alike are the pairs of faults that no test of a device parts, as far as the
// notes say what each reads.
func Alike(d *trace.Device) map[[2]trace.CauseID]bool {
	out := map[[2]trace.CauseID]bool{}
	for i := range d.Causes {
		for j := i + 1; j < len(d.Causes); j++ {
			a, b := &d.Causes[i], &d.Causes[j]
			if !parted(d, a, b) {
				out[[2]trace.CauseID{min(a.ID, b.ID), max(a.ID, b.ID)}] = true
			}
		}
	}
	return out
}

func parted(d *trace.Device, a, b *trace.Cause) bool {
	for i := range d.Tests {
		x, y := a.Expects(&d.Tests[i]), b.Expects(&d.Tests[i])
		if x != "" && y != "" && x != y {
			return true
		}
	}
	return false
}

// mostTold is how many chances are told for a symptom; the likeliest come first.
const mostTold = 6

// Words tells an effect in lines.
func (e Effect) Words() []string {
	var out []string
	add := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	switch {
	case e.Gone:
		return []string{e.Device + ": there is no trace of it any more"}
	case e.Nothing():
		return []string{e.Device + ": the advice stays as it is"}
	case e.New:
		add("%s: a new device", e.Device)
	default:
		add("%s:", e.Device)
	}
	for _, c := range e.Symptoms {
		add("  %s", c.Says)
		switch {
		case c.Before == "":
			add("    first: %s", c.After)
		case c.Before == c.After:
			add("    first, as before: %s", c.After)
		default:
			add("    first before: %s", c.Before)
			add("    first now:    %s", c.After)
		}
		for i, x := range c.Chances {
			if i == mostTold {
				add("    and %d others, less", len(c.Chances)-i)
				break
			}
			add("    %5s to %-5s %s (%s)", quantity.Chance(x.Before), quantity.Chance(x.After), x.Title, x.Fault)
		}
	}
	for _, p := range e.Confused {
		add("  no test parts %s from %s", p[0], p[1])
	}
	for _, p := range e.Parted {
		add("  a test parts %s from %s now", p[0], p[1])
	}
	return out
}
