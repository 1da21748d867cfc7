package esr

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator judges an ESR reading.
var Calculator = &calc.Calculator{
	Name:    "esr",
	Title:   "ESR of an electrolytic capacitor",
	For:     "Tells whether an electrolytic's ESR reading is fine, worn, or a matter on which the tables differ.",
	Shelf:   "passive",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "capacitor", Label: "Capacitor", Kind: quantity.Capacitance, Default: "100 µF", Low: "0.1 µF", High: "1 F"},
		{Name: "volts", Label: "Rated voltage", Kind: quantity.Voltage, Default: "25 V", Low: "1 V", High: "1000 V"},
		{Name: "reading", Label: "ESR as read", Reading: true, Kind: quantity.Resistance, Default: "0.9 Ω", Low: "0.1 mΩ", High: "10 kΩ", Help: "Leads nulled, capacitor discharged, one leg out."},
		{Name: "measured-at", Label: "Frequency of the meter", Folded: true, Kind: quantity.Frequency, Default: "100 kHz", Low: "10 Hz", High: "10 MHz"},
		{Name: "sheet", Label: "Highest ESR by the data sheet", Kind: quantity.Resistance, Optional: true, Low: "0.1 mΩ", High: "1 kΩ",
			Help: "At the frequency of the meter. It decides, if known."},
		{Name: "tan-delta", Label: "tan δ by the data sheet", Folded: true, Kind: quantity.Ratio, Optional: true, Low: "0.001", High: "2"},
		{Name: "tan-delta-at", Label: "stated for", Folded: true, Kind: quantity.Frequency, Default: "120 Hz", Low: "50 Hz", High: "1 kHz"},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "table-a", Label: "New at worst, table A", Kind: quantity.Resistance},
		{Name: "table-b", Label: "New at worst, table B", Kind: quantity.Resistance},
		{Name: "differ", Label: "Tables differ by a factor of", Kind: quantity.Ratio},
		{Name: "from-tan-delta", Label: "ESR by tan δ, at its frequency only", Kind: quantity.Resistance},
		{Name: "reactance", Label: "Reactance at the meter's frequency", Kind: quantity.Resistance, Help: "A meter that shows impedance shows at least this."},
	},
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><mtext>ESR</mtext><mo>=</mo><mfrac><mrow><mi>tan</mi><mi>δ</mi></mrow><mrow><mn>2</mn><mi>π</mi><mi>f</mi><mi>C</mi></mrow></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Discharge the capacitor through a rated resistor and measure that it is empty: the charge of a bulk capacitor kills and destroys the ESR meter."},
		{Signal: calc.Warning, Text: "Unplug before the meter goes on. A bulging or leaking capacitor is replaced whatever it reads. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "An electrolytic of 100 µF 25 V reads 0.9 Ω out of circuit; no data sheet is at hand.",
		Inputs: []calc.Setting{{Name: "capacitor", Value: "100 µF"}, {Name: "volts", Value: "25 V"}, {Name: "reading", Value: "0.9 Ω"}},
		Prints: []calc.Setting{{Name: "table-a", Value: "320 mΩ"}, {Name: "table-b", Value: "1.400 Ω"},
			{Name: "verdict", Value: "The tables differ: above the 320 mΩ of one, below the 1.400 Ω of the other. Compare with a new part of the same kind, or its twin in the device."}},
	},
	Plots: []calc.Plot{{Name: "tables", Title: "Highest ESR when new, by two tables",
		Says: "Two curves of ESR against rated volts for this capacitance, far apart: table A jagged and mostly lower, table B falling evenly; the level is the reading.", Chart: chart}},
	Onward: []calc.Onward{{Calculator: "discharge", Says: "How long must it be discharged first?", Takes: []calc.Take{{From: "capacitor", To: "capacitor"}, {From: "volts", To: "volts"}}}},
}

// fromTanDelta is the ESR at frequency f, for which tan δ is stated.
func fromTanDelta(tanDelta, f, c float64) float64 { return tanDelta / (2 * math.Pi * f * c) }

// reactance of a capacitor.
func reactance(f, c float64) float64 { return 1 / (2 * math.Pi * f * c) }

// worn is the multiple of the limit from which both table A's note and makers' end of
// life call a capacitor worn.
const worn = 2

func ohms(x float64) string { return quantity.Of(quantity.Resistance, x).Text() }

