package preferred

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/passive"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

var choices = []calc.Choice{{Name: "E3", Label: "E3"}, {Name: "E6", Label: "E6 (20 %)"}, {Name: "E12", Label: "E12 (10 %)"}, {Name: "E24", Label: "E24 (5 %)"},
	{Name: "E48", Label: "E48 (2 %)"}, {Name: "E96", Label: "E96 (1 %)"}, {Name: "E192", Label: "E192 (0.5 %)"}}

// Calculator finds preferred values next to an amount.
var Calculator = &calc.Calculator{
	Name:  "preferred",
	Title: "Nearest preferred value",
	For:   "Finds the values that are made next to the one you need, in the series E3 to E192.",
	Shelf: "passive",
	Inputs: []calc.Input{
		{Name: "value", Label: "Value needed", Kind: quantity.Resistance, Or: []quantity.Kind{quantity.Capacitance}, Default: "5 kΩ", Low: "1 mΩ", High: "100 GΩ",
			Help: "Ohms, or farads for a capacitor."},
		{Name: "series", Label: "Series", Default: "E12", Choices: choices, Help: "As fine as your drawer or your supplier has."},
	},
	Outputs: outputs(),
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mfrac><mrow><mo>|</mo><mi>R</mi><mo>−</mo><msub><mi>R</mi><mtext>needed</mtext></msub><mo>|</mo></mrow>` +
		`<msub><mi>R</mi><mtext>needed</mtext></msub></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Notice, Text: "Volts, watts, temperature and kind of the part must fit too. In a protective place (fusible, flameproof, X or Y) only the marked value and kind is right. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A sum gives 5 kΩ. What is nearest in E12, and in the finer series?",
		Inputs: []calc.Setting{{Name: "value", Value: "5 kΩ"}, {Name: "series", Value: "E12"}},
		Prints: []calc.Setting{{Name: "nearest", Value: "4.70 kΩ"}, {Name: "error", Value: "-6.0 %"}, {Name: "above", Value: "5.60 kΩ"}, {Name: "e24", Value: "5.10 kΩ"},
			{Name: "e96", Value: "4.99 kΩ"}},
	},
	Onward: []calc.Onward{{Calculator: "bands", Says: "Which bands does it have?", Takes: []calc.Take{{From: "nearest", To: "wanted"}}}},
}

func outputs() []calc.Output {
	list := []calc.Output{
		{Name: "nearest", Label: "Nearest", Kind: quantity.Resistance, Main: true},
		{Name: "nearest-capacitance", Label: "Nearest", Kind: quantity.Capacitance, Main: true},
		{Name: "error", Label: "Off by", Kind: quantity.Percent, Main: true, Help: "In parts of the value needed; minus is lower."},
		{Name: "below", Label: "Next not above", Kind: quantity.Resistance},
		{Name: "above", Label: "Next not below", Kind: quantity.Resistance},
		{Name: "below-capacitance", Label: "Next not above", Kind: quantity.Capacitance},
		{Name: "above-capacitance", Label: "Next not below", Kind: quantity.Capacitance},
		{Name: "is-preferred", Label: "The value needed is itself"},
	}
	for _, n := range passive.Sizes {
		size := quantity.Number(float64(n))
		list = append(list, calc.Output{Name: "e" + size, Label: "Nearest in E" + size, Kind: quantity.Resistance})
	}
	return list
}

// next gives the values of a series not above and not below x.
func next(x float64, size int) (below, above float64) {
	_, decade, _ := passive.Apart(x)
	above = math.Inf(1)
	for d := decade - 1; d <= decade+1; d++ {
		for _, digits := range passive.Series(size) {
			v := passive.Amount(digits, d)
			if math.Abs(v-x) <= 1e-9*x {
				return v, v
			}
			if v < x {
				below = math.Max(below, v)
			} else {
				above = math.Min(above, v)
			}
		}
	}
	return below, above
}

// nearest by relative error; the lower of two that lie equally far.
func nearest(x float64, size int) float64 {
	below, above := next(x, size)
	if (above-x)-(x-below) < -1e-9*x {
		return above
	}
	return below
}

func size(word string) int {
	for i, c := range choices {
		if c.Name == word {
			return passive.Sizes[i]
		}
	}
	return 0
}

func run(in calc.In, out *calc.Out) error {
	v, n := in.Value("value"), size(in.Word("series"))
	x := v.Num
	suffix := ""
	if v.Kind == quantity.Capacitance {
		suffix = "-capacitance"
		if x < 1e-14 || x > 1000 {
			return calc.Bad("value", "a capacitor lies between 0.01 pF and 1000 F; check the prefix")
		}
	}
	near := nearest(x, n)
	below, above := next(x, n)
	out.Set("nearest"+suffix, near)
	out.Set("below"+suffix, below)
	out.Set("above"+suffix, above)
	out.Set("error", (near-x)/x)
	if math.Abs((above-x)-(x-below)) <= 1e-9*x && above > below {
		out.Note("Two values lie equally far: " + quantity.Of(v.Kind, below).Text() + " and " + quantity.Of(v.Kind, above).Text() + "; the lower is given.")
	}
	if suffix == "" {
		for _, e := range passive.Sizes {
			out.Set("e"+quantity.Number(float64(e)), nearest(x, e))
		}
	}
	digits, _, exact := passive.Apart(x)
	if e := passive.Coarsest(digits); exact && e > 0 {
		name := "E" + quantity.Number(float64(e))
		out.Say("is-preferred", name, "A preferred value, in "+name+".")
	} else {
		out.Say("is-preferred", "none", "In no series of IEC 60063.")
	}
	return nil
}
