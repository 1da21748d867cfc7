package calc

import (
	"faultleaf/calc/quantity"
)

// Out collects the outputs of one computation.
type Out struct {
	of     *Calculator
	slip   *string
	values map[string]quantity.Value
	words  map[string]string
	says   map[string]string
	notes  []string
}

// Set gives an output its amount in base units.
func (o *Out) Set(name string, num float64) {
	o.knows(name, true)
	o.values[name] = quantity.Value{Num: num, Low: num, High: num}
}

// SetRange gives an output a range in base units; its number is the middle.
func (o *Out) SetRange(name string, low, high float64) {
	o.knows(name, true)
	o.values[name] = quantity.Between("", low, high)
}

// Say gives a word output its word (a short name such as "not-equal", stable
// for programs) and the sentence for people.
func (o *Out) Say(name, word, sentence string) {
	o.knows(name, false)
	o.words[name], o.says[name] = word, sentence
}

// Note adds a warning or remark that belongs to this result, one sentence.
func (o *Out) Note(sentence string) { o.notes = append(o.notes, sentence) }

// Num is an amount, in its base unit, that was set earlier in the same computation.
func (o *Out) Num(name string) float64 {
	v, ok := o.values[name]
	if !ok {
		note(o.slip, "uses the output "+name+" before it was computed")
	}
	return v.Num
}

// knows notes the mistake of a room that fills an output which it has not, or a
// word as an amount.
func (o *Out) knows(name string, amount bool) {
	if d, ok := o.of.Output(name); !ok {
		note(o.slip, "fills the output "+name+", which it has not")
	} else if amount != (d.Kind != "") {
		note(o.slip, "fills the output "+name+" with what it is not")
	}
}

// CannotTell is the word of an output that differs within the tolerance of the
// inputs.
const CannotTell = "cannot-tell"

// Asks is the word of a verdict that waits for what nobody entered yet.
const Asks = "asks"

// Result is one finished computation.
type Result struct {
	Calculator *Calculator
	Inputs     []Given
	Outputs    []Computed
	Notes      []string
	// Example says that nothing was entered: all inputs are the calculator's own.
	Example bool
	in      In
}

// Given is one input as it was used.
type Given struct {
	Name    string
	Written string // as people wrote it, or the default
	Value   quantity.Value
	Word    string // of a choice
	Default bool   // it was not given
}

// Computed is one output.
type Computed struct {
	Name  string
	Value quantity.Value // Kind "" for a word
	Word  string
	Text  string // as printed: amount with unit, or the sentence
}

// Output finds a computed output by name.
func (r Result) Output(name string) (Computed, bool) {
	for _, c := range r.Outputs {
		if c.Name == name {
			return c, true
		}
	}
	return Computed{}, false
}

// Onward gives the addresses of the calculators that ask for what this result
// gives, filled in; in the order of Calculator.Onward.
func (r Result) Onward() []Link {
	var links []Link
	for _, o := range r.Calculator.Onward {
		l := Link{Calculator: o.Calculator}
		for _, t := range o.Takes {
			text := ""
			if got, ok := r.Output(t.From); ok {
				text = got.Text
				if got.Value.Kind != "" {
					text = got.Value.Text() // as it is read anywhere
				}
			}
			for _, g := range r.Inputs {
				if g.Name == t.From {
					text = g.Written
				}
			}
			if text != "" {
				l.Inputs = append(l.Inputs, Setting{t.To, text})
			}
		}
		links = append(links, l)
	}
	return links
}

// In gives the inputs, for the plots.
func (r Result) In() In { return r.in }
