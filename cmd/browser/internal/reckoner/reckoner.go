// Package reckoner answers what a page asks of the calculators, and what rests on them:
// the bands of a rating plate, proofs, the job sheet, devices made of common blocks.
package reckoner

import (
	"faultleaf/calc"
	"faultleaf/calc/all"
	"faultleaf/calc/quantity"
	"faultleaf/cmd/browser/internal/door"
)

// Reckoner holds the shop's values, and what devices can be made of.
type Reckoner struct {
	shop  all.List // the calculators with the shop's values; empty until Shop
	style quantity.Style
	made  making
}

type calcQuestion struct {
	Name   string      `json:"name"`
	Inputs [][2]string `json:"inputs"`
	Plots  bool        `json:"plots"`
}

type calcAnswer struct {
	Outputs []calcOutput `json:"outputs"`
	Notes   []string     `json:"notes,omitempty"`
	Plots   []calcPlot   `json:"plots,omitempty"`
	Link    string       `json:"link"`
	Onward  []calcWay    `json:"onward,omitempty"`
}

// calcWay leads on to another calculator with inputs filled in.
type calcWay struct {
	Name   string      `json:"name"`
	Inputs [][2]string `json:"inputs"`
}

type calcOutput struct {
	Name string `json:"name"`
	Text string `json:"text"`
	Word string `json:"word,omitempty"`
}

type calcPlot struct {
	Name string `json:"name"`
	SVG  string `json:"svg"`
}

// Shop is told what the calculators take from the shop, before any other question.
func (k *Reckoner) Shop(question string) string {
	var s calc.Shop
	if err := door.Read(question, &s); err != nil {
		return door.Fail(err)
	}
	k.shop, k.style = all.At(s), s.Style
	return door.Done
}

// calculators are the shop's.
func (k *Reckoner) calculators() all.List {
	if len(k.shop) == 0 {
		return all.Calculators
	}
	return k.shop
}

// Calc computes one calculator.
func (k *Reckoner) Calc(question string) string {
	var q calcQuestion
	if err := door.Read(question, &q); err != nil {
		return door.Fail(err)
	}
	c, ok := k.calculators().Find(q.Name)
	if !ok {
		return door.Fail(&calc.InputError{Says: "there is no calculator " + q.Name})
	}
	link := calc.Link{Calculator: c.Name}
	var settings []calc.Setting
	for _, in := range q.Inputs {
		s := calc.Setting{Name: in[0], Value: in[1]}
		settings = append(settings, s)
		if def, ok := c.Input(s.Name); ok && def.Default != s.Value {
			link.Inputs = append(link.Inputs, s)
		}
	}
	r, err := c.Run(settings)
	if err != nil {
		return door.Fail(err)
	}
	a := calcAnswer{Notes: r.Notes, Link: link.String()}
	for _, o := range r.Outputs {
		a.Outputs = append(a.Outputs, calcOutput{o.Name, o.Text, o.Word})
	}
	for _, l := range r.Onward() {
		w := calcWay{Name: l.Calculator, Inputs: [][2]string{}}
		for _, in := range l.Inputs {
			w.Inputs = append(w.Inputs, [2]string{in.Name, in.Value})
		}
		a.Onward = append(a.Onward, w)
	}
	if q.Plots {
		if svg := r.DrawCircuit(); svg != "" {
			a.Plots = append(a.Plots, calcPlot{calc.CircuitName, svg})
		}
		for _, p := range c.Plots {
			svg, err := c.Draw(p, r.In())
			if err != nil {
				continue // a picture that cannot be drawn takes no number away
			}
			a.Plots = append(a.Plots, calcPlot{p.Name, svg})
		}
	}
	return door.Write(a)
}
