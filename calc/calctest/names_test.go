package calctest

import (
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

func room(compute func(in calc.In, out *calc.Out) error) *calc.Calculator {
	return &calc.Calculator{Name: "room", Title: "Room", For: "A test.", Shelf: "test",
		Inputs: []calc.Input{{Name: "volts", Label: "Volts", Kind: quantity.Voltage, Default: "1 V"}, {Name: "sort", Label: "Sort", Default: "a", Choices: []calc.Choice{{Name: "a", Label: "A"}}},
			{Name: "reading", Label: "Reading", Kind: quantity.Voltage, Measured: true, Like: "2 V"}},
		Outputs: []calc.Output{{Name: "verdict", Label: "Verdict"}, {Name: "limit", Label: "Limit", Kind: quantity.Voltage}},
		Compute: compute}
}

// A name that does not exist is found in the source, also where it is never run.
func TestNames(t *testing.T) {
	source := `package room
func run(in calc.In, out *calc.Out) error {
	if in.Num("volts") < 0 { return calc.Bad("volt", "no") }
	_ = in.Num("sort")
	_ = in.Word("volts")
	_ = in.Has("amps")
	_ = in.With("ohms", 1)
	out.Set("verdict", 1)
	out.Say("limits", "a", "b")
	_ = out.Num("limit")
	out.Say("verdict", "a", "b")
	return nil
}`
	got := Names(room(nil), "room.go", []byte(source))
	for i, want := range []string{"room.go:3: volt ", "room.go:4: sort ", "room.go:5: volts ", "room.go:6: amps ", "room.go:7: ohms ", "room.go:8: verdict ", "room.go:9: limits "} {
		if i >= len(got) || !strings.HasPrefix(got[i], want) {
			t.Fatalf("want %q, got %q", want, got)
		}
	}
	if len(got) != 7 {
		t.Errorf("%q", got)
	}
}

// What the source hides is an error when it is run, never a zero.
func TestSlips(t *testing.T) {
	reading := calc.Setting{Name: "reading", Value: "2 V"}
	for name, compute := range map[string]func(in calc.In, out *calc.Out){
		"input":    func(in calc.In, out *calc.Out) { out.Set("limit", in.Num("no"+"thing")) },
		"has":      func(in calc.In, out *calc.Out) { in.Has("no" + "thing") },
		"as word":  func(in calc.In, out *calc.Out) { _ = in.Word("vol" + "ts") },
		"as num":   func(in calc.In, out *calc.Out) { _ = in.Num("so" + "rt") },
		"with":     func(in calc.In, out *calc.Out) { in.With("no"+"thing", 1) },
		"output":   func(in calc.In, out *calc.Out) { out.Set("no"+"thing", 1) },
		"say":      func(in calc.In, out *calc.Out) { out.Say("lim"+"it", "a", "b") },
		"too soon": func(in calc.In, out *calc.Out) { _ = out.Num("limit") },
	} {
		_, err := room(func(in calc.In, out *calc.Out) error { compute(in, out); return nil }).Run([]calc.Setting{reading})
		if _, ok := err.(*calc.Slip); !ok {
			t.Errorf("%s: %v", name, err)
		}
	}
	// a complaint of an input that is none, and a reading used before it was taken
	if _, err := room(func(in calc.In, out *calc.Out) error { return calc.Bad("no"+"thing", "no") }).Run(nil); err == nil || !strings.Contains(err.Error(), "mistake in faultleaf") {
		t.Error(err)
	}
	if _, err := room(func(in calc.In, out *calc.Out) error { out.Set("limit", in.Num("reading")); return nil }).Run(nil); err == nil || !strings.Contains(err.Error(), "before it was measured") {
		t.Error(err)
	}
}

// Limits are given without a reading; a verdict asks for it; an empty one is an error.
func TestReadingIsAsked(t *testing.T) {
	c := room(func(in calc.In, out *calc.Out) error {
		out.Set("limit", in.Num("volts"))
		if in.Has("reading") {
			out.Say("verdict", "passes", "Passes.")
		}
		return nil
	})
	for _, set := range [][]calc.Setting{nil, {{Name: "volts", Value: "3 V"}}} {
		r, err := c.Run(set)
		if err != nil {
			t.Fatal(err)
		}
		v, _ := r.Output("verdict")
		if v.Word != calc.Asks || !strings.Contains(v.Text, "reading") || r.Example != (set == nil) {
			t.Errorf("%v: %+v", set, v)
		}
		if l, ok := r.Output("limit"); !ok || l.Text == "" {
			t.Errorf("%v: no limit", set)
		}
	}
	for _, name := range []string{"reading", "volts", "sort"} {
		_, err := c.Run([]calc.Setting{{Name: name, Value: " "}})
		if bad, ok := err.(*calc.InputError); !ok || bad.Input != name || !strings.Contains(bad.Says, "left empty") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if r, err := c.Run([]calc.Setting{{Name: "reading", Value: "2 V"}}); err != nil || r.Outputs[0].Word != "passes" {
		t.Errorf("%v %v", r.Outputs, err)
	}
}

// The calculator's own example carries no verdict.
func TestExampleIsNotJudged(t *testing.T) {
	c := room(func(in calc.In, out *calc.Out) error { out.Say("verdict", "passes", "Passes."); return nil })
	c.Inputs = c.Inputs[:2]
	if r, err := c.Run(nil); err != nil || r.Outputs[0].Word != calc.Asks || !strings.Contains(r.Outputs[0].Text, "example") {
		t.Errorf("%v %v", r.Outputs, err)
	}
	if r, err := c.Run([]calc.Setting{{Name: "volts", Value: "1 V"}}); err != nil || r.Outputs[0].Word != "passes" {
		t.Errorf("%v %v", r.Outputs, err)
	}
}
