package all

import (
	"errors"

	"faultleaf/calc"
)

// Compute runs a link with the defaults of no shop.
func Compute(l calc.Link) (calc.Computed, error) { return Calculators.Compute(l) }

// Compute runs a link whose inputs are filled in and gives its output.
func (list List) Compute(l calc.Link) (calc.Computed, error) {
	c, ok := list.Find(l.Calculator)
	if !ok {
		return calc.Computed{}, errors.New("there is no calculator “" + l.Calculator + "”")
	}
	r, err := c.Run(l.Inputs)
	if err != nil {
		return calc.Computed{}, err
	}
	got, ok := r.Output(l.Output)
	if !ok {
		return calc.Computed{}, errors.New(l.Calculator + " gives no “" + l.Output + "” for these inputs")
	}
	return got, nil
}
