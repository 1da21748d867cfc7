package runcap

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator judges a run capacitor.
var Calculator = &calc.Calculator{
	Name:    "run-capacitor",
	Title:   "Run capacitor of a motor",
	For:     "Tells whether a motor's capacitor is within its mark, isolated first, or from volts and amperes in circuit.",
	Shelf:   "passive",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "marked", Label: "Marked capacitance", Kind: quantity.Capacitance, Default: "16 µF", Low: "0.1 µF", High: "2 mF"},
		{Name: "tolerance", Label: "Marked tolerance, plus or minus", Kind: quantity.Percent, Default: "5 %", Low: "1 %", High: "30 %", Help: "5 %, 6 % or 10 % by the label."},
		{Name: "measured", Label: "Measured isolated", Reading: true, Kind: quantity.Capacitance, Optional: true, Low: "0 F", High: "10 mF",
			Help: "Unplugged, discharged, both wires off."},
		{Name: "volts", Label: "Voltage across the capacitor, running", Folded: true, Kind: quantity.Voltage, Optional: true, Low: "10 V", High: "1000 V",
			Help: "Only by those who may work live. True RMS, at its own tags."},
		{Name: "amps", Label: "Amperes in its lead, running", Folded: true, Kind: quantity.Current, Optional: true, Low: "1 mA", High: "100 A"},
		{Name: "frequency", Label: "Mains frequency", Folded: true, Kind: quantity.Frequency, Default: "50 Hz", From: calc.Hertz, Low: "16 Hz", High: "400 Hz", Help: "50 Hz or 60 Hz."},
		{Name: "rated-volts", Label: "Rated AC voltage", Folded: true, Kind: quantity.Voltage, Optional: true, Low: "10 V", High: "1000 V"},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict, isolated", Main: true},
		{Name: "deviation", Label: "Isolated, off its mark by", Kind: quantity.Percent},
		{Name: "in-circuit", Label: "Capacitance in circuit", Kind: quantity.Capacitance, Main: true},
		{Name: "in-circuit-verdict", Label: "Verdict, in circuit"},
		{Name: "in-circuit-deviation", Label: "In circuit, off its mark by", Kind: quantity.Percent},
		{Name: "constant", Label: "Microfarads for one ampere at one volt", Kind: quantity.Ratio},
		{Name: "lowest", Label: "Lowest within the mark", Kind: quantity.Capacitance, Limit: quantity.Lowest, Digits: 4},
		{Name: "highest", Label: "Highest within the mark", Kind: quantity.Capacitance, Limit: quantity.Highest, Digits: 4},
		{Name: "expected-amps", Label: "Amperes it should draw at this voltage", Kind: quantity.Current},
		{Name: "use", Label: "Run or start, by size"},
		{Name: "volts-verdict", Label: "Rated voltage"},
	},
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><mi>C</mi><mo>=</mo><mfrac><mi>I</mi><mrow><mn>2</mn><mi>π</mi><mi>f</mi><mi>V</mi></mrow></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "A run capacitor holds up to 600 V with the plug out. Unplug, discharge through a rated resistor, measure that it is empty, and only then take its wires off."},
		{Signal: calc.Danger, Text: "Measuring it running means live tags and a moving fan or belt: for those who may work live only. Clamp and clip on dead, close, hands out, switch on, read."},
		{Signal: calc.Warning, Text: "A swollen or leaking can is not tested but replaced, by the same microfarads and the same safety class. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says: "The capacitor of a pump is marked 16 µF ±5 %, 450 V. Isolated it reads 12.9 µF; running it had 2.1 A at 410 V when new, at 50 Hz.",
		Inputs: []calc.Setting{{Name: "marked", Value: "16 µF"}, {Name: "measured", Value: "12.9 µF"}, {Name: "volts", Value: "410 V"}, {Name: "amps", Value: "2.1 A"},
			{Name: "rated-volts", Value: "450 V"}},
		Prints: []calc.Setting{{Name: "deviation", Value: "-19.4 %"}, {Name: "in-circuit", Value: "16.30 µF"}, {Name: "constant", Value: "3183"},
			{Name: "verdict", Value: "Weak: 12.90 µF is more than 10.0 % below its mark of 16.00 µF; replace it."}},
	},
	Onward: []calc.Onward{{Calculator: "discharge", Says: "How long must it be discharged?", Takes: []calc.Take{{From: "marked", To: "capacitor"}}},
		{Calculator: "combine", Says: "Are two of them wired in series?", Takes: []calc.Take{{From: "marked", To: "first"}}}},
}

// inCircuit is the capacitance in F that draws amps at volts and hertz.
func inCircuit(amps, volts, hertz float64) float64 { return amps / (2 * math.Pi * hertz * volts) }

