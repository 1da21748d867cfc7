package calc

import (
	"sync"

	"faultleaf/calc/draw/schematic"
)

// CircuitName is what the drawn circuit is called among a calculator's drawings.
const CircuitName = "circuit"

// Places are the numbers of the inputs that the drawn circuit has places for, in
// the order of the form. A choice may change the circuit and never the numbers.
// Nobody may change what it gives.
func (c *Calculator) Places() map[string]int {
	if c.Circuit == nil {
		return nil
	}
	if c.places == nil {
		return c.placesOfAll()
	}
	c.places.once.Do(func() { c.places.of = c.placesOfAll() })
	return c.places.of
}

// placed are the places of a calculator as a shop has it: a page asks for them with every key.
type placed struct {
	once sync.Once
	of   map[string]int
}

// placesOfAll draws the circuit for every choice.
func (c *Calculator) placesOfAll() map[string]int {
	drawn := map[string]bool{}
	draw := func(settings []Setting) {
		if in, _, err := c.read(settings); err == nil {
			for _, name := range c.Circuit(in).Inputs() {
				drawn[name] = true
			}
		}
	}
	draw(nil)
	for _, in := range c.Inputs {
		for _, choice := range in.Choices {
			draw([]Setting{{in.Name, choice.Name}})
		}
	}
	places, n := map[string]int{}, 0
	for name := range drawn { // what is no input is found by Validate
		if _, ok := c.Input(name); !ok {
			places[name] = 0
		}
	}
	for _, folded := range []bool{false, true} { // as the form has them
		for _, in := range c.Inputs {
			if in.Folded == folded && drawn[in.Name] {
				n++
				places[in.Name] = n
			}
		}
	}
	return places
}

// DrawCircuit draws the circuit of a result, "" for a calculator that reckons with
// none.
func (r Result) DrawCircuit() string {
	c := r.Calculator
	if c.Circuit == nil {
		return ""
	}
	places := c.Places()
	return c.Circuit(r.in).SVG("plot-"+c.Name+"-"+CircuitName, schematic.Words{Title: c.Title,
		Number: func(input string) int { return places[input] },
		Label: func(input string) string {
			if in, ok := c.Input(input); ok {
				return in.Label
			}
			return ""
		},
		Printed: func(output string) string {
			if got, ok := r.Output(output); ok {
				return got.Text
			}
			return ""
		}})
}
