package site

import (
	"fmt"
	"math/rand"
	"os"
	"slices"
	"testing"

	"faultleaf/calc/trace"
)

// On random walks over all devices, with bad readings, mends in vain and tests
// skipped, nothing is powered that must not be: after a reading that forbids it,
// or before each proof has read good since the device was last opened.
func TestNoWalkPowersUnproved(t *testing.T) {
	set, rng := load(t, starter), rand.New(rand.NewSource(7))
	powered, walks := 0, 100
	if os.Getenv("FAULTLEAF_WHOLE") != "" {
		walks = 240
	}
	for n := range walks {
		dev := set.TraceDevice(set.Devices[n%len(set.Devices)].Name)
		dev.Shop.AllowMains = n%2 == 0
		k := trace.Evidence{Symptoms: []trace.SymptomID{dev.Symptoms[rng.Intn(len(dev.Symptoms))].ID}}
		for _, x := range dev.Tests {
			if rng.Intn(12) == 0 {
				k.Skipped = append(k.Skipped, trace.Skip{Test: x.ID, Why: "no-instrument"})
			}
		}
		for step := 0; step < 25; step++ {
			a, err := trace.Step(dev, k)
			if err != nil {
				t.Fatalf("%s %+v: %v", dev.ID, k, err)
			}
			if a.Kind == trace.DoMend || a.Kind == trace.Past {
				for _, f := range a.Forbids {
					if len(a.Forbids) == 1 && !dev.Cause(a.Cause).States(f.Test, f.Reading) {
						t.Errorf("%s: mends %s against %+v", dev.ID, a.Cause, f)
					}
				}
				k.Tried = append(k.Tried, trace.Mended{Cause: a.Cause, Before: len(k.Readings)})
				continue
			}
			if a.Kind != trace.DoTest {
				break
			}
			x := dev.Test(a.Test)
			if slices.ContainsFunc(k.Skipped, func(s trace.Skip) bool { return s.Test == x.ID }) {
				t.Errorf("%s: %s is offered though it was skipped", dev.ID, x.ID)
			}
			if x.Power != trace.Off {
				powered++
				if wrong := unproved(dev, k, x); wrong != "" || len(a.Forbids) > 0 {
					t.Errorf("%s: %s on %s %s, forbidden %v: %+v", dev.ID, x.ID, x.Power, wrong, a.Forbids, k)
				}
			}
			value := healthyOf(x)
			if value == "" || rng.Intn(5) < 2 {
				value = string(x.Reads[rng.Intn(len(x.Reads))].ID)
			}
			k.Readings = append(k.Readings, trace.Reading{Test: x.ID, Value: value})
		}
	}
	if powered < walks/5 {
		t.Errorf("only %d powered tests were met", powered)
	}
}

// unproved says which proof is missing before a test on the mains, "" for none.
func unproved(dev *trace.Device, k trace.Evidence, x *trace.Test) string {
	if x.Power == trace.LowVoltage {
		return ""
	}
	opened := 0 // readings taken before the last mend that opened it
	for _, m := range k.Tried {
		if c := dev.Cause(m.Cause); len(c.Mend.Needs)+len(c.Mend.Parts) > 0 {
			opened = m.Before
		}
	}
	for _, what := range dev.Proofs() {
		some := false
		for i := range dev.Tests {
			p := &dev.Tests[i]
			if p.Proves != string(what) {
				continue
			}
			value := ""
			for at, r := range k.Readings {
				if r.Test == p.ID && (at >= opened || r.Value != healthyOf(p)) {
					value = r.Value
				}
			}
			if value != healthyOf(p) {
				return fmt.Sprintf("before %s reads good", p.ID)
			}
			some = true
		}
		if !some {
			return fmt.Sprintf("without any %s", what)
		}
	}
	return ""
}
