package site

import (
	"os"
	"slices"
	"strings"
	"testing"

	"faultleaf/calc/all"
	"faultleaf/calc/trace"
	"faultleaf/internal/bigshop"
	"faultleaf/internal/note"
)

// bench is a case at the bench on a device of the starter, and what a careful
// repairer would not do after it.
type bench struct {
	device   string
	symptoms []trace.SymptomID
	readings map[trace.TestID]string
	// mends are the only faults that may be mended while nothing is read but
	// healthy from here on; nil is any.
	mends []string
	// dead says that nothing may be powered any more.
	dead bool
	// first is the id of the first advice, "" for any; located the block that a
	// stop must name.
	first, located string
	// chances that faults must lie within
	least, most map[string]float64
}

// Cases in which the starter's own notes say stop, or in which one reading fits
// two faults: each is played on with healthy readings until it ends.
var benches = map[string]bench{
	"an overcharged pack leads to its charger": {device: "cordless-tool-pack", symptoms: []trace.SymptomID{"full-too-soon"},
		readings: map[trace.TestID]string{"look-pack": "whole-and-unopened", "pack-volts": "21.9 V"}, mends: []string{"tool-charger-overcharges"}, dead: true, first: "tool-charger-overcharges"},
	"a series lamp that stays bright ends all power": {device: "switch-mode-supply", symptoms: []trace.SymptomID{"no-output"},
		readings: map[trace.TestID]string{"insulation": "good", "out-at-rest": "lamp-stays-bright"}, mends: []string{"switch-mode-transistor-shorted"}, dead: true},
	"DC at a loudspeaker's terminals is no dirty knob": {device: "audio-amplifier", symptoms: []trace.SymptomID{"one-side"},
		readings: map[trace.TestID]string{"insulation": "good", "power-up": "dc-at-a-pair"}, mends: []string{"amp-output-shorted"}, dead: true},
	"a short at the pins gets no load test": {device: "plug-in-supply", symptoms: []trace.SymptomID{"hot-case"},
		readings: map[trace.TestID]string{"pins-ohms": "30 Ω", "insulation": "good"}, mends: []string{}, dead: true, located: "transformer"},
	"a series lamp in full light is no broken cord": {device: "lamp", symptoms: []trace.SymptomID{"flickers"},
		readings: map[trace.TestID]string{"insulation": "good", "dim-on-series-lamp": "series-lamp-in-full-light"}, mends: []string{}, dead: true, located: "holder"},
	"half heat is a broken coil or a burnt contact": {device: "fan-heater", symptoms: []trace.SymptomID{"half-warm"}, readings: map[trace.TestID]string{"pins-ohms": "48 Ω"},
		least: map[string]float64{"heater-switch-burnt": .05}, most: map[string]float64{"element-coil-broken": .9}},
	"a dead charger leaves a flat battery": {device: "lead-acid-charger", symptoms: []trace.SymptomID{"no-charge"}, readings: map[trace.TestID]string{"battery-rest": "deep"},
		most: map[string]float64{"lead-acid-battery-dead": .7}},
	"unsteady through the base is the base or the cord": {device: "kettle", symptoms: []trace.SymptomID{"comes-and-goes"}, readings: map[trace.TestID]string{"cord-ohms": "unsteady"},
		most: map[string]float64{"kettle-base-contact-burnt": .75}},
	"35 Ω through a trigger is a burnt one": {device: "corded-drill", symptoms: []trace.SymptomID{"dead-quiet"}, readings: map[trace.TestID]string{"switch-ohms": "35 Ω"}},
}

