package trace

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// What a policy costs, parted into work, waiting and parts, is what the plan
// says it costs.
func TestCostsAddUp(t *testing.T) {
	for seed := range uint64(20) {
		d := invented(8, 8, seed)
		d.Shop = Shop{Rate: 30, Currency: "€", WaitsCount: .25}
		for i := range d.Causes {
			d.Causes[i].Mend.Parts = []Part{{Part: "part", Count: 2, Price: float64(i)}}
			d.Causes[i].Mend.Succeeds = .5 + float64(i%5)/10
		}
		for i := range d.Tests {
			d.Tests[i].Waits = float64(i % 3 * 10)
		}
		k := Evidence{Terms: Terms{Limit: 1e6}}
		b := lay(d, k)
		p, err := b.plan(b.believe(), wish{})
		if err != nil {
			t.Fatal(err)
		}
		m, ok := p.costs()
		if !ok {
			t.Fatal("too large to walk")
		}
		total := m.Minutes + d.Shop.waits(m.Waits) + d.Shop.inMinutes(m.Parts)
		if want := p.ExpectedCost + p.closing; math.Abs(total-want) > 1e-6*want {
			t.Errorf("seed %d: the parts add up to %v min, the plan costs %v", seed, total, want)
		}
	}
}

// dear makes the heater's mends cost parts.
func dearHeater() *Device {
	d := heater()
	for i := range d.Causes {
		d.Causes[i].Mend.Parts = []Part{{Part: "part", Count: 1, Price: 5}}
	}
	return d
}

func TestReplacingIsCheaper(t *testing.T) {
	d := dearHeater()
	for _, c := range []struct {
		price float64
		stops bool
	}{{0, false}, {8, true}, {500, false}} {
		a, err := Next(d, Evidence{Symptoms: []SymptomID{"air-cold"}, Terms: Terms{Price: c.price}})
		if err != nil {
			t.Fatal(err)
		}
		if got := a.Stop == StopCheaper; got != c.stops || got != (a.Kind == Replace) {
			t.Errorf("a new one for %v: %s %s", c.price, a.Kind, a.ID())
		}
		if c.stops && !about(a, NewCosts) {
			t.Errorf("the sum is not shown: %v", a.Reasons)
		}
	}
	// A look worth its minutes comes first where it may show that the mend is
	// cheap, though the mend of the average fault is dearer than a new one.
	d.Causes[0].Mend.Parts[0].Price = 200
	a, err := Next(d, Evidence{Symptoms: []SymptomID{"air-cold"}, Terms: Terms{Price: 60}})
	if err != nil || a.Kind != DoTest {
		t.Errorf("%v %s %s", err, a.Kind, a.ID())
	}
	// ... and when it shows the dear one, replacing is cheaper.
	a, err = Next(d, Evidence{Symptoms: []SymptomID{"air-cold"}, Readings: []Reading{{Test: "plug-ohms", Value: "motor-only"}, {Test: "element-ohms", Value: "open"}}, Terms: Terms{Price: 60}})
	if err != nil || a.Stop != StopCheaper {
		t.Errorf("%v %s %s", err, a.Kind, a.ID())
	}
}

func TestOwnersLimit(t *testing.T) {
	d := dearHeater()
	a, err := Next(d, Evidence{Terms: Terms{Limit: 10}})
	if err != nil || a.Stop != StopLimit {
		t.Fatalf("%v %s %s", err, a.Kind, a.ID())
	}
	if a, err = Next(d, Evidence{Terms: Terms{Limit: 100}}); err != nil || a.Kind == DoStop || a.Money == nil || !(a.Money.Further > 0 && a.Money.Spent == 0) {
		t.Fatalf("%v %s %+v", err, a.Kind, a.Money)
	}
	// what is spent counts: 6 min of opening and 2 of the test at 30 an hour
	a, err = Next(d, Evidence{Readings: []Reading{{Test: "element-ohms", Value: "open"}}, Terms: Terms{Limit: 100}})
	if err != nil || math.Abs(a.Money.Spent-4) > 1e-9 {
		t.Errorf("%v spent %+v", err, a.Money)
	}
}

