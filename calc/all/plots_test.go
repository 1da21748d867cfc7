package all

import (
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/draw/drawtest"
)

// No name on a plot lies on a curve, on another name or outside: of every
// calculator, for its defaults and for its example.
func TestPlotsAreLegible(t *testing.T) {
	plots := 0
	for _, c := range Calculators {
		for _, inputs := range [][]string{{"defaults"}, {"example"}} {
			settings := c.Example.Inputs
			if inputs[0] == "defaults" {
				settings = nil
			}
			r, err := c.Run(settings)
			if err != nil {
				t.Errorf("%s: %v", c.Name, err)
				continue
			}
			for _, p := range c.Plots {
				svg, err := c.Draw(p, r.In())
				if err != nil {
					continue // nothing is drawn while a reading is missing
				}
				plots++
				for _, fault := range drawtest.Faults(svg) {
					t.Errorf("%s, plot %s with its %s: %s", c.Name, p.Name, inputs[0], fault)
				}
			}
		}
	}
	if plots < 40 {
		t.Errorf("only %d plots are drawn", plots)
	}
}

// Every circuit is legible, for every choice; its places are inputs, and what it
// shows is an output.
func TestCircuitsAreLegible(t *testing.T) {
	circuits := 0
	for _, c := range Calculators {
		if c.Circuit == nil {
			continue
		}
		circuits++
		cases := [][]calc.Setting{nil, c.Example.Inputs}
		for _, in := range c.Inputs {
			for _, choice := range in.Choices {
				cases = append(cases, []calc.Setting{{Name: in.Name, Value: choice.Name}})
			}
		}
		places := c.Places()
		bears := map[string]bool{}
		for _, settings := range cases {
			r, err := c.Run(settings)
			if err != nil {
				continue // a choice that needs more
			}
			ladder := c.Circuit(r.In())
			for _, name := range ladder.Inputs() {
				bears[name] = true
				if places[name] == 0 {
					t.Errorf("%s: the place of %q has no number", c.Name, name)
				}
			}
			for _, p := range ladder {
				if p.Shows != "" {
					if o, ok := c.Output(p.Shows); !ok || o.Kind == "" {
						t.Errorf("%s: the circuit shows %q, which is no amount that it gives", c.Name, p.Shows)
					}
				}
			}
			for _, fault := range drawtest.Faults(r.DrawCircuit()) {
				t.Errorf("%s with %v: %s", c.Name, settings, fault)
			}
		}
		for name := range places {
			if !bears[name] {
				t.Errorf("%s: %q has a number and no place", c.Name, name)
			}
		}
	}
	if circuits < 30 {
		t.Errorf("only %d calculators draw their circuit", circuits)
	}
}