func TestBench(t *testing.T) {
	set := load(t, starter)
	lead := map[string]string{"unsteady through the base is the base or the cord": "base", "35 Ω through a trigger is a burnt one": "switch"}
	for name, c := range benches {
		t.Run(name, func(t *testing.T) {
			dev := set.TraceDevice(c.device)
			k := trace.Evidence{Symptoms: c.symptoms}
			for _, test := range dev.Tests { // in the device's order
				if v, ok := c.readings[test.ID]; ok {
					k.Readings = append(k.Readings, trace.Reading{Test: test.ID, Value: v})
				}
			}
			if len(k.Readings) != len(c.readings) {
				t.Fatalf("of %v only %v are tests of the device", c.readings, k.Readings)
			}
			chances, _ := trace.Chances(dev, k)
			best := trace.Chance{}
			for _, ch := range chances {
				if ch.Chance > best.Chance {
					best = ch
				}
				if least, ok := c.least[string(ch.ID)]; ok && ch.Chance < least {
					t.Errorf("%s has %.2f, less than %v", ch.ID, ch.Chance, least)
				}
				if most, ok := c.most[string(ch.ID)]; ok && ch.Chance > most {
					t.Errorf("%s has %.2f, more than %v", ch.ID, ch.Chance, most)
				}
			}
			if want, ok := lead[name]; ok && string(dev.Cause(best.ID).Block) != want {
				t.Errorf("%s leads, not a fault of the %s", best.ID, want)
			}
			located := false
			for step := 0; ; step++ {
				a, err := trace.Next(dev, k)
				if err != nil {
					t.Fatal(err)
				}
				if step == 0 && c.first != "" && a.ID() != c.first {
					t.Errorf("the first advice is %s %s, not %s", a.Kind, a.ID(), c.first)
				}
				located = located || slices.Contains(a.Located, trace.BlockID(c.located))
				if step > 40 {
					t.Fatal("no end in 40 steps")
				}
				if a.Kind == trace.DoTest {
					test := dev.Test(a.Test)
					if c.dead && test.Power != trace.Off {
						t.Fatalf("%s is powered: %s", test.ID, test.Power)
					}
					k.Readings = append(k.Readings, trace.Reading{Test: test.ID, Value: healthyOf(test)})
					continue
				}
				if a.Kind == trace.DoMend || a.Kind == trace.Past {
					if c.mends != nil && !slices.Contains(c.mends, string(a.Cause)) {
						t.Fatalf("it mends %s", a.Cause)
					}
					k.Tried = append(k.Tried, trace.Mended{Cause: a.Cause, Before: len(k.Readings)})
					continue
				}
				break
			}
			if c.located != "" && !located {
				t.Errorf("no stop names the %s", c.located)
			}
		})
	}
}

func healthyOf(t *trace.Test) string {
	for _, b := range t.Reads {
		if b.Healthy {
			return string(b.ID)
		}
	}
	return ""
}

// After each reading that forbids, on every device and with every proof read
// good, nothing is powered and nothing is mended but what states that reading.
func TestForbiddingReadings(t *testing.T) {
	set := load(t, starter)
	forbidding := 0
	for _, d := range set.Devices {
		dev := set.TraceDevice(d.Name)
		dev.Shop.AllowMains = true // a shop that may: the reading alone must hold it
		for i := range dev.Tests {
			test := &dev.Tests[i]
			for _, band := range test.Reads {
				if band.Forbids == "" {
					continue
				}
				forbidding++
				k := trace.Evidence{}
				for j := range dev.Tests {
					if p := &dev.Tests[j]; p.Proves != "" && p != test {
						k.Readings = append(k.Readings, trace.Reading{Test: p.ID, Value: healthyOf(p)})
					}
				}
				k.Readings = append(k.Readings, trace.Reading{Test: test.ID, Value: string(band.ID)})
				a, err := trace.Next(dev, k)
				if err != nil {
					t.Fatal(err)
				}
				switch a.Kind {
				case trace.DoTest:
					if p := dev.Test(a.Test).Power; p != trace.Off {
						t.Errorf("%s: after %s of %s it goes on with %s, %s", d.Name, band.ID, test.ID, a.Test, p)
					}
				case trace.DoMend, trace.Past:
					if !dev.Cause(a.Cause).States(test.ID, band.ID) {
						t.Errorf("%s: after %s of %s it mends %s", d.Name, band.ID, test.ID, a.Cause)
					}
				}
				if len(a.Forbids) == 0 {
					t.Errorf("%s: after %s of %s nothing is said to be forbidden", d.Name, band.ID, test.ID)
				}
			}
		}
	}
	if forbidding < 40 {
		t.Errorf("only %d readings of the starter forbid power", forbidding)
	}
}