func TestBarredMends(t *testing.T) {
	open := Evidence{Symptoms: []SymptomID{"air-cold"}, Readings: []Reading{{Test: "plug-ohms", Value: "motor-only"}, {Test: "element-ohms", Value: "open"}}}
	d := heater()
	d.Cause("tag-off").Mend.Parts = []Part{{Part: "tag", Count: 1, Gone: true}}
	if a, err := Next(d, open); err != nil || a.Stop != StopNoPart {
		t.Errorf("a part that is gone: %v %s %s", err, a.Kind, a.ID())
	}
	d = heater()
	k := open
	k.NoPart = []CauseID{"tag-off"}
	if a, err := Next(d, k); err != nil || a.Stop != StopNoPart {
		t.Errorf("no part: %v %s %s", err, a.Kind, a.ID())
	}
	d.Cause("tag-off").Mend.Forbidden = "left to licensed people"
	if a, err := Next(d, open); err != nil || a.Stop != StopForbidden || a.Reasons[len(a.Reasons)-1].Text != "left to licensed people" {
		t.Errorf("forbidden: %v %s %v", err, a.Kind, a.Reasons)
	}
	// with the price of a new one known, buying is the way out, said with its sum
	k.Terms.Price = 40
	if a, err := Next(heater(), k); err != nil || a.Kind != Replace {
		t.Errorf("no part and a new one to be had: %v %s %s", err, a.Kind, a.ID())
	}
	// an access that is not opened bars its tests
	d = heater()
	d.Access[0].Forbidden = "sealed"
	a, err := Next(d, Evidence{})
	for err == nil && a.Kind == DoTest {
		if slices.Contains(d.Test(a.Test).Needs, "grille-off") {
			t.Errorf("%s needs what stays shut", a.ID())
		}
		k.Readings = append(k.Readings, Reading{Test: a.Test, Value: string(healthy(d.Test(a.Test)))})
		a, err = Next(d, Evidence{Readings: k.Readings})
	}
	if err != nil {
		t.Error(err)
	}
}

// A good part is swapped in only after what could kill it has read well.
func TestAfter(t *testing.T) {
	d := heater()
	d.Test("element-ohms").After = []TestID{"cut-out-ohms"}
	d.Test("element-ohms").Minutes = .1
	a, err := Next(d, Evidence{Symptoms: []SymptomID{"air-cold"}})
	if err != nil || a.ID() == "element-ohms" {
		t.Fatalf("%v: %s comes first", err, a.ID())
	}
	for _, c := range []struct {
		reads string
		may   bool
	}{{"closed", true}, {"open", false}} {
		b := lay(d, Evidence{Readings: []Reading{{Test: "cut-out-ohms", Value: c.reads}}})
		if _, got := b.before(d.Test("element-ohms"), false); got != c.may {
			t.Errorf("after %s: %v", c.reads, got)
		}
	}
	// a device whose tests wait for each other still gives advice
	d.Test("cut-out-ohms").After = []TestID{"element-ohms"}
	if _, err := Next(d, Evidence{}); err != nil {
		t.Error(err)
	}
}

// One fault is mended and something is wrong still: the part is known good, and
// what it made of the readings no longer counts.
func TestTwoFaults(t *testing.T) {
	d := heater()
	k := Evidence{Symptoms: []SymptomID{"air-cold"}, Readings: []Reading{{Test: "plug-ohms", Value: "motor-only"}, {Test: "element-ohms", Value: "open"}}}
	a, err := Next(d, k)
	if err != nil || a.ID() != "tag-off" {
		t.Fatalf("%v %s", err, a.ID())
	}
	k.Mended = []Mended{{"tag-off", 2}}
	if a, err = Next(d, k); err != nil {
		t.Fatal(err)
	}
	if p := chance(a, "tag-off"); p != 0 {
		t.Errorf("the mended part is still suspected: %v", p)
	}
	if a.Chances[0].ID != "cut-out-open" {
		t.Errorf("with cold air still, the cut-out is next, not %s", a.Chances[0].ID)
	}
	if a.Kind != DoTest {
		t.Errorf("the second fault is tested for: %s %s", a.Kind, a.ID())
	}
	if a.Stop == StopUnknown {
		t.Error("a second fault is no unknown one")
	}
	if a, err := Next(d, Evidence{Mended: []Mended{{"nothing", 0}}}); err != nil || len(a.Remarks) != 1 || a.Remarks[0].About != NoSuchFault {
		t.Errorf("a fault that is not there was mended: %v %v", a.Remarks, err)
	}
}

// A fault that comes and goes is looked for again where that pays.
func TestOnceMore(t *testing.T) {
	d := heater()
	d.Test("cord-ohms").While = nil
	d.Cause("cord-broken").Shown = Shown{Word: "now-and-then", Chance: .5}
	d.Cause("switch-burnt").Shown = Shown{Word: "now-and-then", Chance: .5}
	d.Cause("cord-broken").Mend.Minutes, d.Cause("switch-burnt").Mend.Minutes = 90, 80
	k := Evidence{Symptoms: []SymptomID{"dead"}, Readings: []Reading{{Test: "fuse-ohms", Value: "whole"}, {Test: "plug-ohms", Value: "as-rated"}}}
	seen := false
	for range 8 {
		a, err := Next(d, k)
		if err != nil {
			t.Fatal(err)
		}
		if a.Kind != DoTest {
			break
		}
		done := slices.ContainsFunc(k.Readings, func(r Reading) bool { return string(r.Test) == a.ID() })
		if done {
			seen = true
			if !a.Again {
				t.Errorf("%s is not called a repeat", a.ID())
			}
		}
		k.Readings = append(k.Readings, Reading{Test: a.Test, Value: string(healthy(d.Test(a.Test)))})
	}
	if !seen {
		t.Error("no test was ever repeated")
	}
}

