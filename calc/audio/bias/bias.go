package bias

import (
	_ "embed"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives the quiescent current from the voltage on the emitter resistors.
var Calculator = &calc.Calculator{
	Name:    "bias",
	Title:   "Quiescent current of an output stage",
	For:     "Gives the quiescent current of an amplifier's output stage from the voltage across its emitter resistors, and the heat at rest.",
	Shelf:   "audio",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "volts", Label: "Voltage measured", Reading: true, Kind: quantity.Voltage, Default: "10 mV", Low: "0 V", High: "5 V", Help: "No signal, warm."},
		{Name: "across", Label: "Measured across", Default: "one", Choices: []calc.Choice{{Name: "one", Label: "One resistor"}, {Name: "both", Label: "Both in series, emitter to emitter"}}},
		{Name: "resistor", Label: "Each emitter resistor", Kind: quantity.Resistance, Default: "0.22 Ω", Low: "10 mΩ", High: "100 Ω"},
		{Name: "wanted", Label: "The maker's quiescent current", Kind: quantity.Current, Optional: true, Low: "0.1 mA", High: "10 A"},
		{Name: "rail", Label: "Voltage of one supply rail", Kind: quantity.Voltage, Default: "35 V", Low: "1 V", High: "200 V"},
	},
	Outputs: []calc.Output{
		{Name: "current", Label: "Quiescent current", Kind: quantity.Current, Main: true},
		{Name: "verdict", Label: "The current", Main: true},
		{Name: "heat", Label: "Heat of each device at rest", Kind: quantity.Power},
		{Name: "each", Label: "Voltage across one resistor", Kind: quantity.Voltage},
		{Name: "wanted-volts", Label: "The meter should read", Kind: quantity.Voltage, Help: "For the maker's current, at these clips."},
		{Name: "optimum", Label: "Against the 26 mV of theory", Kind: quantity.Percent, Help: "Bipolar transistors only; the maker's figure goes first."},
	},
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><mi>I</mi><mo>=</mo><mfrac><mi>V</mi><msub><mi>R</mi><mn>E</mn></msub></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "The amplifier is live on the mains: clip on dead, hands out, read live. The reservoir capacitors stay charged when it is off; discharge and measure before touching."},
		{Signal: calc.Care, Text: "A probe that slips between two legs of an output device ends it. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "4.4 mV stand across one resistor of 0.22 Ω; the maker wants 20 mA.",
		Inputs: []calc.Setting{{Name: "volts", Value: "4.4 mV"}, {Name: "wanted", Value: "20 mA"}},
		Prints: []calc.Setting{{Name: "current", Value: "20.0 mA"}},
	},
}

const (
	thermal = .0259 // kT/q at 27 °C, volts
	near    = .15   // share within which the maker's current counts as met; our choice
	tooHot  = 10.0  // watts at rest in one device that ask for a look; our choice
)

// current through one resistor.
func current(volts, ohms float64, both bool) float64 {
	if both {
		ohms *= 2
	}
	return volts / ohms
}

func run(in calc.In, out *calc.Out) error {
	both := in.Word("across") == "both"
	r := in.Num("resistor")
	i := current(in.Num("volts"), r, both)
	out.Set("current", i)
	out.Set("heat", i*in.Num("rail"))
	out.Set("each", i*r)
	if i > 0 {
		// Oliver: the halves hand over most smoothly where RE = kT/(qI)
		out.Set("optimum", i*r/thermal)
	}
	if in.Has("wanted") {
		w := in.Num("wanted")
		clips := r
		if both {
			clips *= 2
		}
		out.Set("wanted-volts", w*clips)
		switch {
		case i < w*(1-near):
			out.Say("verdict", "low", "Below the maker's current: crossover distortion at low level. Turn the trimmer slowly, one side at a time, after it is warm.")
		case i > w*(1+near):
			out.Say("verdict", "high", "Above the maker's current: turn it down, and if it does not follow, the bias transistor or its contact to the heat sink is bad.")
		default:
			out.Say("verdict", "as-wanted", "As the maker wants it.")
		}
	} else {
		switch {
		case i < 1e-3:
			out.Say("verdict", "off", "The stage is off at rest: crossover distortion, an open bias circuit, or a class B or D stage.")
		case i*in.Num("rail") > tooHot:
			out.Say("verdict", "hot", "Much heat at rest. Unless it is class A, switch off and find why.")
		default:
			out.Say("verdict", "plausible", "Plausible; the maker's figure decides.")
		}
	}
	return nil
}
