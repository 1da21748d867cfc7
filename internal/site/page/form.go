package page

import (
	"html/template"
	"sync"
	"unicode/utf8"

	"faultleaf/calc"
	"faultleaf/internal/press"
	"faultleaf/templates"
)

// Templates are those of all pages, made ready.
var Templates = sync.OnceValues(func() (*press.Press, error) {
	t, err := template.ParseFS(templates.Files, "*.html")
	if err != nil {
		return nil, err
	}
	return press.New(t)
})

// Form is a calculator as the template shows it: the form filled with one set
// of inputs, and the results for them.
type Form struct {
	Name, Prefix, Address string
	Example               bool // nothing was entered: the inputs are the calculator's own
	Inputs                []FormInput
	More                  []FormInput  // inputs that matter seldom, kept closed
	MoreOpen              bool         // one of them was entered
	Mains, Outputs        []FormOutput // what decides, and the rest
	Notes                 []string
	Circuit               template.HTML // what it reckons with, its places numbered as the inputs
	Plots                 []FormPlot
	Onward                []FormWay
}

// FormWay leads on to a calculator that asks for what this one gives.
type FormWay struct{ Name, Says, Address string }

// FormInput is one control.
type FormInput struct {
	Name, ID, Label, Help, Value, Placeholder string
	Choices                                   []calc.Choice
	Measured                                  bool // to be read off a meter or a part
	Row                                       bool // a row of readings, which wraps
	Long                                      bool // what is typed, or stands in it as an example, is longer than a usual field
	Place                                     int  // its number in the drawn circuit, 0 for none
}

// FormOutput is one line of the results.
type FormOutput struct {
	Name, Label, Help, Text string
	Main, Amount            bool // an amount stands on one line, a sentence wraps
}

// FormPlot is one drawing.
type FormPlot struct {
	Name, Title string
	SVG         template.HTML
}

// usual is how many letters a field of a form shows where fields stand side by side.
const usual = 18

// NewForm fills the form with a result. prefix keeps ids apart where a page
// holds several forms.
func NewForm(r calc.Result, link calc.Link, root, prefix string) (Form, error) {
	c := r.Calculator
	f := Form{Name: c.Name, Prefix: prefix, Example: r.Example, Notes: r.Notes}
	whole := calc.Link{Calculator: link.Calculator, Output: link.Output}
	for _, g := range r.Inputs {
		if g.Written != "" {
			whole.Inputs = append(whole.Inputs, calc.Setting{Name: g.Name, Value: g.Written})
		}
	}
	f.Address = NumberAddress(root, whole)
	places := c.Places()
	f.Circuit = template.HTML(r.DrawCircuit())
	for i, in := range c.Inputs {
		fi := FormInput{Name: in.Name, Place: places[in.Name], ID: prefix + "in-" + in.Name, Measured: in.Measured && !in.Optional, Row: in.Row, Label: in.Label, Help: in.Help, Value: r.Inputs[i].Written, Choices: in.Choices}
		if r.Inputs[i].Word != "" {
			fi.Value = r.Inputs[i].Word
		}
		if in.Optional && in.Default == "" {
			fi.Placeholder = "not known"
		}
		if len(in.Text) > 0 {
			fi.Placeholder = "like " + in.Text[0]
		}
		if in.Like != "" {
			fi.Placeholder = "like " + in.Like
		}
		fi.Long = fi.Row || fi.Choices == nil && max(utf8.RuneCountInString(fi.Placeholder), utf8.RuneCountInString(fi.Value)) > usual
		if in.Folded {
			f.More = append(f.More, fi)
			f.MoreOpen = f.MoreOpen || !r.Inputs[i].Default
			continue
		}
		f.Inputs = append(f.Inputs, fi)
	}
	for _, o := range c.Outputs {
		fo := FormOutput{Name: o.Name, Label: o.Label, Help: o.Help, Main: o.Main, Amount: o.Kind != ""}
		if got, ok := r.Output(o.Name); ok {
			fo.Text = got.Text
		}
		if o.Main {
			f.Mains = append(f.Mains, fo)
		} else {
			f.Outputs = append(f.Outputs, fo)
		}
	}
	for i, l := range r.Onward() {
		f.Onward = append(f.Onward, FormWay{l.Calculator, c.Onward[i].Says, NumberAddress(root, l)})
	}
	for _, p := range c.Plots {
		svg, err := c.Draw(p, r.In())
		if err != nil {
			svg = "" // its place is kept: shown as soon as the inputs allow a drawing
		}
		f.Plots = append(f.Plots, FormPlot{p.Name, p.Title, template.HTML(svg)})
	}
	return f, nil
}