// Class II has no earth to bond, class III needs neither proof.
func TestProofsByClass(t *testing.T) {
	for class, want := range map[string]int{"": 2, "I": 2, "II": 1, "III": 0} {
		if got := (&Device{Class: class}).Proofs(); len(got) != want {
			t.Errorf("class %q: %v", class, got)
		}
	}
	// fed by its own supply from the mains, even on a series lamp, class III shows its insulation too
	for power, want := range map[Power]int{Off: 0, LowVoltage: 0, SeriesLamp: 1, Isolated: 1, Mains: 1} {
		if got := (&Device{Class: "III", Tests: []Test{{Power: power}}}).Proofs(); len(got) != want {
			t.Errorf("class III on %s: %v", power, got)
		}
	}
}

func TestLookBack(t *testing.T) {
	d := heater()
	k := Evidence{Symptoms: []SymptomID{"air-cold", "dead"}, Readings: []Reading{{Test: "cord-ohms", Value: "whole"}, {Test: "element-ohms", Value: "open", Minutes: 5}, {Test: "cut-out-ohms", Value: "open"}},
		Tried: []Mended{{"dust", 3}}}
	l, err := LookBack(d, k, "tag-off")
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Taken) != 5 || l.Taken[4].Cause != "tag-off" || l.Taken[1].Minutes != 5 {
		t.Errorf("taken %+v", l.Taken)
	}
	if last := l.Best[len(l.Best)-1]; last.Cause != "tag-off" || l.BestMinutes > l.TakenMinutes {
		t.Errorf("best %+v, %v against %v min", l.Best, l.BestMinutes, l.TakenMinutes)
	}
	if l.Taken[0].Extra < 1 || l.Taken[3].Extra < 1 {
		t.Errorf("looking at the cord and cleaning dust cost nothing: %+v", l.Taken)
	}
	for _, want := range []Lesson{{About: UnnamedSymptom, Symptom: "dead"}, {About: OtherReading, Test: "cut-out-ohms", Got: "open", Want: "closed"}} {
		if !slices.Contains(l.ToNote, want) {
			t.Errorf("%v lacks %v", l.ToNote, want)
		}
	}
	if _, err := LookBack(d, k, "nothing"); err == nil {
		t.Error("a cause that is not there")
	}
}

// A draft holds what was seen, and everything else commented out.
func TestDraft(t *testing.T) {
	d := heater()
	text := Draft(d, "", "switch", Evidence{Symptoms: []SymptomID{"dead"}, Readings: []Reading{{Test: "plug-ohms", Value: "300 Ω"}, {Test: "fuse-ohms", Value: "whole"}, {Test: "element-ohms", Value: "500 Ω"}}})
	for _, want := range []string{"title: \"A new fault of the fan heater\"\n", "block: switch\n", "\nsymptoms:\n", "\n  dead: often # Nothing at all\n", "\n#   air-cold: never #", "\nreads:\n", "\n  plug-ohms: motor-only #", "\n# because:", "\nmend: {"} {
		if !strings.Contains(text, want) {
			t.Errorf("%s\nlacks %q", text, want)
		}
	}
	for _, not := range []string{"\n  fuse-ohms", "\n  element-ohms", "\n  cut-out-ohms"} {
		if strings.Contains(text, not) {
			t.Errorf("%s\nhas %q", text, not)
		}
	}
	if text := Draft(d, "", "", Evidence{}); !strings.Contains(text, "# symptoms:\n") || !strings.Contains(text, "# reads:\n") {
		t.Errorf("nothing was seen, and the draft has groups:\n%s", text)
	}
	if text := Draft(d, "", "element", Evidence{Readings: []Reading{{Test: "element-ohms", Value: "500 Ω"}}}); !strings.Contains(text, "#   element-ohms: it read 500 Ω, which fits no band") {
		t.Errorf("a reading that fits no band:\n%s", text)
	}
}

// Near an edge the advice names the measurement that would tell.
func TestBetterMeasurement(t *testing.T) {
	d := heater()
	d.Tests[3].Reads = []Band{{ID: "open", Low: f(29), Text: "above 29 Ω"}, {ID: "as-rated", Low: f(24), High: f(29), Healthy: true}}
	for value, want := range map[string]float64{"28.9 Ω": .1 / 28.9, "29 Ω": 0} {
		a, err := Next(d, Evidence{Readings: []Reading{{Test: "element-ohms", Value: value}}})
		if err != nil || len(a.Remarks) != 1 {
			t.Fatalf("%v %v", a.Remarks, err)
		}
		if r := a.Remarks[0]; r.About != OnEdge || r.Edge != 29 || math.Abs(r.Needs-want) > 1e-9 {
			t.Errorf("%s: %+v", value, r)
		}
	}
}

// about tells whether an advice gives a reason.
func about(a Advice, what About) bool {
	return slices.ContainsFunc(a.Reasons, func(r Reason) bool { return r.About == what })
}

// remarks tells whether an advice remarks on something.
func remarks(a Advice, what About) bool {
	return slices.ContainsFunc(a.Remarks, func(r Remark) bool { return r.About == what })
}
