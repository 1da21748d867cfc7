// Package calctest tests a calculator's room: its description, its worked
// example, published cases in testdata/cases.txt, and the properties that every
// computation must have. Tests import it; nothing else does.
package calctest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
	"faultleaf/calc/sources"
)

// Run checks the description, the names in the room's source, the example, testdata/cases.txt and 300 random
// inputs of the calculator.
func Run(t *testing.T, c *calc.Calculator) {
	t.Helper()
	if err := c.Validate(); err != nil {
		t.Error(err)
	}
	t.Run("names", func(t *testing.T) {
		files, err := filepath.Glob("*.go")
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			for _, w := range Names(c, f, text) {
				t.Error(w)
			}
		}
	})
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
	t.Run("readings", func(t *testing.T) { readings(t, c) })
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
		if good < 75 {
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
			if d.Reading && rnd.IntN(12) == 0 {
				shown := Shown(&d)
				set = append(set, calc.Setting{Name: d.Name, Value: shown[rnd.IntN(len(shown))]})
				continue
			}
			if d.Row || d.Kind == quantity.Count && d.Default != "" && rnd.IntN(2) == 0 {
				set = append(set, calc.Setting{Name: d.Name, Value: d.Default})
				continue
			}
			text := d.Default
			if text == "" {
				text = d.Like
			}
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

// Shown are things other than a figure that a meter may show for an input that
// is a reading, and that its kind allows.
func Shown(d *calc.Input) []string {
	var out []string
	for _, text := range []string{"OL", "1 .", "∞", "open", "beep", "no beep", "> 1 " + d.Kind.Unit(), "< 0.5 " + d.Kind.Unit(), "> 200 M" + d.Kind.Unit(), "OL on 200 " + d.Kind.Unit()} {
		if _, err := reading.Parse(d.Kind, text, d.Meter); err == nil {
			out = append(out, text)
		}
	}
	return out
}

// readings plays everything that a meter may show in place of a figure: a result
// or a sentence about an input, and the sentence names the limit that the reading
// proves.
func readings(t *testing.T, c *calc.Calculator) {
	for i := range c.Inputs {
		d := &c.Inputs[i]
		if !d.Reading {
			continue
		}
		for _, text := range Shown(d) {
			r, err := c.Run([]calc.Setting{{Name: d.Name, Value: text}})
			if err != nil {
				if bad, ok := err.(*calc.InputError); !ok || bad.Says == "" {
					t.Errorf("%s=%s: %v is no sentence about an input", d.Name, text, err)
				}
				continue
			}
			for _, o := range r.Outputs {
				if o.Text == "" || o.Value.Kind != "" && !o.Value.Finite() {
					t.Errorf("%s=%s: output %s is %v, %q", d.Name, text, o.Name, o.Value, o.Text)
				}
			}
		}
	}
}

// Checked is what came of a file of cases.
type Checked struct {
	Cases   int
	Checks  int            // amounts, words and refusals that agreed
	Counts  map[string]int // the same by what they rest on: see sources.Citation.Counts
	Sources []string       // citations as written, each once, in their order
	Wrong   []string       // sentences
}

// Check runs the cases of a room, one case a paragraph:
//
//	# RECT-001
//	ac = 12 V
//	capacitor = 2200 µF
//	mean -> 13.232 V ± 1 %
//	verdict -> not-equal
//	source: ngspice case B1
//	note: free text
//
// A line "error: input" says that this input must be refused. Every case needs
// a source, cited as calc/sources says: the id of a document on its list, then
// the place in it. Further lines "source:" name further documents; what the case
// counts as goes by the first.
func Check(c *calc.Calculator, text string) Checked {
	var out Checked
	out.Counts = map[string]int{}
	var name, refused string
	var cited []string
	var in, want []calc.Setting
	wrong := func(says string) { out.Wrong = append(out.Wrong, "case "+name+": "+says) }
	seen := map[string]bool{}
	check := func() {
		defer func() { name, refused, cited, in, want = "", "", nil, nil, nil }()
		if len(in) == 0 && len(want) == 0 {
			return
		}
		out.Cases++
		if len(cited) == 0 {
			wrong("names no source")
		}
		counts := ""
		for _, source := range cited {
			if !seen[source] {
				seen[source] = true
				out.Sources = append(out.Sources, source)
			}
			c, err := sources.Cite(source)
			if err == nil && (c.ID == sources.Own || c.ID == sources.Memory) && c.Place+c.Remark == "" {
				wrong(c.ID + " alone says nothing; add what was computed, like \"own V²/R\", or what is remembered")
			}
			if err != nil {
				wrong(err.Error())
			} else if counts == "" {
				counts = c.Counts()
			}
		}
		r, err := c.Run(in)
		if refused != "" {
			if bad, ok := err.(*calc.InputError); !ok || bad.Input != refused {
				wrong(fmt.Sprintf("want input %s refused, got %v", refused, err))
				return
			}
			out.Checks++
			out.Counts[counts]++
			return
		}
		if err != nil {
			wrong(err.Error())
			return
		}
		if len(want) == 0 {
			wrong("expects nothing")
		}
		for _, w := range want {
			if says := compare(r, w); says != "" {
				wrong(says)
				continue
			}
			out.Checks++
			out.Counts[counts]++
		}
	}
	for _, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		switch {
		case line == "":
			check()
		case strings.HasPrefix(line, "#"):
			if name == "" {
				name = strings.TrimSpace(strings.TrimPrefix(line, "#"))
			}
		case strings.HasPrefix(line, "source:"):
			cited = append(cited, strings.TrimSpace(strings.TrimPrefix(line, "source:")))
		case strings.HasPrefix(line, "note:"):
		case strings.HasPrefix(line, "error:"):
			refused = strings.TrimSpace(strings.TrimPrefix(line, "error:"))
		case strings.Contains(line, "->"):
			n, v, _ := strings.Cut(line, "->")
			want = append(want, calc.Setting{Name: strings.TrimSpace(n), Value: strings.TrimSpace(v)})
		default:
			n, v, ok := strings.Cut(line, "=")
			if !ok {
				wrong("cannot read " + line)
			}
			in = append(in, calc.Setting{Name: strings.TrimSpace(n), Value: strings.TrimSpace(v)})
		}
	}
	check()
	return out
}

