package verdict

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
	"faultleaf/calc/supply"
)

//go:embed doc.go
var doc string

// Calculator is the calculator "winding-verdict".
var Calculator = &calc.Calculator{
	Name: "winding-verdict", Title: "What a winding's ohms prove", Shelf: "winding",
	Circuit: circuit,
	For:     "Open or not open, plausible for its power or not, and how many shorted turns the meter would not see.",
	Inputs: []calc.Input{
		{Name: "ohms", Label: "Reading", Kind: quantity.Resistance, Reading: true, Default: "38 Ω", High: "1000 GΩ", Help: "Plug out, winding free; OL with its range, like OL on 2 MΩ, if the meter shows no end."},
		{Name: "leads", Label: "Leads, probes pressed together", Kind: quantity.Resistance, Default: "0.2 Ω", Low: "0 Ω", High: "100 Ω", Help: "0 with four wires."},
		{Name: "volts", Label: "Voltage of this winding", Kind: quantity.Voltage, Optional: true, Low: "1 V", High: "1000 V", Help: "Rated; needed with the size to tell what is plausible."},
		{Name: "size", Label: "Size of the transformer", Kind: quantity.ApparentPower, Or: []quantity.Kind{quantity.Power}, Optional: true, Low: "0.5 VA", High: "5000 VA"},
		{Name: "turns", Label: "Turns of the winding", Folded: true, Kind: quantity.Count, Default: "1000", Low: "1", High: "100000", Help: "About 1000 for 230 V at 50 VA; the turns ratio's page finds them by a test winding."},
		{Name: "error", Label: "Error of the meter", Folded: true, Kind: quantity.Percent, Default: "0.8 %", Low: "0 %", High: "50 %"},
		{Name: "temperature", Label: "Temperature of the copper is known to within", Folded: true, Kind: quantity.Rise, Default: "3 K", Low: "0 K", High: "100 K"},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "winding", Label: "The winding alone", Kind: quantity.Resistance, Main: true},
		{Name: "plausible", Label: "Plausible for its power", Kind: quantity.Resistance},
		{Name: "one-turn", Label: "One shorted turn changes", Kind: quantity.Percent},
		{Name: "unseen", Label: "Shorted turns that the meter would not see", Kind: quantity.Ratio, Help: "turns"},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mrow><mi>R</mi><mo>≈</mo><mi>s</mi><mi>r</mi><mfrac><msup><mi>U</mi><mn>2</mn></msup><mi>S</mi></mfrac><mo>,</mo><mspace width="1em"/>` +
		`<mfrac><mrow><mi>Δ</mi><mi>R</mi></mrow><mi>R</mi></mfrac><mo>=</mo><mfrac><mn>1</mn><mi>N</mi></mfrac></mrow></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Plug out and capacitors discharged before the meter in ohms goes on. Never bridge a thermal link to see whether it runs. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Care, Text: "Taking the meter's lead off a large winding gives a kick of some hundred volts: do not hold both ends."},
	},
	Example: calc.Example{
		Says:   "The 230 V primary of a 100 VA transformer reads 24 Ω with leads of 0.2 Ω.",
		Inputs: []calc.Setting{{Name: "ohms", Value: "24 Ω"}, {Name: "volts", Value: "230 V"}, {Name: "size", Value: "100 VA"}},
		Prints: []calc.Setting{{Name: "winding", Value: "23.8 Ω"}, {Name: "one-turn", Value: "0.100 %"}, {Name: "unseen", Value: "19.79"}},
	},
	Onward: []calc.Onward{
		{Calculator: "lead-null", Says: "Few ohms: are the leads taken off rightly?", Takes: []calc.Take{{From: "leads", To: "shorted"}}},
		{Calculator: "winding-rise", Says: "How hot does it run? Cold and hot ohms tell.", Takes: []calc.Take{{From: "winding", To: "cold-resistance"}}},
		{Calculator: "series-lamp", Says: "Would a series lamp show shorted turns?"},
		{Calculator: "insulation", Says: "Is its insulation good?"},
	},
}

// alpha is the temperature coefficient of copper at 20 °C per kelvin, IEC 60028.
const alpha = .00393

// unseen is how many of turns may be shorted within the error of the meter, a
// fraction, and of the copper's temperature, in kelvin.
func unseen(turns, fault, kelvin float64) float64 {
	return math.Min(turns, turns*(fault+float64(alpha*kelvin)))
}

func run(in calc.In, out *calc.Out) error {
	turns := in.Num("turns")
	out.Set("one-turn", 1/turns)
	out.Set("unseen", unseen(turns, in.Num("error"), in.Num("temperature")))
	judged := in.Has("volts") && in.Has("size")
	low, high := 0.0, math.Inf(1)
	if judged {
		low, high = supply.Winding(in.Num("volts"), in.Num("size"))
		out.SetRange("plausible", low, high)
	}
	text := func(ohms float64) string { return quantity.Of(quantity.Resistance, ohms).Text() }
	leads := in.Num("leads")
	if r := in.Reading("ohms"); r.Bounded() {
		ohms := in.Num("ohms")
		if ohms < leads*.95 {
			return calc.Bad("leads", "Leads: the reading, "+text(ohms)+", is below that of the leads alone, "+text(leads)+"; press the probes together and read again, or enter 0 Ω for four wires")
		}
		out.Set("winding", math.Max(0, ohms-leads))
	}
	one := turnsText(in)
	class := func(ohms float64) (word, says string) {
		switch {
		case math.IsInf(ohms, 1):
			return "open", "Open. The wire is broken, a joint is off, or the link in series has opened; look for the link and for why it opened."
		case ohms > 1e6 || judged && ohms > 100*high:
			return "open", "Open, or as good as: " + text(ohms) + " is no winding of this power. A broken wire, a joint, or the link in series; leakage may make the reading."
		case ohms < math.Max(leads, .05):
			return "near-short", "Not open. Too few ohms for these leads to tell a winding from a short: read with four wires."
		case judged && ohms > high:
			return "not-open-high", "Not open, but above what is plausible for its power (" + quantity.Between(quantity.Resistance, low, high).Text() + "): a bad joint, corroded wire, or another winding or size than thought."
		case judged && ohms < low:
			return "not-open-low", "Not open, but below what is plausible for its power (" + quantity.Between(quantity.Resistance, low, high).Text() + "): many shorted turns, something in parallel, or another winding or size than thought."
		case judged:
			return "not-open-plausible", "Not open, and plausible for its power. That does not make it good: " + one
		}
		return "not-open", "Not open. Enter its volts and size to learn whether it is plausible. That would not make it good: " + one
	}
	r := in.Reading("ohms")
	word, says := in.Judge("ohms", func(ohms float64) (string, string) {
		if r.Shows == reading.Over && r.Limit() > high { // above any healthy one
			ohms = math.Inf(1)
		}
		return class(math.Max(0, ohms-leads))
	})
	out.Say("verdict", word, says)
	return nil
}

// turnsText says what stays hidden.
func turnsText(in calc.In) string {
	n := unseen(in.Num("turns"), in.Num("error"), in.Num("temperature"))
	some := "a shorted turn"
	if n >= 2 {
		some = quantity.Of(quantity.Count, math.Floor(n)).Text() + " shorted turns"
	}
	return some + " of " + quantity.Of(quantity.Count, in.Num("turns")).Text() + " would not show. Off load through a series lamp they do."
}
