package divider

import (
	_ "embed"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives the volts of a divider.
var Calculator = &calc.Calculator{
	Name:    "divider",
	Title:   "Voltage divider, loaded",
	For:     "Tells what the tap of two resistors should read, with and without a load or a meter on it.",
	Shelf:   "passive",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "supply", Label: "Voltage across both", Kind: quantity.Voltage, Default: "12 V", Low: "1 mV", High: "100 kV"},
		{Name: "upper", Label: "Upper resistor, R1", Kind: quantity.Resistance, Default: "10 kΩ", Low: "0.01 Ω", High: "10 GΩ"},
		{Name: "lower", Label: "Lower resistor, R2", Kind: quantity.Resistance, Default: "4.7 kΩ", Low: "0.01 Ω", High: "10 GΩ", Help: "The one across which the tap is taken."},
		{Name: "load", Label: "Load at the tap", Kind: quantity.Resistance, Or: []quantity.Kind{quantity.Current}, Optional: true, Low: "0.01 Ω", High: "10 GΩ",
			Help: "In ohms, or in amperes; a digital meter is about 10 MΩ."},
	},
	Outputs: []calc.Output{
		{Name: "loaded", Label: "Voltage at the tap, loaded", Kind: quantity.Voltage, Main: true},
		{Name: "unloaded", Label: "Voltage at the tap without load", Kind: quantity.Voltage, Main: true},
		{Name: "sag", Label: "Lost by the load", Kind: quantity.Percent},
		{Name: "inner", Label: "Inner resistance of the tap", Kind: quantity.Resistance, Help: "R1 and R2 in parallel."},
		{Name: "supply-current", Label: "Current from the supply", Kind: quantity.Current},
		{Name: "load-current", Label: "Current into the load", Kind: quantity.Current},
		{Name: "upper-power", Label: "Power in R1", Kind: quantity.Power},
		{Name: "lower-power", Label: "Power in R2", Kind: quantity.Power},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>V</mi><mo>=</mo><msub><mi>V</mi><mn>0</mn></msub><mfrac><msub><mi>R</mi><mn>2</mn></msub><mrow><msub><mi>R</mi><mn>1</mn></msub>` +
		`<mo>+</mo><msub><mi>R</mi><mn>2</mn></msub></mrow></mfrac><mo>·</mo><mfrac><mi>R</mi><mrow><mi>R</mi><mo>+</mo><msub><mi>R</mi><mtext>inner</mtext></msub></mrow></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "A divider on rectified mains is live at every tap, and its capacitors stay charged. Clip on dead, hands out, read live, switch off, prove it is off."},
		{Signal: calc.Warning, Text: "Meter and leads must be rated for the voltage across both resistors, not for those of the tap. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A tap of 10 kΩ and 4.7 kΩ on 12 V feeds a load of 10 kΩ.",
		Inputs: []calc.Setting{{Name: "supply", Value: "12 V"}, {Name: "upper", Value: "10 kΩ"}, {Name: "lower", Value: "4.7 kΩ"}, {Name: "load", Value: "10 kΩ"}},
		Prints: []calc.Setting{{Name: "unloaded", Value: "3.84 V"}, {Name: "loaded", Value: "2.91 V"}, {Name: "inner", Value: "3.20 kΩ"}, {Name: "sag", Value: "24 %"}},
	},
	Plots: []calc.Plot{{Name: "volts", Title: "Voltage at the tap against the load",
		Says: "The voltage rises with the ohms of the load, steeply at first, and comes near the level without load; at the inner resistance they are half of it.", Chart: chart}},
	Onward: []calc.Onward{{Calculator: "meter-load", Says: "How much does the meter itself take off?", Takes: []calc.Take{{From: "unloaded", To: "source"}, {From: "inner", To: "series"}}}},
}

// unloaded is the voltage of the tap without load.
func unloaded(supply, upper, lower float64) float64 { return supply * lower / (upper + lower) }

// inner is the resistance of the divider seen from its tap.
func inner(upper, lower float64) float64 { return upper * lower / (upper + lower) }

// loaded is the voltage of a source with its inner resistance on a load in ohms.
func loaded(open, inner, load float64) float64 { return open * load / (load + inner) }

func run(in calc.In, out *calc.Out) error {
	supply, upper, lower := in.Num("supply"), in.Num("upper"), in.Num("lower")
	open, r := unloaded(supply, upper, lower), inner(upper, lower)
	tap, load := open, in.Value("load")
	switch {
	case !in.Has("load"):
	case load.Kind == quantity.Current:
		if load.Num < 0 {
			return calc.Bad("load", "a load draws current; write it without a minus")
		}
		if tap = open - float64(load.Num*r); tap < 0 {
			return calc.Bad("load", "this divider gives at most "+quantity.Of(quantity.Current, open/r).Text()+", into a short; a load of "+quantity.Of(quantity.Current, load.Num).Text()+" is not possible")
		}
	default:
		tap = loaded(open, r, load.Num)
	}
	out.Set("unloaded", open)
	out.Set("inner", r)
	if in.Has("load") {
		out.Set("loaded", tap)
		out.Set("sag", (open-tap)/open)
		if load.Kind == quantity.Current {
			out.Set("load-current", load.Num)
		} else {
			out.Set("load-current", tap/load.Num)
		}
	}
	out.Set("supply-current", (supply-tap)/upper)
	out.Set("upper-power", (supply-tap)*(supply-tap)/upper)
	out.Set("lower-power", tap*tap/lower)
	if supply > 200 {
		out.Note("Small resistors stand 200 to 350 V each: look up the voltage limit, not only the watts.")
	}
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	open, r := unloaded(in.Num("supply"), in.Num("upper"), in.Num("lower")), inner(in.Num("upper"), in.Num("lower"))
	unit, factor := "Ω", 1.0
	switch {
	case r >= 2e5:
		unit, factor = "MΩ", 1e6
	case r >= 200:
		unit, factor = "kΩ", 1e3
	}
	s := draw.Series{}
	const reach = 10 // inner resistances
	for i := 0; i <= 120; i++ {
		load := reach * r * float64(i) / 120
		s.X, s.Y = append(s.X, load/factor), append(s.Y, loaded(open, r, load))
	}
	c := draw.Chart{X: draw.Axis{Label: "load", Unit: unit}, Y: draw.Axis{Label: "tap", Unit: "V"}, Series: []draw.Series{s},
		Marks: []draw.Mark{{Y: open, Name: "no load", Level: true}}}
	if load := in.Value("load"); in.Has("load") && load.Kind == quantity.Resistance && load.Num <= reach*r {
		c.Marks = append(c.Marks, draw.Mark{X: load.Num / factor, Y: loaded(open, r, load.Num)})
	}
	return c, nil
}
