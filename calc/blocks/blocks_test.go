package blocks

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/trace"
)

// m is a tree of named fields, written as name, value, name, value.
func m(pairs ...any) Tree {
	t := Tree{Fields: []Field{}}
	for i := 0; i < len(pairs); i += 2 {
		t.Fields = append(t.Fields, Field{Name: pairs[i].(string), Value: tree(pairs[i+1])})
	}
	return t
}

// l is a list.
func l(items ...any) Tree {
	t := Tree{List: []Tree{}}
	for _, x := range items {
		t.List = append(t.List, tree(x))
	}
	return t
}

func tree(x any) Tree {
	if t, ok := x.(Tree); ok {
		return t
	}
	return Text(x.(string))
}

func healthyBand(name string) Tree { return m(name, "healthy") }

// bench is a small library of its own: a source with what it can ask, a switch, a
// heater and a lead out.
func bench() *Library {
	kind := func(name string, note Tree) *Kind { return &Kind{Name: name, Note: note} }
	lib := &Library{Kinds: map[string]*Kind{}, Complaints: []Complaint{{ID: "dead", Says: "Nothing happens"}, {ID: "no-heat", Says: "It stays cold", Run: true},
		{ID: "no-output", Says: "Nothing comes out"}, {ID: "tingles", Says: "It tingles"}}}
	open := func(title, seen string) Tree {
		return m("title", title, "cause", "wire", "does", "open", "seen", seen, "complaints", m("stops", "always"), "mend", m("does", "Mend it", "minutes", "10", "needs", l("inside")))
	}
	for _, k := range []*Kind{
		kind("plug", m("title", "Plug", "carries", "current", "source", "mains", "tests",
			m("pins-ohms", m("spans", "behind", "measures", "ohms", "ask", "Ohms at the pins", "minutes", "2"),
				"run", m("spans", "behind", "power", "mains", "ask", "Run it", "minutes", "2", "sees", m("stops", "dead", "stops-some", "half"), "reads", l("dead", "half", healthyBand("works"))),
				"insulation", m("spans", "behind", "proves", "insulation", "sees", m("to-case", "bridged"), "ask", "Insulation", "minutes", "3", "reads", l("bridged", healthyBand("good")))),
			"faults", m("outlet", m("title", "Outlet of the {device} off", "cause", "outlet", "does", "away", "complaints", m("stops", "always"), "mend", m("does", "Tell the owner", "minutes", "1"))))),
		kind("switch", m("title", "Switch", "carries", "current", "ohms", "through", "reach", m("inside", "its tags"), "tests",
			m("across", m("needs", l("inside"), "ask", "Across the {block}", "minutes", "1", "sees", m("open", "open"), "reads", l("open", healthyBand("closed")))),
			"faults", m("burnt", open("Contact of the {device}'s {block} burnt", "4"), "loose", open("Tag of the {device}'s {block} loose", "1")))),
		kind("heater", m("title", "Heater", "carries", "current", "work", "heat", "ohms", "40 Ω to 60 Ω", "reach", m("inside", "its ends"),
			"faults", m("open", open("Wire of the {device}'s {block} open", "2"), "leaks", m("title", "{Device}'s {block} leaks to the case", "cause", "wire", "does", "to-case",
				"complaints", m("tingles", "often"), "mend", m("does", "Replace it", "minutes", "20", "needs", l("inside")))))),
		kind("lead", m("title", "Lead out", "carries", "current", "work", "output", "ohms", "unseen", "reach", m("inside", "its joint"), "tests",
			m("out-no-load", m("power", "off", "ask", "Volts at the {block}", "minutes", "1", "sees", m("open", "nothing"), "reads", l("nothing", healthyBand("as-rated")))),
			"faults", m("broken", m("title", "{Block} of the {device} broken", "cause", "core", "does", "open", "reads", m("out-no-load", "nothing"), "complaints", m("stops", "always"), "mend", m("does", "Cut back", "minutes", "9", "needs", l("inside")))))),
		kind("valves", m("title", "Valves", "carries", "current", "forbidden", "they stay shut here")),
	} {
		lib.Kinds[k.Name] = k
	}
	return lib
}

func noComputing(calc.Link) (calc.Computed, error) {
	return calc.Computed{}, errors.New("nothing is computed here")
}

