package page

import (
	"html/template"

	"faultleaf/calc"
	"faultleaf/templates"
)

// formTemplate renders a calculator's form inside a note's text.
var formTemplate = template.Must(template.New("").ParseFS(templates.Files, "calculator.html", "frame.html"))

// Form is a calculator as the template shows it: the form filled with one set
// of inputs, and the results for them.
type Form struct {
	Name, Prefix, Address string
	Inputs                []FormInput
	Outputs               []FormOutput
	Notes                 []string
	Plots                 []FormPlot
	Onward                []FormWay
}

// FormWay leads on to a calculator that asks for what this one gives.
type FormWay struct{ Name, Says, Address string }

// FormInput is one control.
type FormInput struct {
	Name, Label, Help, Value, Placeholder string
	Choices                               []calc.Choice
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

// NewForm fills the form with a result. prefix keeps ids apart where a page
// holds several forms.
func NewForm(r calc.Result, link calc.Link, root, prefix string) (Form, error) {
	c := r.Calculator
	f := Form{Name: c.Name, Prefix: prefix, Address: NumberAddress(root, link), Notes: r.Notes}
	for i, in := range c.Inputs {
		fi := FormInput{Name: in.Name, Label: in.Label, Help: in.Help, Value: r.Inputs[i].Written, Choices: in.Choices}
		if r.Inputs[i].Word != "" {
			fi.Value = r.Inputs[i].Word
		}
		if in.Optional && in.Default == "" {
			fi.Placeholder = "not known"
		}
		if len(in.Text) > 0 {
			fi.Placeholder = in.Text[0]
		}
		f.Inputs = append(f.Inputs, fi)
	}
	for _, o := range c.Outputs {
		fo := FormOutput{Name: o.Name, Label: o.Label, Help: o.Help, Main: o.Main, Amount: o.Kind != ""}
		if got, ok := r.Output(o.Name); ok {
			fo.Text = got.Text
		}
		f.Outputs = append(f.Outputs, fo)
	}
	for i, l := range r.Onward() {
		f.Onward = append(f.Onward, FormWay{l.Calculator, c.Onward[i].Says, NumberAddress(root, l)})
	}
	for _, p := range c.Plots {
		svg, err := c.Draw(p, r.In())
		if err != nil {
			continue // shown again as soon as the inputs allow a drawing
		}
		f.Plots = append(f.Plots, FormPlot{p.Name, p.Title, template.HTML(svg)})
	}
	return f, nil
}
