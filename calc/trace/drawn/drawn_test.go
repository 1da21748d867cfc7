package drawn

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"faultleaf/calc/draw/circuit"
	"faultleaf/calc/trace"
)

func device() *trace.Device {
	zero, ten := 0.0, 10.0
	return &trace.Device{ID: "heater", Title: "Heater", Class: "II",
		Blocks:   []trace.Block{{ID: "plug"}, {ID: "cord"}, {Branch: [][]trace.Block{{{ID: "element"}}, {{ID: "motor"}, {ID: "blades"}}}}},
		Symptoms: []trace.Symptom{{ID: "dead", Says: "Dead"}},
		Tests: []trace.Test{{ID: "cord-ohms", Ask: "Cord", Covers: []trace.BlockID{"plug", "cord"}, Minutes: 1, Kind: "resistance", Trust: .95,
			Reads: []trace.Band{{ID: "open", Low: &ten}, {ID: "through", Low: &zero, High: &ten, Healthy: true}}}},
		Causes: []trace.Cause{
			{ID: "cord-broken", Title: "Cord broken", Block: "cord", Seen: 8, Reads: map[trace.TestID][]trace.Read{"cord-ohms": {{Reading: "open"}}}},
			{ID: "element-open", Title: "Element open", Block: "element", Seen: 2}}}
}

// A block that read well and holds little suspicion bears the reading's number
// and word instead of a share; the test at hand reaches over its blocks; what
// stands behind the motor is outside the circuit.
func TestChain(t *testing.T) {
	d := device()
	a := trace.Advice{Action: trace.Action{Kind: trace.DoTest, Test: "cord-ohms"}, Chances: []trace.Chance{{ID: "element-open", Chance: .9}}, Unknown: []trace.Unknown{{Block: "motor", Chance: .095}, {Block: "plug", Chance: .005}}}
	c := Chain(d, trace.Evidence{Readings: []trace.Reading{{Test: "cord-ohms", Value: "0.3 Ω"}}}, a, map[trace.CauseID]string{"element-open": "A"})
	if b := c.Parts[1].Block; b.Cleared != "1 through" || b.Said != "" {
		t.Errorf("the cord: %+v", b)
	}
	if b := c.Parts[2].Ways[0][0]; b.Cleared != "" || b.Share != .9 || !slices.Equal(b.Letters, []string{"A"}) || b.Symbol != "heating" {
		t.Errorf("the element: %+v", b)
	}
	if w := c.Parts[2].Ways[1]; w[0].Beyond || !w[1].Beyond {
		t.Errorf("the motor's way: %+v", w)
	}
	if !c.Back || c.Reach.Step != "2" || !slices.Equal(c.Reach.Blocks, []string{"plug", "cord"}) {
		t.Errorf("%+v", c.Reach)
	}
	if !strings.Contains(c.Says, "Suspicion now: element 90 %, motor 10 %.") && !strings.Contains(c.Says, "Suspicion now: element 90 %, motor 9.5 %.") {
		t.Error(c.Says)
	}
	unasked := Unasked(d, a)
	if h := Here(unasked, "motor"); h.Parts[2].Ways[1][0].State != circuit.Here || h.Reach.Step != "" {
		t.Error("the fault's own block is not marked")
	}
	if !reflect.DeepEqual(unasked, Unasked(d, a)) {
		t.Error("marking a block changed the chain")
	}
	if s := Spots(d, []trace.BlockID{"cord"}); len(s) != 5 || !s[1].On || s[0].On {
		t.Errorf("%+v", s)
	}
}

// What a test does to the chain is drawn where the notes say it: the two probes,
// the chain taken apart with what hangs dead before, and what is opened for it.
func TestProbes(t *testing.T) {
	d := device()
	yes := true
	d.Blocks[2].Branch[1][1].Outside = &yes
	d.Blocks[0].Symbol, d.Blocks[0].Short = "outlet", "wall"
	d.Access = []trace.Access{{ID: "base-off", Does: "Take the base off", Minutes: 4, Undo: 3, Hides: []trace.BlockID{"cord", "element"}}}
	x := &d.Tests[0]
	x.Needs, x.Kind, x.Apart = []trace.AccessID{"base-off"}, "resistance", "cord"
	for _, id := range []string{"cord-out", "neutral"} {
		p, ok := d.Point(id)
		if !ok {
			t.Fatal(id)
		}
		x.Probes = append(x.Probes, p)
	}
	a := trace.Advice{Action: trace.Action{Kind: trace.DoTest, Test: "cord-ohms"}, Open: []trace.AccessID{"base-off"}}
	c := Chain(d, trace.Evidence{}, a, nil)
	if c.Meter.Shows != "? Ω" || c.Meter.Red != (circuit.Point{Block: "cord", Side: circuit.After}) || c.Meter.Black != (circuit.Point{Side: circuit.Neutral}) {
		t.Errorf("%+v", c.Meter)
	}
	if c.Apart != "cord" || c.Parts[0].Block.State != circuit.Lifted || c.Parts[1].Block.State != circuit.Lifted || c.Parts[2].Ways[0][0].State != circuit.Plain {
		t.Errorf("apart at %s: %+v", c.Apart, c.Parts[0].Block)
	}
	if !slices.Equal(c.Room.Blocks, []string{"cord", "element"}) || c.Room.Says != "take the base off, 4 min, and 3 min to close" {
		t.Errorf("%+v", c.Room)
	}
	if b := c.Parts[0].Block; b.Symbol != "outlet" || b.Short != "wall" || c.Poles != [2]string{"L", "N"} {
		t.Errorf("%+v", b)
	}
	a.Open = nil // it is open already
	if c := Chain(d, trace.Evidence{}, a, nil); len(c.Room.Blocks) > 0 {
		t.Errorf("%+v", c.Room)
	}
}

// The rule of minutes follows the planned steps, or a clock where one runs, and says
// where the owner is to be asked.
func TestArm(t *testing.T) {
	d := device()
	d.Shop = trace.Shop{Rate: 30, Currency: "EUR"}
	e := trace.Evidence{Readings: []trace.Reading{{Test: "cord-ohms", Value: "0.3 Ω"}}}
	a := trace.Advice{Action: trace.Action{Kind: trace.DoMend, Cause: "element-open"}, MinutesFromHere: 20}
	if arm := Arm(d, e, a, 0); arm.Clock != 1 || arm.Rest != 20 || arm.Cost != "10.50 EUR" || arm.Over != "" {
		t.Errorf("as planned: %+v", arm)
	}
	e.Terms.Limit = 12
	if arm := Arm(d, e, a, 6.5); arm.Clock != 6.5 || arm.Cost != "13.25 EUR" || arm.Over == "" {
		t.Errorf("by the clock: %+v", arm)
	}
}