func TestMerge(t *testing.T) {
	for _, c := range []struct {
		name, want string
		a, b       Tree
	}{
		{"fields merge", "a: 1\nb: 3\nc: 4\n", m("a", "1", "b", "2"), m("b", "3", "c", "4")},
		{"within fields", "a: {x: 1, y: 3}\n", m("a", m("x", "1", "y", "2")), m("a", m("y", "3"))},
		{"lists replace", "a: [3]\n", m("a", l("1", "2")), m("a", l("3"))},
		{"no leaves out", "b: 2\n", m("a", "1", "b", "2"), m("a", "no")},
		{"no of nothing", "a: 1\n", m("a", "1"), m("b", "no")},
		{"nothing over", "a: 1\n", m("a", "1"), Tree{}},
		{"text over fields", "a: 2\n", m("a", m("x", "1")), m("a", "2")},
		{"fields over text", "a: {share: 0.5}\n", m("a", "2"), m("a", m("share", "0.5"))},
	} {
		before := Write(c.a).Text
		flat := func(s string) string { // however deep Write puts a field on a line of its own
			return strings.ReplaceAll(strings.ReplaceAll(strings.ReplaceAll(s, ":\n  ", ": {"), "\n  ", ", "), "}\n", "\n")
		}
		if got := Write(Merge(c.a, c.b)).Text; flat(got) != flat(c.want) {
			t.Errorf("%s: %q, wanted %q", c.name, got, c.want)
		}
		if Write(c.a).Text != before {
			t.Errorf("%s: what was merged into has changed", c.name)
		}
	}
}

// Whatever is wrong with what was picked is said in one sentence.
func TestPickedMistakes(t *testing.T) {
	for _, c := range []struct{ blocks, class, want string }{
		{"", "I", "no block is picked; begin with one that brings the energy, like mains-plug"},
		{"plug swich heater", "I", "there is no block “swich”; did you mean “switch”"},
		{"plug a=switch a=heater", "I", "the block “a” stands in the chain twice; name one of them otherwise, like a-2=heater"},
		{"plug [ heater", "I", "a bracket is not closed"},
		{"plug heater ]", "I", "a “]” stands outside of brackets; write ways side by side like [ element=heating-wire | motor=small-fan-motor ]"},
		{"plug [ heater | ]", "I", "a way in brackets holds no block"},
		{"plug valves", "I", "Valves: they stay shut here"},
		{"plug Heater=heater", "I", "“Heater” is no plain name; use small letters, digits and hyphens"},
		{"plug heater", "IV", "the class of protection is I (with an earth), II (double insulated) or III (safe extra-low voltage), not “IV”"},
		{"switch heater", "I", "the chain begins with no source; begin it with a block that brings the energy, like plug: mains-plug"},
		{"plug switch", "I", "no block of the chain does any work; say work: heat, motion, light, sound, charge or output where energy becomes work"},
		{"plug [ heater | switch ]", "I", "the way that begins with “switch” holds no work; say work: where its energy becomes work, or take the brackets away"},
	} {
		_, _, err := Picked{Blocks: c.blocks, Class: c.class}.Expand(bench(), noComputing)
		if err == nil || err.Error() != c.want {
			t.Errorf("%q: %v\nwanted %s", c.blocks, err, c.want)
		}
	}
}

// What each fault reads follows from what it does and where it stands.
func TestReads(t *testing.T) {
	d, _, err := Picked{Title: "Warmer", Blocks: "plug switch [ a=heater | b=heater ]", Class: "I"}.Expand(bench(), noComputing)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ fault, test, want string }{
		{"switch-burnt", "pins-ohms", "open-or-high"},
		{"switch-burnt", "switch-across", "open"},
		{"switch-burnt", "run", "dead"},
		{"switch-loose", "switch-across", "open"},
		{"a-open", "pins-ohms", "part-open"}, // two alike ways cannot be told apart from the pins
		{"a-open", "run", "half"},
		{"a-leaks", "insulation", "bridged"},
		{"a-leaks", "pins-ohms", "as-rated"},
		{"outlet", "pins-ohms", "as-rated"}, // the device is whole
	} {
		i := slices.IndexFunc(d.Causes, func(x trace.Cause) bool { return strings.HasSuffix(string(x.ID), c.fault) })
		if i < 0 {
			t.Errorf("there is no fault %s", c.fault)
			continue
		}
		if got, _ := d.Causes[i].Likeliest(trace.TestID(c.test)); string(got) != c.want {
			t.Errorf("%s reads %q on %s, wanted %q", c.fault, got, c.test, c.want)
		}
	}
	for _, b := range d.Test("pins-ohms").Reads { // 40 to 60 Ω twice side by side
		if b.Healthy && (b.Low == nil || *b.Low != 20 || b.High == nil || *b.High != 30) {
			t.Errorf("two heaters side by side are as rated at %s", b.Text)
		}
	}
}

// The second of two outputs brings its tests under its own name, and its faults
// read those.
func TestTwoOutputs(t *testing.T) {
	d, _, err := Picked{Blocks: "plug switch [ usb=lead | round=lead ]", Class: "II"}.Expand(bench(), noComputing)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range d.Causes {
		switch c.Block {
		case "usb":
			if got, _ := c.Likeliest("out-no-load"); got != "nothing" {
				t.Errorf("the first output's fault reads %q at its own plug", got)
			}
		case "round":
			if got, _ := c.Likeliest("round-out-no-load"); got != "nothing" {
				t.Errorf("the second output's fault reads %q at its own plug", got)
			}
			if got, ok := c.Likeliest("out-no-load"); ok && got != "as-rated" {
				t.Errorf("the second output's fault reads %q at the first's plug", got)
			}
		}
	}
}