func cases(t *testing.T, c *calc.Calculator) {
	text, err := os.ReadFile("testdata/cases.txt")
	if err != nil {
		t.Fatal(err)
	}
	got := Check(c, string(text))
	for _, w := range got.Wrong {
		t.Error(w)
	}
	if got.Cases == 0 {
		t.Error("testdata/cases.txt holds no case")
	}
}

// compare says in what an output differs, "" for nothing: an amount with a
// tolerance must lie inside it; a range such as "24–26 Ω" without tolerance must
// agree as printed digits (a claim); a plain amount must agree at its last
// digit; a word must be equal.
func compare(r calc.Result, w calc.Setting) string {
	got, ok := r.Output(w.Name)
	if !ok {
		return "no output " + w.Name
	}
	if got.Value.Kind == "" {
		if got.Word != w.Value && got.Text != w.Value {
			return fmt.Sprintf("%s is %q (%s), want %q", w.Name, got.Word, got.Text, w.Value)
		}
		return ""
	}
	if strings.Contains(w.Value, "±") {
		v, err := quantity.Parse(got.Value.Kind, w.Value)
		if err != nil {
			return err.Error()
		}
		if got.Value.Num < v.Low || got.Value.Num > v.High {
			return fmt.Sprintf("%s is %s, want %s", w.Name, got.Text, w.Value)
		}
		return ""
	}
	claim, err := quantity.ParseClaim(got.Value.Kind, w.Value)
	if err != nil {
		return err.Error()
	}
	if ok, computed := claim.Check(got.Value); !ok {
		return fmt.Sprintf("%s is %s, want %s", w.Name, computed, w.Value)
	}
	return ""
}