// drawn is the current in A of a capacitance in F.
func drawn(c, volts, hertz float64) float64 { return 2 * math.Pi * hertz * c * volts }

const (
	weak     = 0.10  // below the mark by more is weak by every source
	startMin = 70e-6 // F; run capacitors lie below, hobby science page, order of magnitude
)

func run(in calc.In, out *calc.Out) error {
	marked, tolerance, hertz := in.Num("marked"), in.Num("tolerance"), in.Num("frequency")
	out.Set("constant", 1e6/(2*math.Pi*hertz))
	out.Set("lowest", marked*(1-tolerance))
	out.Set("highest", marked*(1+tolerance))
	if marked < startMin {
		out.Say("use", "run", "A run capacitor by its size; not sure for small motors.")
	} else {
		out.Say("use", "start", "A start capacitor by its size; if the motor keeps it in circuit, the mark decides.")
	}
	if in.Has("measured") && !in.Reading("measured").Bounded() {
		out.Say("verdict", "no-figure", "No figure: in the range for capacitance a short and a capacitor too large for the range look alike. Read its ohms: near nothing is a short, replace it; else take a meter with a larger range.")
	} else if in.Has("measured") {
		out.Set("deviation", (in.Num("measured")-marked)/marked)
		word, sentence := judge(in.Num("measured"), marked, tolerance)
		out.Say("verdict", word, sentence)
	} else {
		out.Say("verdict", "measure-first", "Measure it isolated first: unplugged, discharged, both wires off.")
	}
	if err := running(in, out, marked, tolerance, hertz); err != nil {
		return err
	}
	if in.Has("volts") && in.Has("rated-volts") {
		if in.Num("volts") > in.Num("rated-volts") {
			out.Say("volts-verdict", "too-low", "Too low: it stands at more than its rated volts; the new one must be rated for at least the volts measured.")
		} else {
			out.Say("volts-verdict", "enough", "Enough for the volts measured.")
		}
	}
	out.Note("A meter's few volts do not show breakdown, leakage to the can or a loose tag.")
	return nil
}

// running is the part in circuit.
func running(in calc.In, out *calc.Out, marked, tolerance, hertz float64) error {
	switch {
	case in.Has("amps") && !in.Has("volts"):
		return calc.Bad("volts", "the amperes need the volts across the capacitor beside them, at its own tags and not at the plug")
	case !in.Has("volts"):
		return nil
	}
	out.Set("expected-amps", drawn(marked, in.Num("volts"), hertz))
	if !in.Has("amps") {
		return nil
	}
	c := inCircuit(in.Num("amps"), in.Num("volts"), hertz)
	out.Set("in-circuit", c)
	out.Set("in-circuit-deviation", (c-marked)/marked)
	word, sentence := judge(c, marked, tolerance)
	out.Say("in-circuit-verdict", word, sentence)
	if in.Has("measured") && in.Reading("measured").Bounded() {
		if isolated, _ := judge(in.Num("measured"), marked, tolerance); isolated != word {
			out.Note("Isolated and in circuit disagree: the isolated reading decides, if the meter is right; true RMS, frequency and what else is in that lead explain the other.")
		}
	}
	for _, other := range []float64{50, 60} {
		if meant := inCircuit(in.Num("amps"), in.Num("volts"), other); math.Abs(other-hertz) > 5 && word != "within" && math.Abs(meant-marked) <= tolerance*marked {
			out.Note("At " + quantity.Of(quantity.Frequency, other).Text() + " these readings would be its mark: check the mains frequency.")
		}
	}
	return nil
}

// judge holds a capacitance against the mark. No word is "good", as breakdown is not
// tested.
func judge(c, marked, tolerance float64) (word, sentence string) {
	text := func(x float64) string { return quantity.Of(quantity.Capacitance, x).Text() }
	const slack = 1e-9
	switch off := (c - marked) / marked; {
	case off < -0.9:
		return "open", "Open: hardly anything of its " + text(marked) + " is left, " + text(c) + "; replace it."
	case off < -math.Max(weak, tolerance)-slack:
		return "weak", "Weak: " + text(c) + " is more than " + quantity.Of(quantity.Percent, math.Max(weak, tolerance)).Text() + " below its mark of " + text(marked) + "; replace it."
	case off < -tolerance-slack:
		return "low", "Low: " + text(c) + " is below its tolerance; replace it soon, some labels and rules allow 10 %."
	case off > tolerance+slack:
		return "high", "High: " + text(c) + " is above its tolerance. A capacitor hardly gains: check the mark, the meter and what is wired beside it."
	}
	return "within", "Within its mark: " + text(c) + "."
}