// What an entry was seen is shared among its faults by their weights.
func TestSeenIsShared(t *testing.T) {
	for _, c := range []struct {
		seen  Tree
		cases []float64 // of burnt and loose, weights 4 and 1
		share []float64
	}{
		{Text("10"), []float64{8, 2}, []float64{0, 0}},
		{Text("1"), []float64{1, 1}, []float64{0, 0}}, // at least one each
		{m("share", "0.5"), []float64{8, 2}, []float64{.4, .1}},
	} {
		note := m("title", "Warmer", "class", "I", "blocks", l(m("plug", "plug"), m("switch", m("is", "switch", "seen", c.seen)), m("a", "heater")),
			"symptoms", m("dead", m("says", "Nothing happens", "is", "dead")))
		x := Expand(Plan{Name: "warmer", Note: note}, bench(), noComputing)
		for _, r := range x.Remarks {
			if r.Mistake {
				t.Fatal(r.Says)
			}
		}
		d, err := x.Device("warmer", noComputing)
		if err != nil {
			t.Fatal(err)
		}
		for i, end := range []string{"burnt", "loose"} {
			for _, cause := range d.Causes {
				if !strings.HasSuffix(string(cause.ID), end) {
					continue
				}
				want := c.cases[i]
				if c.share[i] > 0 {
					want = 20 * c.share[i] // all the device's shares are within 1
				}
				if cause.Share != c.share[i] || cause.Seen < want-1e-9 || cause.Seen > want+1e-9 {
					t.Errorf("%s of %v: share %v, cases %v; wanted %v and %v", end, c.seen, cause.Share, cause.Seen, c.share[i], want)
				}
			}
		}
	}
	for _, wrong := range []Tree{Text("many"), Text("-1"), Text("NaN"), m("share", "59"), m("share", ".1", "cases", "2"), m("part", ".1"), l("1"), {}} {
		if _, _, ok := metOften(wrong); ok {
			t.Errorf("%v is taken for how often something was seen", wrong)
		}
	}
}

// Whatever is picked either is a device whose trace can begin, or is refused in a
// sentence; both are the same each time.
func FuzzPicked(f *testing.F) {
	for _, s := range []string{"plug switch heater", "plug [ a=heater | b=heater ]", "plug [ [ heater | lead ] | switch ]", "[|]", "plug=plug=plug", "plug heater heater heater"} {
		f.Add(s, "I", "plug")
	}
	lib := bench()
	f.Fuzz(func(t *testing.T, chain, class, has string) {
		if len(chain) > 400 {
			return
		}
		p := Picked{Title: chain, Blocks: chain, Class: class, Has: strings.Fields(has), Shows: strings.Fields(has), Plate: map[string]string{"mains": class}}
		d, _, err := p.Expand(lib, noComputing)
		again, _, twice := p.Expand(lib, noComputing)
		if (err == nil) != (twice == nil) {
			t.Fatal("refused once, taken once")
		}
		if err != nil {
			if err.Error() == "" || strings.Contains(err.Error(), "\n") || err.Error() != twice.Error() {
				t.Fatalf("no one sentence: %q, then %q", err, twice)
			}
			return
		}
		if len(d.Causes) != len(again.Causes) || len(d.Tests) != len(again.Tests) {
			t.Fatal("two devices of one chain")
		}
		for _, c := range d.Causes {
			for id, reads := range c.Reads {
				test := d.Test(id)
				for _, r := range reads {
					if test == nil || !slices.ContainsFunc(test.Reads, func(b trace.Band) bool { return b.ID == r.Reading }) {
						t.Fatalf("%s reads %s on %s, which has no such reading", c.ID, r.Reading, id)
					}
				}
			}
		}
		if _, err := trace.Next(d, trace.Evidence{}); err != nil {
			t.Fatal(err)
		}
	})
}

// What a block's test comes after is told by the short names of its note, and
// what the device has not comes before nothing.
func TestAfterOwnTest(t *testing.T) {
	lib := bench()
	lib.Kinds["cell"] = &Kind{Name: "cell", Note: m("title", "Cell", "carries", "current", "source", "battery", "ohms", "unseen", "tests",
		m("look", m("ask", "Is it swollen?", "minutes", "1", "reads", l("swollen", healthyBand("whole"))),
			"charge", m("after", l("look", "insulation"), "power", "low-voltage", "ask", "Does it charge?", "minutes", "2", "reads", l("none", healthyBand("charges")))))}
	d, _, err := Picked{Blocks: "battery=cell switch heater", Class: "III"}.Expand(lib, noComputing)
	if err != nil {
		t.Fatal(err)
	}
	if got := d.Test("battery-charge").After; !slices.Equal(got, []trace.TestID{"battery-look"}) {
		t.Errorf("it is charged after %v, wanted battery-look alone", got)
	}
}
