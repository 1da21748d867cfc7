package turns

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator is the calculator "turns".
var Calculator = &calc.Calculator{
	Name: "turns", Title: "Turns ratio of a transformer", Shelf: "winding",
	Circuit: circuit,
	For:     "The turns ratio from volts measured off load, and what the ohms of the two windings do and do not say about it.",
	Inputs: []calc.Input{
		{Name: "primary", Label: "Voltage across the primary", Kind: quantity.Voltage, Default: "120 V", Low: "1 mV", High: "1000 V", Help: "Measured, not the nominal; a few volts of AC from a bench source do as well."},
		{Name: "secondary", Label: "Voltage across the secondary, off load", Kind: quantity.Voltage, Default: "17 V", Low: "1 mV", High: "50 kV"},
		{Name: "primary-resistance", Label: "Primary, ohms", Reading: true, Kind: quantity.Resistance, Optional: true, Low: "1 mΩ", High: "1 MΩ", Help: "Plug out, winding free."},
		{Name: "secondary-resistance", Label: "Secondary, ohms", Reading: true, Kind: quantity.Resistance, Optional: true, Low: "0.1 mΩ", High: "1 MΩ", Help: "Take the ohms of the leads off."},
		{Name: "turn-length", Label: "Length of a secondary turn over a primary one", Folded: true, Kind: quantity.Ratio, Default: "1–1.5", Low: "0.3", High: "3",
			Help: "1 to 1.5 with the secondary outside; near 1 side by side or in a toroid."},
		{Name: "copper", Label: "Copper of the primary over that of the secondary", Folded: true, Kind: quantity.Ratio, Default: "1", Low: "0.1", High: "10", Help: "Cross-section of all wires together; nearly 1 as a rule."},
		{Name: "test-turns", Label: "Turns of a test winding", Folded: true, Kind: quantity.Count, Optional: true, Low: "1", High: "1000", Help: "Wound around the core with insulated wire."},
		{Name: "test-volts", Label: "Voltage across the test winding", Folded: true, Kind: quantity.Voltage, Optional: true, Low: "0.1 mV", High: "1000 V"},
	},
	Outputs: []calc.Output{
		{Name: "ratio", Label: "Turns ratio", Kind: quantity.Ratio, Main: true, Help: "turns of the primary for one of the secondary"},
		{Name: "resistance-ratio", Label: "Ratio of resistances to expect", Kind: quantity.Ratio, Main: true},
		{Name: "misread", Label: "Secondary if that were taken for the turns ratio", Kind: quantity.Voltage, Help: "what the rule of thumb would promise; wrong"},
		{Name: "root-off", Label: "Its square root is off the turns ratio by", Kind: quantity.Percent},
		{Name: "measured-ratio", Label: "Ratio of resistances, measured", Kind: quantity.Ratio},
		{Name: "root", Label: "Its square root", Kind: quantity.Ratio},
		{Name: "measured-off", Label: "That root is off the turns ratio by", Kind: quantity.Percent},
		{Name: "secondary-expected", Label: "Secondary to expect from the primary's ohms", Kind: quantity.Resistance},
		{Name: "turns-per-volt", Label: "Turns for one volt", Kind: quantity.Ratio},
		{Name: "primary-turns", Label: "Turns of the primary", Kind: quantity.Ratio},
		{Name: "secondary-turns", Label: "Turns of the secondary", Kind: quantity.Ratio},
		{Name: "verdict", Label: "What the ohms say"},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mrow><mi>n</mi><mo>=</mo><mfrac><msub><mi>U</mi><mn>1</mn></msub><msub><mi>U</mi><mn>2</mn></msub></mfrac><mo>,</mo><mspace width="1em"/>` +
		`<mfrac><msub><mi>R</mi><mn>1</mn></msub><msub><mi>R</mi><mn>2</mn></msub></mfrac><mo>=</mo><mfrac><msup><mi>n</mi><mn>2</mn></msup><mrow><mi>m</mi><mi>a</mi></mrow></mfrac></mrow></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "With mains on the primary its terminals kill; a winding used the wrong way round steps up. Clip on dead, hands out, read live. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Care, Text: "Taking the meter's lead off a large winding gives a kick of some hundred volts: do not hold both ends."},
	},
	Example: calc.Example{
		Says:   "A charger's transformer shows 17 V off load at 120 V. Someone expected the ratio of its ohms, 33 to 50, to be the step-down.",
		Inputs: []calc.Setting{{Name: "primary", Value: "120 V"}, {Name: "secondary", Value: "17 V"}},
		Prints: []calc.Setting{{Name: "ratio", Value: "7.06"}, {Name: "resistance-ratio", Value: "33.2–49.8"}},
	},
	Onward: []calc.Onward{
		{Calculator: "regulation", Says: "How far does the voltage fall under load?", Takes: []calc.Take{{From: "secondary", To: "no-load"}}},
		{Calculator: "winding-verdict", Says: "What do the ohms of one winding prove?"},
		{Calculator: "rectifier", Says: "What DC comes of this voltage?", Takes: []calc.Take{{From: "secondary", To: "ac"}}},
	},
}

