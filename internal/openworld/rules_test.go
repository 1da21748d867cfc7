package openworld

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"faultleaf/calc/trace"
)

// The rules are checked here in other words than the engine's: from what was read
// and done, in its order.
type bookkeeper struct {
	t testing.TB
	d *trace.Device
	e trace.Evidence

	until trace.CauseID // its mend cures
}

func (b *bookkeeper) healthy(x *trace.Test, value string) bool {
	fits, err := trace.ParseReading(x, value)
	return err == nil && len(fits) == 1 && slices.ContainsFunc(x.Reads, func(r trace.Band) bool { return r.ID == fits[0].Reading && r.Healthy })
}

func (b *bookkeeper) band(x *trace.Test, value string) trace.ReadingID {
	if fits, err := trace.ParseReading(x, value); err == nil && len(fits) > 0 {
		return fits[0].Reading
	}
	return ""
}

// forbidding lists the readings that forbid power still.
func (b *bookkeeper) forbidding() (list []trace.Read, tests []trace.TestID) {
	for i, r := range b.e.Readings {
		x := b.d.Test(r.Test)
		for _, band := range x.Reads {
			if band.ID != b.band(x, r.Value) || band.Forbids == "" {
				continue
			}
			lifted := false
			for j := i + 1; j < len(b.e.Readings); j++ {
				then := b.e.Readings[j]
				mended := slices.ContainsFunc(b.e.Tried, func(m trace.Mended) bool { return m.Before > i && m.Before <= j })
				lifted = lifted || then.Test == r.Test && mended && b.healthy(x, then.Value)
			}
			if !lifted {
				list, tests = append(list, trace.Read{Reading: band.ID}), append(tests, r.Test)
			}
		}
	}
	return list, tests
}

func (b *bookkeeper) read(id trace.TestID) (last string, ok bool) {
	for _, r := range b.e.Readings {
		if r.Test == id {
			last, ok = r.Value, true
		}
	}
	return last, ok
}

// check holds an advice against the rules.
func (b *bookkeeper) check(a trace.Advice) {
	b.t.Helper()
	fail := func(text string) {
		b.t.Errorf("%s: %s: %s %s after %v, tried %v", b.d.ID, text, a.Kind, a.ID(), b.e.Readings, b.e.Tried)
	}
	if _, err := json.Marshal(a); err != nil { // a NaN has no place in JSON
		fail(err.Error())
	}
	b.warned(a, fail)
	forbids, on := b.forbidding()
	switch a.Kind {
	case trace.DoTest:
		x := b.d.Test(a.Test)
		powered := x.Power != trace.Off && x.Power != ""
		if powered && len(forbids) > 0 {
			fail("powered after a forbidding reading")
		}
		if powered && x.Power != trace.LowVoltage {
			if x.Power != trace.SeriesLamp && !b.d.Shop.AllowMains {
				fail("a live test that is not allowed")
			}
			for _, proof := range b.d.Proofs() {
				proved := false
				for i := range b.d.Tests {
					if p := &b.d.Tests[i]; p.Proves == string(proof) {
						last, ok := b.read(p.ID)
						proved = ok && b.healthy(p, last)
						if !proved {
							break
						}
					}
				}
				if !proved {
					fail("on the mains without " + string(proof))
				}
			}
		}
		if powered {
			b.lookedOver(x, fail)
		}
		if slices.ContainsFunc(b.e.Skipped, func(s trace.Skip) bool { return s.Test == a.Test }) {
			fail("a test that cannot be taken")
		}
	case trace.DoMend, trace.Past:
		c := b.d.Cause(a.Cause)
		if len(forbids) > 0 && a.Kind == trace.DoMend {
			states := false
			for i, f := range forbids {
				states = states || c.States(on[i], f.Reading)
			}
			if !states {
				fail("mended though it does not state the forbidding reading")
			}
		}
		if c.Mend.None != "" || len(c.Mend.Parts) > 0 {
			b.measured(c, fail)
		}
		if a.Kind == trace.Past {
			b.givenUp(a, c, fail)
		}
		if slices.ContainsFunc(b.e.Tried, func(m trace.Mended) bool { return m.Cause == c.ID && m.Before == len(b.e.Readings) }) {
			fail("mended twice with nothing read between")
		}
	}
}

// givenUp holds a thing that is given up against the rule that it is so only where the
// readings point to that, one on the fault's own block shows it, or nothing that no note
// describes is left to look for.
func (b *bookkeeper) givenUp(a trace.Advice, c *trace.Cause, fail func(string)) {
	if a.GivenUp >= .8 || about(a, trace.SeenHurt) {
		return
	}
	for _, r := range b.e.Readings {
		if x := b.d.Test(r.Test); len(x.Covers) <= 2 && slices.Contains(x.Covers, c.Block) && !b.healthy(x, r.Value) && c.States(x.ID, b.band(x, r.Value)) {
			return
		}
	}
	for _, u := range a.Unknown {
		if u.Chance >= .1 && !slices.Contains(b.e.Looked, u.Block) {
			fail("given up before a look")
			return
		}
	}
}

