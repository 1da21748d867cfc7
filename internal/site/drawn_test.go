package site

import (
	"strings"
	"testing"

	"faultleaf/calc/trace"
	"faultleaf/calc/trace/drawn"
)

// On no device does a label of the drawn chain lie on another or on a wire,
// whichever test is next; and what the notes say of probes and rooms is drawn.
func TestDevicesAreDrawn(t *testing.T) {
	set := load(t, starter)
	probes, rooms := 0, 0
	for _, d := range set.Devices {
		dev := set.TraceDevice(d.Name)
		rest, err := trace.Step(dev, trace.Evidence{Symptoms: []trace.SymptomID{dev.Symptoms[0].ID}})
		if err != nil {
			t.Fatal(err)
		}
		letters := map[trace.CauseID]string{}
		for i, c := range rest.Chances[:min(5, len(rest.Chances))] {
			letters[c.ID] = string(rune('A' + i))
		}
		for i := range dev.Tests {
			x := &dev.Tests[i]
			a := rest
			a.Action, a.Open = trace.Action{Kind: trace.DoTest, Test: x.ID}, x.Needs
			c := drawn.Chain(dev, trace.Evidence{}, a, letters)
			for _, wrong := range c.Unsound() {
				t.Errorf("%s, %s: %s", d.Name, x.ID, wrong)
			}
			for _, short := range c.Cut() {
				t.Errorf("%s, %s: %s is cut in the drawing; give its block a short name", d.Name, x.ID, short)
			}
			svg := c.Wide()
			if len(x.Probes) == 2 {
				if probes++; !strings.Contains(svg, "lead-red") || !strings.Contains(svg, "lead-black") {
					t.Errorf("%s, %s: a probe is not drawn: %+v", d.Name, x.ID, c.Meter)
				}
			}
			if strings.Contains(svg, `class="room"`) {
				rooms++
			}
		}
	}
	if probes < 40 || rooms < 20 {
		t.Errorf("%d meters and %d rooms are drawn", probes, rooms)
	}
}
