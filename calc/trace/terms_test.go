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
		d := bench(8, 8, seed)
		d.Shop = Shop{Rate: 30, Currency: "€", WaitsCount: .25}
		for i := range d.Causes {
			d.Causes[i].Mend.Parts = []Part{{Part: "part", Count: 2, Price: float64(i)}}
			d.Causes[i].Mend.Succeeds = .5 + float64(i%5)/10
		}
		for i := range d.Tests {
			d.Tests[i].Waits = float64(i % 3 * 10)
		}
		k := Evidence{Terms: Terms{Limit: 1e6}}
		b, err := believe(d, k)
		if err != nil {
			t.Fatal(err)
		}
		p, err := plan(d, k, b, safe, false, false)
		if err != nil {
			t.Fatal(err)
		}
		m, ok := p.costs(d)
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
		if got := a.Stop == StopCheaper; got != c.stops || got != (a.Kind == "stop") {
			t.Errorf("a new one for %v: %s %s", c.price, a.Kind, a.Title)
		}
		if c.stops && !strings.Contains(strings.Join(a.Why, " "), "A new one costs 8") {
			t.Errorf("the sum is not shown: %q", a.Why)
		}
	}
	// A look worth its minutes comes first where it may show that the mend is
	// cheap, though the mend of the average fault is dearer than a new one.
	d.Causes[0].Mend.Parts[0].Price = 200
	a, err := Next(d, Evidence{Symptoms: []SymptomID{"air-cold"}, Terms: Terms{Price: 60}})
	if err != nil || a.Kind != "test" {
		t.Errorf("%v %s %s", err, a.Kind, a.Title)
	}
	// ... and when it shows the dear one, replacing is cheaper.
	a, err = Next(d, Evidence{Symptoms: []SymptomID{"air-cold"}, Readings: []Reading{{Test: "element-ohms", Value: "open"}}, Terms: Terms{Price: 60}})
	if err != nil || a.Stop != StopCheaper {
		t.Errorf("%v %s %s", err, a.Kind, a.Title)
	}
}

func TestOwnersLimit(t *testing.T) {
	d := dearHeater()
	a, err := Next(d, Evidence{Terms: Terms{Limit: 10}})
	if err != nil || a.Stop != StopLimit {
		t.Fatalf("%v %s %s", err, a.Kind, a.Title)
	}
	if a, err = Next(d, Evidence{Terms: Terms{Limit: 100}}); err != nil || a.Kind == "stop" || a.Money == nil || !(a.Money.Further > 0 && a.Money.Spent == 0) {
		t.Fatalf("%v %s %+v", err, a.Kind, a.Money)
	}
	// what is spent counts: 6 min of opening and 2 of the test at 30 an hour
	a, err = Next(d, Evidence{Readings: []Reading{{Test: "element-ohms", Value: "open"}}, Terms: Terms{Limit: 100}})
	if err != nil || math.Abs(a.Money.Spent-4) > 1e-9 {
		t.Errorf("%v spent %+v", err, a.Money)
	}
}