// lookedOver holds a test that powers the device against the rule that plug, cord and
// whatever else a glance may forbid were looked at first, and its battery before that
// feeds it.
func (b *bookkeeper) lookedOver(x *trace.Test, fail func(string)) {
	for i := range b.d.Tests {
		glance := &b.d.Tests[i]
		forbids, battery := false, false
		for _, r := range glance.Reads {
			forbids = forbids || r.Forbids != ""
		}
		for _, block := range b.d.Chain() {
			battery = battery || block.Source == "battery" && slices.Contains(glance.Covers, block.ID)
		}
		if !glance.ByEye || !forbids || len(glance.Needs) > 0 || glance.Power != trace.Off && glance.Power != "" || x.Power == trace.LowVoltage && !battery {
			continue
		}
		if _, ok := b.read(glance.ID); !ok {
			fail("powered before " + string(glance.ID))
		}
	}
}

// warned holds an advice against the rule that where it tingles or trips the supply,
// insulation is read before all else but what its test waits for, and the earth bond
// where it tingles.
func (b *bookkeeper) warned(a trace.Advice, fail func(string)) {
	trips := slices.ContainsFunc(b.e.Symptoms, func(id trace.SymptomID) bool { return b.d.Symptom(id).Trips })
	tingles := slices.ContainsFunc(b.e.Symptoms, func(id trace.SymptomID) bool { return b.d.Symptom(id).Tingles })
	if !trips && !tingles {
		return
	}
	waits := false // for a test that cannot be taken, or that read badly
	for i := range b.d.Tests {
		x := &b.d.Tests[i]
		if x.Proves != string(trace.Insulation) {
			continue
		}
		for _, id := range x.After {
			last, ok := b.read(id)
			waits = waits || ok && !b.healthy(b.d.Test(id), last) || slices.ContainsFunc(b.e.Skipped, func(s trace.Skip) bool { return s.Test == id })
		}
		if _, ok := b.read(x.ID); ok || waits || slices.ContainsFunc(b.e.Skipped, func(s trace.Skip) bool { return s.Test == x.ID }) {
			continue
		}
		if t := b.d.Test(a.Test); a.Kind != trace.DoTest || t.Proves == "" && !slices.Contains(x.After, t.ID) {
			fail("something before insulation was read, though it tingles or trips the supply")
		}
	}
}

// measured holds a mend against the rule that a part is fitted only after an
// abnormal reading on it. It knows only the plain tests: unplugged, waiting for
// no other, clearly cheaper than the mend, and mostly abnormal with this fault. (What only another
// charger shows reads good everywhere.)
func (b *bookkeeper) measured(c *trace.Cause, fail func(string)) {
	cost := c.Mend.Minutes
	for _, p := range c.Mend.Parts {
		cost += p.Count * p.Price / max(b.d.Shop.Rate, 1e-9) * 60
	}
	narrow := 1000
	for i := range b.d.Tests {
		x := &b.d.Tests[i]
		minutes := x.Minutes + x.Waits
		for _, a := range b.d.Opening(x.Needs) {
			minutes += a.Minutes + a.Undo
		}
		likeliest, says := c.Likeliest(x.ID)
		states := says && likeliest != x.Healthy()
		if x.Power == trace.Off && len(x.After) == 0 && slices.Contains(x.Covers, c.Block) && states && minutes < cost && x.Harms.Chance == 0 &&
			!slices.ContainsFunc(b.e.Skipped, func(s trace.Skip) bool { return s.Test == x.ID }) {
			narrow = min(narrow, len(x.Covers))
		}
	}
	if narrow == 1000 {
		return
	}
	for _, r := range b.e.Readings {
		x := b.d.Test(r.Test)
		if slices.Contains(x.Covers, c.Block) && len(x.Covers) <= narrow && (!b.healthy(x, r.Value) || c.Shown.Word != "" && c.Shown.Word != "always") {
			return
		}
		// a wider look that found it in this block and no other
		if slices.Contains(x.Covers, c.Block) && !b.healthy(x, r.Value) && c.States(x.ID, trace.ReadingID(r.Value)) &&
			!slices.ContainsFunc(b.d.Causes, func(o trace.Cause) bool { return o.Block != c.Block && o.States(x.ID, trace.ReadingID(r.Value)) }) {
			return
		}
	}
	if c.Shown.Word != "" && c.Shown.Word != "always" {
		// taken in the state in which it shows, on whatever part
		for _, r := range b.e.Readings {
			if x := b.d.Test(r.Test); slices.Contains(x.Covers, c.Block) && len(c.Reads[x.ID]) > 0 {
				return
			}
		}
	}
	fail("a part is fitted before anything was read on it")
}

