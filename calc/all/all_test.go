package all

import "testing"

// Every way from one calculator to the next leads to an input that takes the amount.
func TestOnward(t *testing.T) {
	names := map[string]bool{}
	for _, c := range Calculators {
		if names[c.Name] {
			t.Errorf("%s stands twice on the list", c.Name)
		}
		names[c.Name] = true
		for _, o := range c.Onward {
			next, ok := Find(o.Calculator)
			if !ok {
				t.Errorf("%s leads on to %s, which does not exist", c.Name, o.Calculator)
				continue
			}
			for _, take := range o.Takes {
				to, ok := next.Input(take.To)
				if !ok {
					t.Errorf("%s leads on to input %s of %s, which does not exist", c.Name, take.To, next.Name)
					continue
				}
				kind := ""
				if out, ok := c.Output(take.From); ok {
					kind = string(out.Kind)
				} else if in, ok := c.Input(take.From); ok {
					kind = string(in.Kind)
				} else {
					t.Errorf("%s hands on %s, which it has not", c.Name, take.From)
					continue
				}
				takes := string(to.Kind) == kind
				for _, or := range to.Or {
					takes = takes || string(or) == kind
				}
				if !takes {
					t.Errorf("%s hands %s on to %s of %s, which takes another kind", c.Name, take.From, take.To, next.Name)
				}
			}
		}
	}
}

// Every calculator on the list is complete.
func TestComplete(t *testing.T) {
	for _, c := range Calculators {
		if err := c.Validate(); err != nil {
			t.Error(err)
		}
	}
}
