package calc

import (
	"errors"
	"strings"

	"faultleaf/calc/quantity"
)

// Validate says what is missing or wrong in the description of a calculator,
// so that an unfinished room does not reach a page.
func (c *Calculator) Validate() error {
	var wrong []string
	need := func(ok bool, what string) {
		if !ok {
			wrong = append(wrong, what)
		}
	}
	need(plainName(c.Name), "the name is not lower-case letters, digits and hyphens")
	need(c.Title != "", "no title")
	need(c.For != "", "nothing says what it is for")
	need(c.Shelf != "", "no shelf")
	need(c.Compute != nil, "no function")
	need(len(c.Inputs) > 0 && len(c.Outputs) > 0, "no inputs or no outputs")
	t := ParseDoc(c.Doc)
	need(len(t.Method) > 0, "the package comment has no # Method")
	need(len(t.Holds) > 0, "the package comment has no # Where it holds")
	need(len(t.Misleads) > 0, "the package comment has no # Where it misleads")
	need(len(t.Sources) > 0, "the package comment has no # Sources")
	seen := map[string]bool{}
	for _, in := range c.Inputs {
		need(plainName(in.Name) && !seen["in "+in.Name], "input name "+in.Name)
		seen["in "+in.Name] = true
		need(in.Label != "", "no label for input "+in.Name)
		forms := 0
		for _, is := range []bool{in.Kind != "", len(in.Choices) > 0, len(in.Text) > 0} {
			if is {
				forms++
			}
		}
		need(forms == 1, "input "+in.Name+" is not just one of amount, choice and text")
		need(!(in.Reading || in.Row) || in.Kind != "", "input "+in.Name+" is a reading of no kind of amount")
		need(in.Default != "" || in.Optional || in.Measured, "no default for input "+in.Name)
		need(!in.Measured || in.Default == "" && (in.Like != "" || in.Optional || len(in.Text) > 0), "the reading "+in.Name+" has a default, or no example")
		for _, bound := range []string{in.Low, in.High, in.Like} {
			if in.Kind == "" {
				break
			}
			if bound != "" {
				_, err := quantity.Parse(in.Kind, bound)
				need(err == nil, "bound "+bound+" of input "+in.Name)
			}
		}
	}
	for _, o := range c.Outputs {
		need(plainName(o.Name) && !seen["out "+o.Name], "output name "+o.Name)
		seen["out "+o.Name] = true
		need(o.Label != "", "no label for output "+o.Name)
		need(o.Kind == "" || o.Kind.Known(), "kind of output "+o.Name)
	}
	for _, pair := range c.Pairs {
		for _, name := range pair {
			in, ok := c.Input(name)
			need(ok && in.Kind != "", "amount "+name+" of a pair")
		}
	}
	need(len(c.Example.Prints) > 0, "no worked example")
	if c.Circuit != nil {
		places := c.Places()
		need(len(places) > 0, "no input in the circuit")
		for name := range places {
			_, ok := c.Input(name)
			need(ok, "input "+name+" of the circuit")
		}
	}
	for _, p := range c.Plots {
		need(plainName(p.Name) && p.Title != "" && p.Says != "" && p.Chart != nil, "plot "+p.Name)
	}
	if len(wrong) == 0 {
		return nil
	}
	return errors.New(c.Name + ": " + strings.Join(wrong, "; "))
}
