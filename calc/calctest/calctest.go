// Package calctest tests a calculator's room: its description, its worked
// example, published cases in testdata/cases.txt, and the properties that every
// computation must have. Tests import it; nothing else does.
package calctest

import (
	"bufio"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

// Run checks the description, the example, testdata/cases.txt and 300 random
// inputs of the calculator.
func Run(t *testing.T, c *calc.Calculator) {
	t.Helper()
	if err := c.Validate(); err != nil {
		t.Error(err)
	}
	t.Run("example", func(t *testing.T) {
		r, err := c.Run(c.Example.Inputs)
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range c.Example.Prints {
			if got, ok := r.Output(want.Name); !ok || got.Text != want.Value {
				t.Errorf("%s prints %q, the example says %q", want.Name, got.Text, want.Value)
			}
		}
	})
	t.Run("cases", func(t *testing.T) { cases(t, c) })
	t.Run("random", func(t *testing.T) {
		good := 0
		for _, in := range Random(c, 300, 1) {
			r, err := c.Run(in)
			if err != nil {
				if bad, ok := err.(*calc.InputError); !ok || bad.Says == "" {
					t.Fatalf("%v: %v is no sentence about an input", in, err)
				}
				continue
			}
			good++
			for _, o := range r.Outputs {
				if o.Text == "" || o.Value.Kind != "" && !o.Value.Finite() {
					t.Fatalf("%v: output %s is %v, %q", in, o.Name, o.Value, o.Text)
				}
			}
		}
		if good < 100 {
			t.Errorf("only %d of 300 random inputs gave a result", good)
		}
	})
}

// Random makes n sets of possible inputs, the same for the same seed. Amounts
// lie within a factor of four around the default (and the input's bounds).
func Random(c *calc.Calculator, n int, seed uint64) [][]calc.Setting {
	rnd := rand.New(rand.NewPCG(seed, 7))
	var sets [][]calc.Setting
	for range n {
		var set []calc.Setting
		for _, d := range c.Inputs {
			if d.Optional && d.Default == "" && rnd.IntN(3) > 0 {
				continue
			}
			if len(d.Choices) > 0 {
				set = append(set, calc.Setting{Name: d.Name, Value: d.Choices[rnd.IntN(len(d.Choices))].Name})
				continue
			}
			if len(d.Text) > 0 {
				set = append(set, calc.Setting{Name: d.Name, Value: d.Text[rnd.IntN(len(d.Text))]})
				continue
			}
			text := d.Default
			if text == "" {
				text = d.Low
			}
			v, err := quantity.Parse(d.Kind, text)
			if err != nil {
				if v, err = quantity.ParseAny(append([]quantity.Kind{d.Kind}, d.Or...), text); err != nil {
					continue
				}
			}
			x := v.Num * math.Exp2(4*rnd.Float64()-2)
			if v.Kind == quantity.Percent || v.Kind == quantity.Temperature {
				x = v.Num * (0.5 + rnd.Float64())
			}
			if v.Kind == d.Kind {
				if d.Low != "" {
					if l, err := quantity.Parse(d.Kind, d.Low); err == nil {
						x = math.Max(x, l.Num)
					}
				}
				if d.High != "" {
					if h, err := quantity.Parse(d.Kind, d.High); err == nil {
						x = math.Min(x, h.Num)
					}
				}
			}
			// written in the base unit, so that reading it back is exact
			unit := v.Kind.Unit()
			if v.Kind == quantity.Percent {
				x, unit = x*100, "%"
			}
			if v.Kind == quantity.Area {
				x, unit = x*1e6, "mm²"
			}
			set = append(set, calc.Setting{Name: d.Name, Value: quantity.Number(x) + " " + unit})
		}
		sets = append(sets, set)
	}
	return sets
}

// cases reads testdata/cases.txt, one case a paragraph:
//
//	# RECT-001
//	ac = 12 V
//	capacitor = 2200 µF
//	mean -> 13.232 V ± 1 %
//	verdict -> not-equal
//	source: ngspice 39, case B1
//	note: free text
//
// A line "error: input" says that this input must be refused. Every case needs
// a source.
func cases(t *testing.T, c *calc.Calculator) {
	f, err := os.Open("testdata/cases.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var name, source, refused string
	var in []calc.Setting
	var want []calc.Setting
	count := 0
	check := func() {
		defer func() { name, source, refused, in, want = "", "", "", nil, nil }()
		if len(in) == 0 && len(want) == 0 {
			return
		}
		count++
		if source == "" {
			t.Errorf("case %s names no source", name)
		}
		r, err := c.Run(in)
		if refused != "" {
			bad, ok := err.(*calc.InputError)
			if !ok || bad.Input != refused {
				t.Errorf("case %s: want input %s refused, got %v", name, refused, err)
			}
			return
		}
		if err != nil {
			t.Errorf("case %s: %v", name, err)
			return
		}
		if len(want) == 0 {
			t.Errorf("case %s expects nothing", name)
		}
		for _, w := range want {
			compare(t, name, c, r, w)
		}
	}
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		line := strings.TrimSpace(lines.Text())
		switch {
		case line == "":
			check()
		case strings.HasPrefix(line, "#"):
			if name == "" {
				name = strings.TrimSpace(strings.TrimPrefix(line, "#"))
			}
		case strings.HasPrefix(line, "source:"):
			source = strings.TrimSpace(strings.TrimPrefix(line, "source:"))
		case strings.HasPrefix(line, "note:"):
		case strings.HasPrefix(line, "error:"):
			refused = strings.TrimSpace(strings.TrimPrefix(line, "error:"))
		case strings.Contains(line, "->"):
			n, v, _ := strings.Cut(line, "->")
			want = append(want, calc.Setting{Name: strings.TrimSpace(n), Value: strings.TrimSpace(v)})
		default:
			n, v, ok := strings.Cut(line, "=")
			if !ok {
				t.Errorf("case %s: cannot read %q", name, line)
			}
			in = append(in, calc.Setting{Name: strings.TrimSpace(n), Value: strings.TrimSpace(v)})
		}
	}
	check()
	if count == 0 {
		t.Error("testdata/cases.txt holds no case")
	}
}

// compare: an amount with a tolerance must lie inside it; a range such as
// "24–26 Ω" without tolerance must agree as printed digits (a claim); a plain
// amount must agree at its last digit; a word must be equal.
func compare(t *testing.T, name string, c *calc.Calculator, r calc.Result, w calc.Setting) {
	got, ok := r.Output(w.Name)
	if !ok {
		t.Errorf("case %s: no output %s", name, w.Name)
		return
	}
	if got.Value.Kind == "" {
		if got.Word != w.Value && got.Text != w.Value {
			t.Errorf("case %s: %s is %q (%s), want %q", name, w.Name, got.Word, got.Text, w.Value)
		}
		return
	}
	if strings.Contains(w.Value, "±") {
		v, err := quantity.Parse(got.Value.Kind, w.Value)
		if err != nil {
			t.Errorf("case %s: %v", name, err)
			return
		}
		if got.Value.Num < v.Low || got.Value.Num > v.High {
			t.Errorf("case %s: %s is %s, want %s", name, w.Name, got.Text, w.Value)
		}
		return
	}
	claim, err := quantity.ParseClaim(got.Value.Kind, w.Value)
	if err != nil {
		t.Errorf("case %s: %v", name, err)
		return
	}
	if ok, computed := claim.Check(got.Value); !ok {
		t.Errorf("case %s: %s is %s, want %s", name, w.Name, computed, w.Value)
	}
}