// resistanceRatio of primary over secondary for a turns ratio n: R goes with
// N²·(length of a turn)/(copper area).
func resistanceRatio(n, turnLength, copper float64) float64 { return n * n / (turnLength * copper) }

// plausible is how far a measured ratio may lie off the expected one and still be
// that of a sound transformer: copper shares from 0.6 to 1.7. From memory.
const plausible = 1.7

func run(in calc.In, out *calc.Out) error {
	u1, u2 := in.Num("primary"), in.Num("secondary")
	n := u1 / u2
	if n > 1e5 || n < 1e-5 {
		return calc.Bad("secondary", "Volts across the secondary: a ratio of "+quantity.Of(quantity.Ratio, n).Text()+" is no transformer; check both readings for a slip of a prefix")
	}
	m, a := in.Num("turn-length"), in.Num("copper")
	expected := resistanceRatio(n, m, a)
	out.Set("ratio", n)
	out.Set("resistance-ratio", expected)
	out.Set("misread", u1/expected)
	out.Set("root-off", math.Sqrt(expected)/n-1)
	for _, name := range []string{"primary-resistance", "secondary-resistance"} {
		if r := in.Reading(name); in.Has(name) && r.IsAbove() {
			out.Say("verdict", "open", "A winding reads no end: open, or its thermal link is. The volts off load then come from another one.")
			return nil
		}
	}
	r1, r2 := in.Num("primary-resistance"), in.Num("secondary-resistance")
	if in.Has("primary-resistance") {
		out.Set("secondary-expected", r1/expected)
	}
	if in.Has("primary-resistance") && in.Has("secondary-resistance") {
		got := r1 / r2
		root := math.Sqrt(got)
		out.Set("measured-ratio", got)
		out.Set("root", root)
		out.Set("measured-off", root/n-1)
		// the turn's length is a guess of 1 to 1.5 as a rule: the verdict allows for it
		low, high := resistanceRatio(n, 1.5, a)/plausible, resistanceRatio(n, 1/1.5, a)*plausible
		text := func(x float64) string { return quantity.Of(quantity.Ratio, x).Text() }
		switch {
		case got < low:
			out.Say("verdict", "too-low", "The ohms stand "+text(got)+":1, and "+quantity.Between(quantity.Ratio, low, high).Text()+" would be plausible: the leads' own ohms in the secondary's reading, shorted turns in the primary, or another pair of wires.")
		case got > high:
			out.Say("verdict", "too-high", "The ohms stand "+text(got)+":1, and "+quantity.Between(quantity.Ratio, low, high).Text()+" would be plausible: a bad joint in the primary, shorted turns in the secondary, or another pair of wires.")
		default:
			out.Say("verdict", "fits", "The ohms fit the volts, as far as ohms can: they would with a shorted turn as well.")
		}
		if r2 < 1 {
			out.Note("A secondary below 1 Ω is read with four wires, or with the ohms of the leads taken off.")
		}
	}
	if in.Has("test-turns") != in.Has("test-volts") {
		missing := "test-volts"
		if in.Has("test-volts") {
			missing = "test-turns"
		}
		return calc.Bad(missing, "A test winding needs both its turns and its volts; enter the other as well, or leave both empty")
	}
	if in.Has("test-turns") {
		per := in.Num("test-turns") / in.Num("test-volts")
		out.Set("turns-per-volt", per)
		out.Set("primary-turns", per*u1)
		out.Set("secondary-turns", per*u2)
	}
	return nil
}
