// Package door answers the questions of the page scripts. Every function takes
// JSON text and gives JSON text; an error is {"error": {"input", "says", "means"}}. It
// knows nothing of JavaScript, so the same answers are tested natively.
package door

import (
	"encoding/json"
	"errors"

	"faultleaf/calc"
	"faultleaf/calc/all"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
)

// Door holds what a page has opened: its device.
type Door struct {
	shop   all.List // the calculators with the shop's values; empty until Shop
	style  quantity.Style
	device *deviceOnPage
	made   making
	arm    func(clock float64) [2]string // the rule of minutes of the last advice; nil before one
}

type problem struct {
	Input string `json:"input,omitempty"`
	Says  string `json:"says"`
	// Means are the readings one of which was meant, where two fit.
	Means []string `json:"means,omitempty"`
}

func fail(err error) string {
	p := problem{Says: err.Error()}
	if bad, ok := err.(*calc.InputError); ok {
		p.Input, p.Means = bad.Input, bad.Means
	}
	if two := (*reading.Ambiguous)(nil); errors.As(err, &two) {
		p.Means = two.Means
	}
	return write(map[string]problem{"error": p})
}

func write(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		return `{"error":{"says":"the answer cannot be written"}}`
	}
	return string(b)
}

// read turns a question into v; what cannot be read is a slip of our own
// scripts, not of the reader.
func read(question string, v any) error {
	return json.Unmarshal([]byte(question), v)
}

// Safely runs one answer and turns a slip of ours into a sentence, so that a
// page stays usable.
func Safely(answer func() string) (text string) {
	defer func() {
		if recover() != nil {
			text = `{"error":{"says":"this could not be computed; that is a mistake in faultleaf, please report the inputs"}}`
		}
	}()
	return answer()
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
func (d *Door) Shop(question string) string {
	var s calc.Shop
	if err := read(question, &s); err != nil {
		return fail(err)
	}
	d.shop, d.style = all.At(s), s.Style
	return `{"ok":true}`
}

// calculators are the shop's.
func (d *Door) calculators() all.List {
	if len(d.shop) == 0 {
		return all.Calculators
	}
	return d.shop
}

// Calc computes one calculator.
func (d *Door) Calc(question string) string {
	var q calcQuestion
	if err := read(question, &q); err != nil {
		return fail(err)
	}
	c, ok := d.calculators().Find(q.Name)
	if !ok {
		return fail(&calc.InputError{Says: "there is no calculator " + q.Name})
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
		return fail(err)
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
	return write(a)
}

// minutes prints minutes, "" for none.
func minutes(m float64) string {
	if m <= 0 {
		return ""
	}
	return quantity.Minutes(m)
}
