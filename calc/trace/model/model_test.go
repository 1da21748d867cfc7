package model

import (
	"bytes"
	"errors"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"faultleaf/calc/trace/solve"
)

func load(t testing.TB, name string) []Case {
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	cases, err := Read(f)
	if err != nil {
		t.Fatal(err)
	}
	return cases
}

// Every case equals its recomputed optimum and starts with one of its optimal
// first actions.
func TestCases(t *testing.T) {
	for _, name := range []string{"faultfinding.json", "faultfinding_random.json"} {
		solved := 0
		for _, c := range load(t, name) {
			var lacks *Unsupported
			if errors.As(c.Err, &lacks) {
				t.Logf("%s: %v", c.ID, c.Err)
				continue
			}
			if c.Err != nil {
				t.Errorf("%s: %v", c.ID, c.Err)
				continue
			}
			p, err := solve.Solve(&c.Model, solve.Options{})
			if err != nil {
				t.Errorf("%s: %v", c.ID, err)
				continue
			}
			if math.Abs(p.ExpectedCost-c.Optimum) > 1e-9*c.Optimum || !p.Optimal || p.LowerBound != p.ExpectedCost {
				t.Errorf("%s: expected cost %v, optimum %v, lower bound %v, optimal %v", c.ID, p.ExpectedCost, c.Optimum, p.LowerBound, p.Optimal)
			}
			solved++
			if len(c.Firsts) > 0 && !slices.Contains(c.Firsts, c.Model.Name(p.First)) {
				t.Errorf("%s: first %s, optimal firsts %v", c.ID, c.Model.Name(p.First), c.Firsts)
			}
			t.Logf("%s: %v, %d states", c.ID, p.ExpectedCost, p.States)
		}
		if solved < 18 {
			t.Errorf("%s: only %d cases solved", name, solved)
		}
	}
}

// What cannot be used says so in a sentence, with the line where there is one.
func TestReadRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"{\n\"cases\": [\n{]}": "line 3",
		"[]":                   "form",
		"{}":                   "no cases",
		`{"cases":[{"causes":[{"prior":"1/0"}]}]}`:        "no number",
		`{"cases":[{"causes":[{"prior":"0x1p900000"}]}]}`: "no number",
	} {
		if _, err := Read(strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
	for text, want := range map[string]string{
		`{"goal":"prove"}`:                        "the goal prove",
		`{"goal":"fix","needs":["two_faults"]}`:   "two faults",
		`{"goal":"identify","generator":{"n":3}}`: "a generator",
	} {
		cases, err := Read(strings.NewReader(`{"cases":[` + text + `]}`))
		var lacks *Unsupported
		if err != nil || len(cases) != 1 || !errors.As(cases[0].Err, &lacks) || !strings.Contains(lacks.Error(), want) {
			t.Errorf("%s: %v %v, want %q", text, cases, err, want)
		}
	}
	for text, want := range map[string]string{
		`{"goal":"identify","causes":[{"name":"a","prior":1}],"tests":[{"name":"t","cost":1,"outcomes":"01"}]}`: "2 outcomes for 1 causes",
		`{"goal":"fix","causes":[{"name":"a","prior":1}],"repairs":[{"name":"r","cost":1,"fixes":["b"]}]}`:      "no cause",
		`{"goal":"identify","causes":[{"name":"a","prior":1}],"tests":[{"name":"t","cost":1,"outcomes":3}]}`:    "neither a string nor a list",
	} {
		cases, err := Read(strings.NewReader(`{"cases":[` + text + `]}`))
		if err != nil || len(cases) != 1 || cases[0].Err == nil || !strings.Contains(cases[0].Err.Error(), want) {
			t.Errorf("%s: %v %v, want %q", text, cases, err, want)
		}
	}
}

// A file ends in cases, each of which is solved or refused.
func FuzzRead(f *testing.F) {
	f.Add([]byte(`{"cases":[{"id":"x","goal":"fix","causes":[{"name":"a","prior":"8/23"},{"name":"b","prior":0.5,"class":"c"}],"access_groups":[{"name":"g","cost":2,"inside":""}],
		"tests":[{"name":"t","cost":1,"outcomes":["0",{"0":0.5,"1":"1/2"}],"access":["g"]}],"repairs":[{"name":"r","cost":"3/2","fixes":"all","after":["t"],"succeeds":0.9}]}]}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		cases, err := Read(bytes.NewReader(b))
		if err != nil {
			return
		}
		for _, c := range cases {
			if c.Err != nil {
				continue
			}
			if p, err := solve.Solve(&c.Model, solve.Options{Budget: 20}); err == nil && !(p.LowerBound <= p.ExpectedCost*(1+1e-9)) {
				t.Fatalf("%+v", p)
			}
		}
	})
}

func BenchmarkCases(b *testing.B) {
	for _, c := range load(b, "faultfinding_random.json") {
		if c.Err != nil || !c.Large {
			continue
		}
		b.Run(c.ID, func(b *testing.B) {
			for b.Loop() {
				if _, err := solve.Solve(&c.Model, solve.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
