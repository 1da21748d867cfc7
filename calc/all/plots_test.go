package all

import (
	"testing"

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