func TestBarredMends(t *testing.T) {
	open := Evidence{Symptoms: []SymptomID{"air-cold"}, Readings: []Reading{{Test: "element-ohms", Value: "open"}}}
	d := heater()
	d.Cause("tag-off").Mend.Parts = []Part{{Part: "tag", Count: 1, Gone: true}}
	if a, err := Next(d, open); err != nil || a.Stop != StopNoPart {
		t.Errorf("a part that is gone: %v %s %s", err, a.Kind, a.Title)
	}
	d = heater()
	k := open
	k.NoPart = []CauseID{"tag-off"}
	if a, err := Next(d, k); err != nil || a.Stop != StopNoPart {
		t.Errorf("no part: %v %s %s", err, a.Kind, a.Title)
	}
	d.Cause("tag-off").Mend.Forbidden = "left to licensed people"
	if a, err := Next(d, open); err != nil || a.Stop != StopForbidden || !slices.Contains(a.Why, "left to licensed people.") {
		t.Errorf("forbidden: %v %s %q", err, a.Kind, a.Why)
	}
	// with the price of a new one known, buying is the way out, said with its sum
	k.Terms.Price = 40
	if a, err := Next(heater(), k); err != nil || a.Kind != "stop" {
		t.Errorf("no part and a new one to be had: %v %s %s", err, a.Kind, a.Title)
	}
	// an access that is not opened bars its tests
	d = heater()
	d.Access[0].Forbidden = "sealed"
	a, err := Next(d, Evidence{})
	for err == nil && a.Kind == "test" {
		if slices.Contains(d.Test(TestID(a.ID)).Needs, "grille-off") {
			t.Errorf("%s needs what stays shut", a.ID)
		}
		k.Readings = append(k.Readings, Reading{Test: TestID(a.ID), Value: string(healthy(d.Test(TestID(a.ID))))})
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
	if err != nil || a.ID == "element-ohms" {
		t.Fatalf("%v: %s comes first", err, a.ID)
	}
	for _, c := range []struct {
		reads string
		may   bool
	}{{"closed", true}, {"open", false}} {
		k := Evidence{Readings: []Reading{{Test: "cut-out-ohms", Value: c.reads}}}
		if got := d.mayFollow(k, d.Test("element-ohms"), map[TestID]bool{}); got != c.may {
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
	if err != nil || a.ID != "tag-off" {
		t.Fatalf("%v %s", err, a.ID)
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
	if a.Kind != "test" {
		t.Errorf("the second fault is tested for: %s %s", a.Kind, a.Title)
	}
	if a.Stop == StopUnknown {
		t.Error("a second fault is no unknown one")
	}
	if _, err := Next(d, Evidence{Mended: []Mended{{"nothing", 0}}}); err == nil {
		t.Error("a fault that is not there was mended")
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
		if a.Kind != "test" {
			break
		}
		done := slices.ContainsFunc(k.Readings, func(r Reading) bool { return string(r.Test) == a.ID })
		if done {
			seen = true
			if !strings.Contains(a.Title, "once more") {
				t.Errorf("a repeat is called %q", a.Title)
			}
		}
		k.Readings = append(k.Readings, Reading{Test: TestID(a.ID), Value: string(healthy(d.Test(TestID(a.ID))))})
	}
	if !seen {
		t.Error("no test was ever repeated")
	}
}

// Class II has no earth to bond, class III needs neither proof.
func TestProofsByClass(t *testing.T) {
	for class, want := range map[string]int{"": 2, "I": 2, "II": 1, "III": 0} {
		if got := (&Device{Class: class}).proofs(); len(got) != want {
			t.Errorf("class %q: %v", class, got)
		}
	}
}

func TestLookBack(t *testing.T) {
	d := heater()
	k := Evidence{Symptoms: []SymptomID{"air-cold", "dead"}, Readings: []Reading{{Test: "cord-ohms", Value: "whole"}, {Test: "element-ohms", Value: "open", Minutes: 5}, {Test: "cut-out-ohms", Value: "open"}},
		Tried: []CauseID{"dust"}}
	l, err := LookBack(d, k, "tag-off")
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Taken) != 5 || l.Taken[4].ID != "tag-off" || l.Taken[1].Minutes != 5 {
		t.Errorf("taken %+v", l.Taken)
	}
	if last := l.Best[len(l.Best)-1]; last.ID != "tag-off" || l.BestMinutes > l.TakenMinutes {
		t.Errorf("best %+v, %v against %v min", l.Best, l.BestMinutes, l.TakenMinutes)
	}
	if l.Taken[0].Extra < 1 || l.Taken[3].Extra < 1 {
		t.Errorf("looking at the cord and cleaning dust cost nothing: %+v", l.Taken)
	}
	notes := strings.Join(l.ToNote, "\n")
	for _, want := range []string{"“Nothing at all”", "expects “closed”"} {
		if !strings.Contains(notes, want) {
			t.Errorf("%q lacks %s", notes, want)
		}
	}
	if _, err := LookBack(d, k, "nothing"); err == nil {
		t.Error("a cause that is not there")
	}
}

func TestDraft(t *testing.T) {
	d := heater()
	text := Draft(d, "", "", Evidence{Symptoms: []SymptomID{"dead"}, Readings: []Reading{{Test: "plug-ohms", Value: "300 Ω"}}})
	for _, want := range []string{"title: \"A new fault of the fan heater\"\n", "block: plug\n", "  dead: often # Nothing at all\n", "  air-cold: never #", "  plug-ohms: motor-only #", "  fuse-ohms: open #"} {
		if !strings.Contains(text, want) {
			t.Errorf("%s\nlacks %q", text, want)
		}
	}
}

// Near an edge the advice names the measurement that would tell.
func TestBetterMeasurement(t *testing.T) {
	d := heater()
	d.Tests[3].Reads = []Band{{ID: "open", Low: f(29), Text: "above 29 Ω"}, {ID: "as-rated", Low: f(24), High: f(29), Healthy: true}}
	a, err := Next(d, Evidence{Readings: []Reading{{Test: "element-ohms", Value: "28.9 Ω"}}})
	if err != nil {
		t.Fatal(err)
	}
	notes := strings.Join(a.Notes, " ")
	if !strings.Contains(notes, "The edge is at 29") || !strings.Contains(notes, "good to 0.30 %") {
		t.Errorf("%q", notes)
	}
	a, _ = Next(d, Evidence{Readings: []Reading{{Test: "element-ohms", Value: "29 Ω"}}})
	if notes := strings.Join(a.Notes, " "); !strings.Contains(notes, "go by the other tests") {
		t.Errorf("%q", notes)
	}
}