// A pack that is swollen or was opened gets no further test, as its note says, and
// nothing else is done to it than to send it away.
func TestSwollenPack(t *testing.T) {
	set := load(t, starter)
	dev := set.TraceDevice("cordless-tool-pack")
	for _, s := range append([]trace.Symptom{{}}, dev.Symptoms...) {
		k := trace.Evidence{Readings: []trace.Reading{{Test: "look-pack", Value: "hurt-or-opened-before"}}}
		if s.ID != "" {
			k.Symptoms = []trace.SymptomID{s.ID}
		}
		for range dev.Tests {
			a, err := trace.Step(dev, k)
			if err != nil {
				t.Fatal(err)
			}
			if a.Kind != trace.DoTest {
				if a.Kind == trace.DoMend && !dev.Cause(a.Cause).States("look-pack", "hurt-or-opened-before") {
					t.Errorf("%s: it mends %s", s.ID, a.Cause)
				}
				break
			}
			if test := dev.Test(a.Test); test.Power != trace.Off || slices.Contains(test.Covers, "cells") {
				t.Errorf("%s: it goes on with %s", s.ID, a.Test)
			}
			k.Readings = append(k.Readings, trace.Reading{Test: a.Test, Value: healthyOf(dev.Test(a.Test))})
		}
	}
}

// What inspect says of the starter's notes is left on purpose: readings that no
// note claims stand for faults that no note describes, and tests at the mains are
// those that this shop leaves alone.
func TestStarterRemarks(t *testing.T) {
	_, mistakes, remarks := note.Load(os.DirFS(starter), all.Find)
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	unclaimed, alike := 0, 0
	for _, r := range remarks {
		switch says := r.String(); {
		case strings.Contains(says, "no fault of this device reads"):
			unclaimed++
		case strings.Contains(says, "is never reached") && !strings.Contains(says, "mains tests"),
			strings.Contains(says, "“limited” is read"):
			t.Error(says)
		case strings.Contains(says, "no test that this shop permits parts"):
			alike++
		}
	}
	if alike > 0 {
		t.Errorf("%d pairs of faults are parted by no test that the shop permits", alike)
	}
	if unclaimed > 30 { // 76 before faults could state several readings
		t.Errorf("%d abnormal readings are claimed by no note", unclaimed)
	}
}

// A brief first step, as pages and the search print it, obeys the same rules and
// costs hardly more than the step that is worked out where somebody asks.
func TestBriefSteps(t *testing.T) {
	set := load(t, starter)
	good, all := 0, 0
	for i, d := range set.Devices {
		if i%3 != 0 { // comparing takes its time
			continue
		}
		dev := set.TraceDevice(d.Name)
		for _, s := range append([]trace.Symptom{{}}, dev.Symptoms...) {
			k := trace.Evidence{}
			if s.ID != "" {
				k.Symptoms = []trace.SymptomID{s.ID}
			}
			long, err := trace.Next(dev, k)
			if err != nil {
				t.Fatal(err)
			}
			brief, err := trace.Brief(dev, k)
			if err != nil {
				t.Fatal(err)
			}
			all++
			near := brief.Kind == long.Kind && brief.ID() == long.ID()
			for _, o := range long.Instead {
				near = near || o.Action == brief.Action && o.ExtraMinutes < 2
			}
			if near {
				good++
			}
		}
	}
	if t.Logf("%d of %d", good, all); good*10 < all*7 {
		t.Errorf("of %d brief steps only %d cost less than two minutes more than the best", all, good)
	}
}

// What the trace of a publishing costs: the printed tree and the first steps of the
// devices of a shop of invented notes, written out and of common blocks. Memory is
// what compares; time holds for a machine that does nothing else.
func BenchmarkTrace(b *testing.B) {
	dir := b.TempDir() + "/shop"
	if err := bigshop.Write(dir, os.DirFS(starter), 1400, 1); err != nil {
		b.Fatal(err)
	}
	set := load(b, dir)
	var list []*trace.Device
	given := map[string]bool{}
	for _, d := range load(b, starter).Devices {
		given[d.Name] = true
	}
	for _, d := range set.Devices {
		if !given[d.Name] {
			list = append(list, set.TraceDevice(d.Name))
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, d := range list {
			g := trace.Prepare(d)
			if _, err := g.Tree(trace.Evidence{}, trace.TreeLimits{}); err != nil {
				b.Fatal(err)
			}
			for _, s := range d.Symptoms {
				if _, err := g.Bare(trace.Evidence{Symptoms: []trace.SymptomID{s.ID}}); err != nil {
					b.Fatal(err)
				}
			}
		}
	}
	b.ReportMetric(float64(len(list)), "devices")
}
