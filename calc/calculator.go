package calc

import (
	"strings"

	"faultleaf/calc/draw"
	"faultleaf/calc/draw/schematic"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
)

// Shelf is a group of calculators on the list, e.g. "supply".
type Shelf string

// Calculator describes one computation. Every field but Plots and Onward is needed;
// Validate says what is missing.
type Calculator struct {
	Name  string // as in calc: addresses, e.g. "winding-rise"
	Title string // "Winding temperature from its resistance"
	For   string // one sentence: what it is for
	Shelf Shelf

	Inputs  []Input
	Outputs []Output
	// Compute fills the outputs. It sees only inputs that passed their limits.
	// Its error is one sentence that names an input and says what would be
	// possible; use Bad to make one.
	Compute func(in In, out *Out) error

	// Doc is the package comment of the room (its doc.go, embedded): method,
	// where it holds, where it misleads, sources. ParseDoc reads it.
	Doc string
	// MathML is the method's formula as a MathML <math> element; "" for none.
	MathML string
	// Cautions stand above the form and beside every result.
	Cautions []Caution
	// Example is the worked example of the page: it is run by the tests.
	Example Example
	Plots   []Plot
	// Circuit is the circuit that it reckons with, its parts bearing the inputs
	// that ask for them; nil where there is none. It follows the choices only.
	Circuit func(in In) schematic.Ladder
	// Pairs are two inputs that a plate states as ranges belonging together end by end,
	// such as 220–240 V with 1850–2200 W; written so they are moved together.
	Pairs [][2]string
	// Onward names calculators that ask for what this one gives.
	Onward []Onward

	currency string         // of the shop, for sums that name none
	style    quantity.Style // of the shop, for results
	places   *placed        // of a shop's calculator: what Places gives, worked out once
}

// Onward leads from a result to the next calculator with amounts filled in.
type Onward struct {
	Calculator string // name of the next one
	Says       string // why one would go there: "Is the fuse right for this inrush?"
	Takes      []Take
}

// Take hands one amount on: an output (or input) here becomes an input there.
type Take struct{ From, To string }

// Input is one thing asked for.
type Input struct {
	Name  string // "source-resistance"
	Label string // "Source resistance"
	Help  string // one sentence on how to come by the value; may be ""
	// Kind of quantity; further kinds that are taken as well stand in Or (a
	// load in ohms or in amperes). For a choice Kind is empty and Choices set;
	// for a marking or a reading that no kind holds ("4k7", "OL") Kind is empty
	// and Text says how it may look: the room reads it from In.Word itself.
	Kind    quantity.Kind
	Or      []quantity.Kind
	Choices []Choice
	Text    []string // a few possible texts; they serve as hint and as test inputs
	Default string   // as people write it; "" with Optional means "not known"
	// From names the value of the shop that is the default in its place: see At.
	From FromShop
	// Measured marks what somebody reads off a meter or a part. It has no
	// default, only Like, an example for the form; while it is missing the room
	// gives limits and the verdict asks for it.
	Measured bool
	Like     string
	// Folded inputs matter seldom: a page keeps them below the others, closed.
	Folded bool
	// Low and High bound the possible amounts, as people write them ("0.1 Ω");
	// "" for no bound. For an Or kind the bounds do not apply.
	Low, High string
	Optional  bool
	// Reading says that the amount is what a meter shows, so that OL, “> 20 MΩ”, a
	// beep and the like are taken as well: In.Reading gives it. Num and Value are
	// of no use where it is no amount: a room that asks for them all the same
	// refuses such a reading. Row takes several, parted by blanks: In.Readings.
	Reading, Row bool
	// Open is what a reading above all that the meter shows means here, the rest
	// of a sentence: "the winding is open".
	Open string
	// Meter is what is known of the meter; its zero value is any.
	Meter reading.Meter
}

// Choice is one of a few words.
type Choice struct {
	Name  string // "centre-tap"
	Label string // "Full wave, centre tap"
}

// Output is one thing computed. An output without a Kind is a word or sentence.
type Output struct {
	Name  string
	Label string
	Kind  quantity.Kind
	Unit  string // wished unit when printing; "" lets the number choose
	Help  string // what it tells, one sentence; may be ""
	// Main outputs stand first and large.
	Main bool
	// Limit says that it is a highest or a lowest: it is rounded to the safe side in print
	// and in claims. Digits are its significant digits; 0 for three.
	Limit  quantity.Limit
	Digits int
}

// Signal is a signal word of ANSI Z535 and ISO 3864.
type Signal string

// The signal words by how badly things may go, and Notice for matters without
// injury.
const (
	Danger  Signal = "DANGER"
	Warning Signal = "WARNING"
	Care    Signal = "CAUTION"
	Notice  Signal = "NOTICE"
)

// Caution is a signal word and what to do.
type Caution struct {
	Signal Signal
	Text   string
}

// ReadCaution parts the signal word from a caution as notes write it, "DANGER:
// ..."; without one it gets the word that is given.
func ReadCaution(text string, otherwise Signal) Caution {
	for _, w := range []Signal{Danger, Warning, Care, Notice} {
		if rest, ok := strings.CutPrefix(text, string(w)+":"); ok {
			return Caution{w, strings.TrimSpace(rest)}
		}
	}
	return Caution{otherwise, text}
}

// Example is a worked example: inputs as written and what a few outputs print.
type Example struct {
	Says   string // the story, one or two sentences
	Inputs []Setting
	Prints []Setting // output name and its printed text
}

// Setting is a name and its text.
type Setting struct{ Name, Value string }

// Plot draws one curve of the calculator for given inputs.
type Plot struct {
	Name  string // "waveform"
	Title string
	Says  string // what the picture shows, for those who do not see it
	Chart func(in In) (draw.Chart, error)
}

// InputError is a sentence about one input.
type InputError struct {
	Input string // name
	Says  string // one sentence for a person
	// Means are the texts one of which was meant, where the input can be read in
	// two ways; else none.
	Means []string
}

func (e *InputError) Error() string { return e.Says }

// Bad makes the error of an impossible input.
func Bad(input, says string) error { return &InputError{Input: input, Says: says} }

// Input finds an input by name.
func (c *Calculator) Input(name string) (*Input, bool) {
	for i := range c.Inputs {
		if c.Inputs[i].Name == name {
			return &c.Inputs[i], true
		}
	}
	return nil, false
}

// Output finds an output by name.
func (c *Calculator) Output(name string) (*Output, bool) {
	for i := range c.Outputs {
		if c.Outputs[i].Name == name {
			return &c.Outputs[i], true
		}
	}
	return nil, false
}

// InputNames and OutputNames list the names, for messages.
func (c *Calculator) InputNames() string {
	var names []string
	for _, in := range c.Inputs {
		names = append(names, in.Name)
	}
	return strings.Join(names, ", ")
}

// OutputNames lists the outputs' names.
func (c *Calculator) OutputNames() string {
	var names []string
	for _, o := range c.Outputs {
		names = append(names, o.Name)
	}
	return strings.Join(names, ", ")
}