// follow plays on with random answers until the end.
func (b *bookkeeper) follow(answer func(*trace.Test) string) {
	b.t.Helper()
	for range mostSteps {
		a, err := trace.Step(b.d, b.e)
		if err != nil {
			b.t.Errorf("%s: %v", b.d.ID, err)
			return
		}
		b.check(a)
		switch a.Kind {
		case trace.DoTest:
			b.e.Readings = append(b.e.Readings, trace.Reading{Test: a.Test, Value: answer(b.d.Test(a.Test))})
		case trace.DoMend:
			if a.Cause == b.until {
				return
			}
			b.e.Tried = append(b.e.Tried, trace.Mended{Cause: a.Cause, Before: len(b.e.Readings)})
		default:
			return
		}
	}
	b.t.Errorf("%s: no end in %d steps: %v, tried %v", b.d.ID, mostSteps, b.e.Readings, b.e.Tried)
}

func good(x *trace.Test) string {
	for _, b := range x.Reads {
		if b.Healthy {
			return string(b.ID)
		}
	}
	return ""
}

// Every reading of every test of every device, singly, then all healthy: no
// power after a forbidding reading, no part before a reading, an end. All that
// forbid and a few of the others, always the same; all of them with FAULTLEAF_WHOLE.
func TestEveryReadingSingly(t *testing.T) {
	n := 0
	for _, d := range devices(t) {
		for i := range d.Tests {
			for _, r := range d.Tests[i].Reads {
				if n++; !whole() && r.Forbids == "" && n%(9*everyOther) != 0 {
					continue
				}
				b := bookkeeper{t: t, d: d, e: trace.Evidence{Readings: []trace.Reading{{Test: d.Tests[i].ID, Value: string(r.ID)}}}}
				b.follow(good)
			}
		}
	}
}

// Where it trips the supply, for each fault that may show that: nothing before
// insulation, whatever it is.
func TestTripping(t *testing.T) {
	n := 0
	for _, d := range devices(t) {
		for _, s := range d.Symptoms {
			if !s.Trips {
				continue
			}
			n++
			for i := range d.Causes {
				if c := &d.Causes[i]; c.Symptoms[s.ID] != "" && c.Symptoms[s.ID] != "never" {
					b := bookkeeper{t: t, d: d, e: trace.Evidence{Symptoms: []trace.SymptomID{s.ID}}}
					b.until = c.ID
					b.follow(func(x *trace.Test) string { return string(reads(x, c, nil)) })
				}
			}
		}
	}
	if n == 0 && os.Getenv("FAULTLEAF_ONLY") == "" {
		t.Error("no device trips the supply")
	}
}

// The same with random sets of symptoms, readings and skipped tests, and random
// answers. FAULTLEAF_SETS asks for more of them.
func TestRandomReadings(t *testing.T) {
	sets := 200
	if whole() {
		sets = 400
	}
	if n, err := strconv.Atoi(os.Getenv("FAULTLEAF_SETS")); err == nil {
		sets = n
	}
	list := devices(t)
	ends := map[string]int{}
	for n := range sets {
		r := rand.New(rand.NewPCG(uint64(n), 11))
		d := *list[n%len(list)]
		if n%3 == 0 {
			d.Shop.AllowMains = true
		}
		b := bookkeeper{t: t, d: &d}
		for _, s := range d.Symptoms {
			switch r.IntN(6) {
			case 0:
				b.e.Symptoms = append(b.e.Symptoms, s.ID)
			case 1:
				b.e.Absent = append(b.e.Absent, s.ID)
			}
		}
		for range r.IntN(6) {
			x := &d.Tests[r.IntN(len(d.Tests))]
			b.e.Readings = append(b.e.Readings, trace.Reading{Test: x.ID, Value: string(x.Reads[r.IntN(len(x.Reads))].ID)})
		}
		if r.IntN(3) == 0 {
			b.e.Skipped = append(b.e.Skipped, trace.Skip{Test: d.Tests[r.IntN(len(d.Tests))].ID, Why: trace.NoInstrument})
		}
		b.follow(func(x *trace.Test) string {
			if r.IntN(3) > 0 {
				return good(x)
			}
			return string(x.Reads[r.IntN(len(x.Reads))].ID)
		})
		a, _ := trace.Step(&d, b.e)
		ends[fmt.Sprint(a.Kind, " ", a.Stop)]++
		if t.Failed() && n > 50 {
			break
		}
	}
	t.Log(ends)
}
