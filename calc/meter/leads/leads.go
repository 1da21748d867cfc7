package leads

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator takes the leads off a low resistance.
var Calculator = &calc.Calculator{
	Name:    "lead-null",
	Title:   "Low ohms without the leads",
	For:     "Takes the resistance of the test leads off a low reading and tells whether what is left can be trusted.",
	Shelf:   "meter",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "reading", Label: "Reading on the part", Reading: true, Kind: quantity.Resistance, Default: "2.4 Ω", Low: "0 Ω", High: "10 kΩ"},
		{Name: "shorted", Label: "Reading with the probes pressed together", Reading: true, Kind: quantity.Resistance, Default: "0.3 Ω", Low: "0 Ω", High: "100 Ω"},
		{Name: "percent", Label: "Percent of the reading", Kind: quantity.Percent, Default: "0.8 %", Low: "0 %", High: "50 %", Help: "From the meter's data, for its lowest ohm range."},
		{Name: "counts", Label: "Counts (digits)", Kind: quantity.Count, Default: "1", Low: "0", High: "1000"},
		{Name: "step", Label: "One step of the last figure", Kind: quantity.Resistance, Default: "0.1 Ω", Low: "1 µΩ", High: "10 Ω"},
		{Name: "contact", Label: "How far the figure moves when the probes are pressed on again", Folded: true, Kind: quantity.Resistance, Default: "0 Ω", Low: "0 Ω", High: "10 Ω"},
		{Name: "current", Label: "Four wires: current through the part", Folded: true, Kind: quantity.Current, Optional: true, Low: "1 µA", High: "100 A", Help: "From a supply with a current limit, or through a known resistor."},
		{Name: "drop", Label: "Four wires: voltage on the part", Folded: true, Kind: quantity.Voltage, Optional: true, Low: "0 V", High: "100 V"},
	},
	Outputs: []calc.Output{
		{Name: "ohms", Label: "The part alone", Kind: quantity.Resistance, Main: true},
		{Name: "verdict", Label: "How far to trust it", Main: true},
		{Name: "error", Label: "Error, either way", Kind: quantity.Resistance},
		{Name: "lowest", Label: "At least", Kind: quantity.Resistance},
		{Name: "highest", Label: "At most", Kind: quantity.Resistance},
		{Name: "share", Label: "The leads add to it", Kind: quantity.Percent, Help: "By how much the reading would be too high."},
		{Name: "leads", Label: "The leads"},
		{Name: "four-wire", Label: "By four wires", Kind: quantity.Resistance},
	},
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><mi>R</mi><mo>=</mo><msub><mi>R</mi><mtext>reading</mtext></msub><mo>−</mo><msub><mi>R</mi><mtext>shorted</mtext></msub></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Plug out and capacitors discharged before any ohm range: a charged capacitor kills, and breaks the meter. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A secondary reads 2.4 Ω, the probes pressed together 0.3 Ω; the meter is good for ±(0.8 % + 1) with a last figure of 0.1 Ω.",
		Inputs: []calc.Setting{{Name: "reading", Value: "2.4 Ω"}, {Name: "shorted", Value: "0.3 Ω"}, {Name: "percent", Value: "0.8 %"}, {Name: "counts", Value: "1"}, {Name: "step", Value: "0.1 Ω"}},
		Prints: []calc.Setting{{Name: "ohms", Value: "2.10 Ω"}, {Name: "lowest", Value: "1.882 Ω"}, {Name: "highest", Value: "2.32 Ω"}, {Name: "share", Value: "14.3 %"}},
	},
	Onward: []calc.Onward{{Calculator: "earth-bond", Says: "Is this earth path good enough?", Takes: []calc.Take{{From: "ohms", To: "reading"}}}},
}

// Bounds of trust, as the share of the error in the result: our choice.
const trusted, useless = 0.15, 0.5

// wornLeads is where leads are replaced; sources in the package comment.
const wornLeads, wornLeadsLater = 0.5, 1.0

// worst is the largest error of the difference of two readings by the same meter: the
// counts of both may add, the percentage scales the true difference.
func worst(difference, percent, counts, step, contact float64) float64 {
	fixed := 2 * counts * step
	return float64(percent*(math.Abs(difference)+fixed)) + fixed + contact
}

func ohmText(x float64) string { return quantity.Of(quantity.Resistance, x).Text() }

func run(in calc.In, out *calc.Out) error {
	if in.Reading("shorted").IsAbove() {
		return calc.Bad("shorted", "Reading with the probes pressed together: no end there means a broken lead, a plug that is not in, or the fuse of the current socket; mend that first")
	}
	if in.Reading("reading").IsAbove() {
		out.Say("verdict", "open", "The part is open, or above what this range shows; the ohms of the leads do not matter there.")
		return nil
	}
	if in.Has("current") != in.Has("drop") {
		missing, label := "drop", "Four wires: volts on the part"
		if in.Has("drop") {
			missing, label = "current", "Four wires: current through the part"
		}
		return calc.Bad(missing, label+": current and volts are needed together, for instance 1 A and 85 mV")
	}
	r := in.Num("reading") - in.Num("shorted")
	off := worst(r, in.Num("percent"), in.Num("counts"), in.Num("step"), in.Num("contact"))
	if r < -off {
		return calc.Bad("reading", "Reading on the part: it lies below that of the pressed probes by more than the meter's error; press them together again, and see that no null key is active")
	}
	out.Set("error", off)
	out.Set("highest", r+off)
	if r > 0 {
		out.Set("ohms", r)
		out.Set("share", in.Num("shorted")/r)
	}
	if r-off > 0 {
		out.Set("lowest", r-off)
	}
	switch {
	case r <= 0:
		out.Say("verdict", "too-low", "Too low for this meter: all that can be said is at most "+ohmText(r+off)+". Use four wires.")
	case off <= trusted*r:
		out.Say("verdict", "good", "Good to a "+word(off/r)+" of its value.")
	case off <= useless*r:
		out.Say("verdict", "rough", "Rough: enough to tell open from closed, not to compare two windings.")
	default:
		out.Say("verdict", "too-low", "Too low for this meter: the error is half of it or more. Use four wires.")
	}
	leads(in.Num("shorted"), out)
	if in.Has("drop") {
		out.Set("four-wire", in.Num("drop")/in.Num("current"))
	}
	return nil
}

// word names a share of at most trusted.
func word(share float64) string {
	switch {
	case share <= 0.01:
		return "hundredth"
	case share <= 0.05:
		return "twentieth"
	}
	return "seventh"
}

func leads(ohms float64, out *calc.Out) {
	switch {
	case ohms <= wornLeads:
		out.Say("leads", "good", "Good: at most 0.5 Ω.")
	case ohms <= wornLeadsLater:
		out.Say("leads", "sources-differ", "Replace them by one source (above 0.5 Ω), not yet by another (above 1 Ω); clean the plugs first.")
	default:
		out.Say("leads", "replace", "Replace them: above 1 Ω a wire, a plug or the meter's fuse is failing.")
	}
}