func run(in calc.In, out *calc.Out) error {
	c, volts, f := in.Num("capacitor"), in.Num("volts"), in.Num("measured-at")
	out.Set("reactance", reactance(f, c))
	if volts < 10 {
		out.Note("The tables begin at 10 V; their column of 10 V is used.")
	}
	a, hasA := tableA.limit(c*1e6, math.Max(volts, 10))
	b, hasB := tableB.limit(c*1e6, math.Max(volts, 10))
	if hasA {
		out.Set("table-a", a)
	}
	if hasB {
		out.Set("table-b", b)
	}
	if hasA && hasB {
		out.Set("differ", math.Max(a/b, b/a))
	}
	if in.Has("tan-delta") {
		tan, at := in.Num("tan-delta"), in.Num("tan-delta-at")
		out.Set("from-tan-delta", fromTanDelta(tan, at, c))
		if !near(f, at) {
			hertz := func(x float64) string { return quantity.Of(quantity.Frequency, x).Text() }
			out.Note("tan δ holds at " + hertz(at) + " and does not scale: at " + hertz(f) + " the formula would give " + ohms(fromTanDelta(tan, f, c)) + ", which is wrong; data sheets state ESR there by itself.")
		}
	}
	word, sentence := in.Judge("reading", func(reading float64) (string, string) { return judge(in, reading, a, b, hasA, hasB) })
	if in.Reading("reading").IsAbove() && word != calc.CannotTell {
		word, sentence = "worn", "Worn out, or open: more than the meter can show. Prove the meter on a good one, then replace it."
	}
	out.Say("verdict", word, sentence)
	out.Note("Measure the capacitance too: ESR alone does not show a capacitor that has lost it, nor one that leaks.")
	return nil
}

// near tells whether two frequencies are as good as the same, as 100 and 120 Hz are.
func near(f, g float64) bool { return f <= 1.25*g && g <= 1.25*f }

// judge gives the verdict: the data sheet first, then tan δ at its own frequency, then
// the tables.
func judge(in calc.In, reading, a, b float64, hasA, hasB bool) (word, sentence string) {
	limit, by := in.Num("sheet"), "the data sheet"
	if !in.Has("sheet") && in.Has("tan-delta") && near(in.Num("measured-at"), in.Num("tan-delta-at")) {
		limit, by = fromTanDelta(in.Num("tan-delta"), in.Num("tan-delta-at"), in.Num("capacitor")), "tan δ"
	}
	switch {
	case limit == 0:
	case reading > worn*limit:
		return "worn", "Worn: more than twice the " + ohms(limit) + " of " + by + "."
	case reading > limit:
		return "above-sheet", "Above the " + ohms(limit) + " of " + by + ", below twice that: on its way out; replace it while the device is open."
	default:
		return "within-sheet", "Within the " + ohms(limit) + " of " + by + "."
	}
	switch low, high := math.Min(a, b), math.Max(a, b); {
	case in.Num("measured-at") < 1e4:
		return "cannot-compare", "The tables are for ESR meters, which measure at about 100 kHz; at this frequency use tan δ or the data sheet."
	case !hasA && !hasB:
		return "no-table", "Neither table reaches this capacitor: use the data sheet, a new part of the same kind, or its twin."
	case hasA != hasB:
		return oneTable(reading, high)
	case reading > worn*high:
		return "worn", "Worn by both tables: more than twice the larger, " + ohms(high) + "."
	case reading > high:
		return "suspect", "Suspect: above both tables, " + ohms(low) + " and " + ohms(high) + ", below twice the larger."
	case reading > low:
		return "tables-differ", "The tables differ: above the " + ohms(low) + " of one, below the " + ohms(high) + " of the other. Compare with a new part of the same kind, or its twin in the device."
	default:
		return "below-both", "Fine by both tables, up to " + ohms(low) + " and " + ohms(high) + "; a low-ESR type must be far below them."
	}
}

// oneTable judges where only one table has a value; the other may well differ.
func oneTable(reading, limit float64) (word, sentence string) {
	only := " (one table only; where there are two they differ by up to four times)."
	switch {
	case reading > worn*worn*limit:
		return "worn", "Worn: more than four times the " + ohms(limit) + " of the table" + only
	case reading > limit:
		return "suspect", "Suspect: above the " + ohms(limit) + " of the table" + only
	}
	return "below-one", "Fine by the table, up to " + ohms(limit) + only
}

func chart(in calc.In) (draw.Chart, error) {
	c := in.Num("capacitor")
	var curves []draw.Series
	for _, t := range []table{tableA, tableB} {
		s := draw.Series{Name: "table " + t.name, Dashed: t.name == "B"}
		for _, v := range t.volts {
			if limit, ok := t.limit(c*1e6, v); ok {
				s.X, s.Y = append(s.X, v), append(s.Y, limit)
			}
		}
		if len(s.X) > 1 {
			curves = append(curves, s)
		}
	}
	if len(curves) == 0 {
		return draw.Chart{}, calc.Bad("capacitor", "neither table reaches this capacitor")
	}
	marks := []draw.Mark{{Y: in.Num("reading"), Name: "reading", Level: true}}
	top := 0.0
	for _, s := range curves {
		for _, y := range s.Y {
			top = math.Max(top, y)
		}
	}
	if in.Num("reading") > 3*top {
		marks = nil // it would press the curves flat
	}
	return draw.Chart{X: draw.Axis{Label: "rated voltage", Unit: "V"}, Y: draw.Axis{Label: "ESR", Unit: "Ω"}, Series: curves, Marks: marks}, nil
}
