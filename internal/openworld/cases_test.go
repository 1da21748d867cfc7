package openworld

import (
	"os"
	"slices"
	"testing"

	"faultleaf/calc/trace"
)

// case of a bench: what is known, and what a careful repairer would say.
type bench struct {
	device string
	e      trace.Evidence
	check  func(c *testcase)
}

// testcase is the advice on a bench, and the way from it if everything else reads
// as it should.
type testcase struct {
	*testing.T
	d    *trace.Device
	e    trace.Evidence
	a    trace.Advice
	way  []trace.Advice
	last trace.Advice
}

func (c *testcase) chance(id trace.CauseID) float64 {
	for _, x := range c.a.Chances {
		if x.ID == id {
			return x.Chance
		}
	}
	c.Errorf("there is no fault %s", id)
	return 0
}

func (c *testcase) unknown(id trace.BlockID) float64 {
	for _, x := range c.a.Unknown {
		if x.Block == id {
			return x.Chance
		}
	}
	c.Errorf("there is no block %s", id)
	return 0
}

// unpowered holds that nothing is powered, from here to the end.
func (c *testcase) unpowered() {
	if len(c.a.Forbids) == 0 {
		c.Errorf("nothing forbids power: %+v", c.a.Remarks)
	}
	for _, a := range c.way {
		if x := c.d.Test(a.Test); a.Kind == trace.DoTest && x.Power != trace.Off {
			c.Errorf("powered for %s", x.ID)
		}
	}
}

func (c *testcase) never(ids ...trace.CauseID) {
	for _, id := range ids {
		if c.d.Cause(id) == nil {
			c.Errorf("there is no fault %s", id)
		}
	}
	for _, a := range c.way {
		if slices.Contains(ids, a.Cause) && a.Kind != trace.DoTest {
			c.Errorf("%s %s", a.Kind, a.Cause)
		}
	}
}

func read(pairs ...string) (list []trace.Reading) {
	for i := 0; i < len(pairs); i += 2 {
		list = append(list, trace.Reading{Test: trace.TestID(pairs[i]), Value: pairs[i+1]})
	}
	return list
}

var benches = map[string]bench{
	"an overcharged pack: no new pack for the charger that overcharges": {"cordless-tool-pack",
		trace.Evidence{Symptoms: []trace.SymptomID{"full-too-soon"}, Readings: read("pack-volts", "21.9V", "look-pack", "whole-and-unopened")},
		func(c *testcase) { c.unpowered(); c.never("pack-cells-worn", "pack-cell-dead", "pack-stood-empty") }},
	"the series lamp stays bright: it is not powered again to knock on it": {"switch-mode-supply",
		trace.Evidence{Symptoms: []trace.SymptomID{"no-output"}, Readings: read("insulation", "good", "out-at-rest", "lamp-stays-bright")},
		func(c *testcase) { c.unpowered() }},
	"DC at a pair of terminals: not the dirty knobs": {"audio-amplifier",
		trace.Evidence{Symptoms: []trace.SymptomID{"one-side"}, Readings: read("insulation", "good", "power-up", "dc-at-a-pair")},
		func(c *testcase) { c.unpowered(); c.never("amp-controls-dirty") }},
	"too few ohms at the mains pins: no load test": {"plug-in-supply",
		trace.Evidence{Symptoms: []trace.SymptomID{"hot-case"}, Readings: read("pins-ohms", "low", "insulation", "good")},
		func(c *testcase) { c.unpowered() }},
	"the series lamp in full light: not a broken cord": {"lamp",
		trace.Evidence{Symptoms: []trace.SymptomID{"flickers"}, Readings: read("insulation", "good", "dim-on-series-lamp", "series-lamp-in-full-light")},
		func(c *testcase) { c.unpowered(); c.never("lamp-cord-broken") }},
	"half the heat: the coil is no certainty, as a burnt heat contact reads the same": {"fan-heater",
		trace.Evidence{Symptoms: []trace.SymptomID{"half-warm"}, Readings: read("pins-ohms", "48Ω")},
		func(c *testcase) {
			if x := c.chance("element-coil-broken"); x > .9 || c.a.Kind != trace.DoTest {
				c.Errorf("coil %v, %s", x, c.a.Kind)
			}
		}},
	"a flat battery: a dead charger leaves one too": {"lead-acid-charger",
		trace.Evidence{Symptoms: []trace.SymptomID{"no-charge"}, Readings: read("battery-rest", "deep")},
		func(c *testcase) {
			if x := c.chance("lead-acid-battery-dead"); x > .75 || c.a.Kind != trace.DoTest {
				c.Errorf("battery %v, %s", x, c.a.Kind)
			}
		}},
	"35 Ω across the drill's trigger: it is the trigger": {"corded-drill",
		trace.Evidence{Symptoms: []trace.SymptomID{"dead-quiet"}, Readings: read("switch-ohms", "35Ω")},
		func(c *testcase) {
			if x := c.chance("drill-trigger-burnt") + c.unknown("switch"); x < .5 {
				c.Errorf("the switch has %v", x)
			}
		}},
	"a reading that no note names counts for the part it was taken on": {"fan-heater",
		trace.Evidence{Symptoms: []trace.SymptomID{"air-cold"}, Readings: read("element-ohms", "2 kΩ")},
		func(c *testcase) {
			most := c.unknown("element")
			for _, u := range c.a.Unknown {
				if u.Block != "element" && u.Chance > most/3 {
					c.Errorf("the element has %v, %s %v", most, u.Block, u.Chance)
				}
			}
		}},
	"a proof skipped: nothing on the mains, and the end says so": {"switch-mode-supply",
		trace.Evidence{Symptoms: []trace.SymptomID{"no-output"}, Skipped: []trace.Skip{{Test: "insulation", Why: trace.NoInstrument}}},
		func(c *testcase) {
			for _, a := range c.way {
				if x := c.d.Test(a.Test); a.Kind == trace.DoTest && x.Power != trace.Off && x.Power != trace.LowVoltage {
					c.Errorf("on the mains for %s", x.ID)
				}
			}
			if !slices.ContainsFunc(c.last.Remarks, func(r trace.Remark) bool { return r.About == trace.Unproved && r.Proof == trace.Insulation }) {
				c.Errorf("the end does not say who can prove it: %+v", c.last.Remarks)
			}
		}},
	"is it the cord? The symptoms stay, no chance moves, and a test on the cord is asked for": {"fan-heater",
		trace.Evidence{Symptoms: []trace.SymptomID{"dead-quiet"}, Suspect: "heater-cord-broken"},
		func(c *testcase) {
			plain, err := trace.Next(c.d, trace.Evidence{Symptoms: c.e.Symptoms})
			if err != nil || !slices.Equal(plain.Chances, c.a.Chances) {
				c.Errorf("asking moved the chances: %v", err)
			}
			if x := c.d.Test(c.a.Test); x == nil || !slices.Contains(x.Covers, "cord") || !about(c.a, trace.AskedAbout) {
				c.Errorf("asked: %s %s %v", c.a.Kind, c.a.ID(), c.a.Reasons)
			}
		}},
}

