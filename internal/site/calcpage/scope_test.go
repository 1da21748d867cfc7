package calcpage

import (
	"os"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/all"
	"faultleaf/calc/safety"
	"faultleaf/calc/sources"
	"faultleaf/internal/note"
)

// judged is what kinds of device, as documents part them, stand behind the
// choices of a room that judges devices.
var judged = map[string]struct {
	input string
	kinds map[string]string
}{
	"leakage":      {"device", map[string]string{"portable": "appliance", "motor": "appliance", "heating": "appliance", "tool": "tool", "lamp": "luminaire", "it": "it"}},
	"winding-rise": {"machine", map[string]string{"appliance": "appliance", "rotating": "motor", "dry-type": "transformer", "small-transformer": "transformer"}},
}

// rests is what a verdict of winding-rise rests on, by the kind of machine.
var rests = map[string]string{"appliance": "iec-60335-1", "rotating": "iec-60034-1", "dry-type": "iec-60076-11", "small-transformer": "iec-61558-1"}

// No rule gives a verdict on a device outside the scope of its document, and a
// rule that is no longer in force decides nothing by itself.
func TestScope(t *testing.T) {
	for name, j := range judged {
		c, ok := all.Find(name)
		if !ok {
			t.Fatalf("there is no %s", name)
		}
		d, _ := c.Input(j.input)
		if d == nil || len(d.Choices) != len(j.kinds) {
			t.Fatalf("%s: the kinds of %s are not those of this test", name, j.input)
		}
		for _, choice := range d.Choices {
			kind := j.kinds[choice.Name]
			if kind == "" {
				t.Fatalf("%s: %s is no kind that documents part", name, choice.Name)
			}
			if id := rests[choice.Name]; name == "winding-rise" {
				if s, ok := sources.Find(id); !ok || !s.Covers(kind) || !s.InForce() {
					t.Errorf("%s: %s judges %s", name, id, kind)
				}
				continue
			}
			judges := 0
			every(c, []string{"path", "class"}, func(set []calc.Setting) {
				set = append(set, calc.Setting{Name: j.input, Value: choice.Name}, calc.Setting{Name: "reading", Value: "0.1 mA"})
				r, err := c.Run(set)
				if err != nil {
					return // no rule, or no such path
				}
				for rule, s := range safety.Sets {
					o, ok := r.Output(rule)
					if _, limits := c.Output("limit-" + rule); !limits || !ok || o.Text == "" {
						continue
					}
					judges++
					if doc, _ := sources.Find(s.Source); !doc.Covers(kind) {
						t.Errorf("%s: %s judges %s (%v)", name, doc.Name, kind, set)
					}
				}
				if where, _ := r.Output("regions"); where.Text == "" {
					t.Errorf("%s says not where its rules are in use", name)
				}
			})
			if judges == 0 {
				t.Errorf("nothing judges %s", choice.Name)
			}
		}
	}
}

// every runs through all choices of some inputs.
func every(c *calc.Calculator, inputs []string, do func([]calc.Setting)) {
	if len(inputs) == 0 {
		do(nil)
		return
	}
	d, _ := c.Input(inputs[0])
	for _, choice := range d.Choices {
		every(c, inputs[1:], func(set []calc.Setting) {
			do(append([]calc.Setting{{Name: inputs[0], Value: choice.Name}}, set...))
		})
	}
}

// Every room that judges by rules says where they are in use, for every choice
// that gives a limit, and no rule that has ended is the strictest.
func TestRulesSayWhere(t *testing.T) {
	for _, c := range all.Calculators {
		rule, ok := c.Input("rule")
		if c.Shelf != "safety" || !ok {
			continue
		}
		if _, ok := c.Output("regions"); !ok {
			t.Errorf("%s says not where its rules are in use", c.Name)
		}
		for _, choice := range rule.Choices {
			if _, ok := safety.Sets[choice.Name]; !ok && choice.Name != safety.Strictest {
				t.Errorf("%s: the rule %s rests on no document", c.Name, choice.Name)
			}
		}
	}
}

// The notes of the starter shop say what each device is judged as, and quote no
// rule's figure that speaks of another kind of device.
func TestNotesKeepToScope(t *testing.T) {
	set, mistakes, _ := note.Load(os.DirFS("../../.."), all.Find)
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	kinds := map[string]string{}
	check := func(kind string, d *note.Document) {
		for _, n := range d.Numbers {
			c, ok := all.Find(n.Link.Calculator)
			if !ok || c.Shelf != "safety" {
				continue
			}
			rules := []string{strings.TrimPrefix(n.Link.Output, "limit-")}
			for _, in := range n.Link.Inputs {
				if in.Name == "rule" {
					rules = append(rules, in.Value)
				}
			}
			for _, rule := range rules {
				s, ok := safety.Sets[rule]
				if !ok {
					continue
				}
				if doc, _ := sources.Find(s.Source); !doc.Covers(kind) {
					t.Errorf("%s quotes %s, which gives no verdict on %s", d.File, doc.Name, kind)
				}
			}
		}
	}
	for _, d := range set.Devices {
		if d.JudgedAs == "" {
			t.Errorf("%s says not what it is judged as", d.File)
		}
		kinds[d.Name] = d.JudgedAs
		check(d.JudgedAs, &d.Document)
	}
	for _, f := range set.Faults {
		check(kinds[f.Device], &f.Document)
	}
}