func TestBenches(t *testing.T) {
	all := devices(t)
	for name, x := range benches {
		t.Run(name, func(t *testing.T) {
			i := slices.IndexFunc(all, func(d *trace.Device) bool { return d.ID == x.device })
			if i < 0 && os.Getenv("FAULTLEAF_ONLY") != "" {
				t.Skip("FAULTLEAF_ONLY leaves this device out")
			}
			if i < 0 {
				t.Fatalf("the shop has no %s any more", x.device)
			}
			c := &testcase{T: t, d: all[i], e: x.e}
			e := x.e
			for range mostSteps {
				a, err := trace.Next(c.d, e)
				if err != nil {
					t.Fatal(err)
				}
				c.way, c.last = append(c.way, a), a
				if a.Kind == trace.DoTest {
					e.Readings = append(slices.Clone(e.Readings), trace.Reading{Test: a.Test, Value: good(c.d.Test(a.Test))})
				} else if a.Kind == trace.DoMend {
					e.Tried = append(slices.Clone(e.Tried), trace.Mended{Cause: a.Cause, Before: len(e.Readings)})
				} else {
					break
				}
			}
			c.a = c.way[0]
			if c.last.Kind == trace.DoTest || c.last.Kind == trace.DoMend {
				t.Error("it does not end")
			}
			for _, r := range c.a.Remarks {
				if r.Unusable() {
					t.Errorf("the notes know nothing of it any more: %+v", r)
				}
			}
			x.check(c)
		})
	}
}

// most is the likeliest fault of a block that no note describes.
func most(a trace.Advice) trace.Unknown {
	for _, u := range a.Unknown {
		if u.Block != "" {
			return u
		}
	}
	return trace.Unknown{}
}

// Abnormal readings that no fault of their device names, fed in singly: what no
// note describes gains, and most of it in the parts that the test looks at.
func TestUnclaimedReadings(t *testing.T) {
	count, gained := 0, 0
	for _, d := range devices(t) {
		start, err := trace.Step(d, trace.Evidence{})
		if err != nil {
			t.Fatal(err)
		}
		for i := range d.Tests {
			x := &d.Tests[i]
			for _, r := range x.Reads {
				if r.Healthy || x.Proves != "" || slices.ContainsFunc(d.Causes, func(c trace.Cause) bool { return c.States(x.ID, r.ID) }) {
					continue
				}
				a, err := trace.Step(d, trace.Evidence{Readings: read(string(x.ID), string(r.ID))})
				if err != nil {
					t.Fatal(err)
				}
				looked := func(a trace.Advice) (sum float64) {
					for _, u := range a.Unknown {
						if slices.Contains(x.Covers, u.Block) {
							sum += u.Chance
						}
					}
					return sum
				}
				count++
				if looked(a) > .5 {
					gained++
				}
				if gain := looked(a) / looked(start); a.Rest < .36 || gain < 2.5 && looked(a) < .5 || !slices.Contains(x.Covers, most(a).Block) {
					t.Errorf("%s %s=%s: no note %.2f, in the parts looked at %.2f after %.2f", d.ID, x.ID, r.ID, a.Rest, looked(a), looked(start))
				}
			}
		}
	}
	t.Logf("%d readings that no note names; after %d of them the parts looked at hold more than half", count, gained)
	if count < 20 {
		t.Error("too few to show anything")
	}
}
