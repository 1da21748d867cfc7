package led

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/passive"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives the series resistor of light-emitting diodes.
var Calculator = &calc.Calculator{
	Name:    "led",
	Title:   "Resistor for a light-emitting diode",
	For:     "Tells the series resistor for light-emitting diodes, its heat, and the current that a fitted one gives.",
	Shelf:   "semiconductor",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "supply", Label: "Supply, DC", Kind: quantity.Voltage, Default: "12 V", Low: "1 V", High: "400 V"},
		{Name: "colour", Label: "Colour", Default: "red", Choices: []calc.Choice{
			{Name: "infrared", Label: "Infrared"}, {Name: "red", Label: "Red"}, {Name: "orange", Label: "Orange"}, {Name: "yellow", Label: "Yellow"},
			{Name: "green", Label: "Green, yellowish"}, {Name: "pure-green", Label: "Green, bright and bluish"}, {Name: "blue", Label: "Blue"},
			{Name: "white", Label: "White"}, {Name: "ultraviolet", Label: "Ultraviolet"}}},
		{Name: "drop", Label: "Forward voltage, if known", Kind: quantity.Voltage, Optional: true, Low: "0.8 V", High: "5 V", Help: "Of one diode, measured or from its data sheet; counts more than the colour."},
		{Name: "count", Label: "How many in series", Kind: quantity.Count, Default: "1", Low: "1", High: "100"},
		{Name: "current", Label: "Current wanted", Kind: quantity.Current, Default: "10 mA", Low: "10 µA", High: "5 A", Help: "2 to 20 mA for an indicator."},
		{Name: "resistor", Label: "Resistor fitted", Kind: quantity.Resistance, Optional: true, Low: "0.1 Ω", High: "10 MΩ"},
	},
	Outputs: []calc.Output{
		{Name: "resistor-for", Label: "Resistor for that current", Kind: quantity.Resistance, Limit: quantity.Lowest, Main: true, Help: "Of a range the upper end counts."},
		{Name: "preferred", Label: "Next in E24, not smaller", Kind: quantity.Resistance, Limit: quantity.Lowest, Main: true},
		{Name: "current-is", Label: "Current", Kind: quantity.Current, Main: true, Help: "With the resistor fitted, else with the one of E24."},
		{Name: "current-band", Label: "Current over the band of forward voltage", Kind: quantity.Current},
		{Name: "resistor-power", Label: "Heat in the resistor", Kind: quantity.Power, Help: "Rate it for twice this."},
		{Name: "drop-band", Label: "Forward voltage of all together", Kind: quantity.Voltage},
		{Name: "verdict", Label: "Verdict"},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>R</mi><mo>=</mo><mfrac><mrow><msub><mi>V</mi><mtext>supply</mtext></msub><mo>−</mo><mi>n</mi><msub><mi>V</mi><mi>f</mi></msub></mrow>` +
		`<mi>I</mi></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Diodes fed from the mains through a capacitor or resistor, and most lamps with a screw cap, are live in all their parts; a resistor or capacitor isolates nothing. Plug out, capacitors discharged and measured. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Care, Text: "Bright and infrared diodes harm the eye; do not look into them."},
	},
	Example: calc.Example{
		Says:   "A red pilot light on a 12 V supply is to carry 10 mA.",
		Inputs: []calc.Setting{{Name: "supply", Value: "12 V"}, {Name: "colour", Value: "red"}, {Name: "current", Value: "10 mA"}},
		Prints: []calc.Setting{{Name: "resistor-for", Value: "1.000 kΩ"}, {Name: "preferred", Value: "1.000 kΩ"}, {Name: "resistor-power", Value: "100.0 mW"}},
	},
	Onward: []calc.Onward{{Calculator: "combine", Says: "Is there a pair in the drawer for it?", Takes: []calc.Take{{From: "resistor-for", To: "wanted"}}}},
	Plots: []calc.Plot{{Name: "supply", Title: "Current against supply voltage",
		Says: "Nothing flows up to the forward volts; from there the current rises in a straight line, the steeper the smaller the resistor. Dashed are the lowest and highest forward volts.", Chart: chart}},
}

// bands of forward volts near 20 mA: lowest, typical, highest; sources in the package comment.
var bands = map[string][3]float64{
	"infrared":    {1.1, 1.2, 1.5},
	"red":         {1.7, 2.0, 2.2},
	"orange":      {1.9, 2.1, 2.4},
	"yellow":      {2.0, 2.2, 2.4},
	"green":       {2.0, 2.2, 2.4},
	"pure-green":  {3.0, 3.2, 3.5},
	"blue":        {2.7, 3.1, 3.3},
	"white":       {3.0, 3.1, 3.3},
	"ultraviolet": {3.3, 3.6, 4.0},
}

// notSmaller is the least value of E24 that is not below r (Ω).
func notSmaller(r float64) float64 {
	for decade := int(math.Floor(math.Log10(r))) - 1; ; decade++ {
		for _, digits := range passive.Series(24) {
			if x := quantity.Round(passive.Amount(digits, decade), 10); x >= r*(1-1e-9) {
				return x
			}
		}
	}
}

// dropOf gives lowest, typical and highest forward volts of all diodes together.
func dropOf(in calc.In) (low, typical, high float64) {
	b := bands[in.Word("colour")]
	if in.Has("drop") {
		v := in.Value("drop")
		b = [3]float64{v.Low, v.Num, v.High}
	}
	n := in.Num("count")
	return n * b[0], n * b[1], n * b[2]
}

// chosen is the resistance in Ω that keeps the wanted current at the highest supply and the lowest known
// forward volts: one resistor has to do over the whole range.
func chosen(in calc.In) float64 {
	drop := in.Num("count") * bands[in.Word("colour")][1]
	if in.Has("drop") {
		drop = in.Num("count") * in.Whole("drop").Low
	}
	return (in.Whole("supply").High - drop) / in.Whole("current").High
}

// through is the current in A behind r ohms, none below the forward volts.
func through(supply, drop, r float64) float64 { return math.Max(0, (supply-drop)/r) }

func run(in calc.In, out *calc.Out) error {
	supply, want := in.Num("supply"), in.Num("current")
	if n := in.Num("count"); n != math.Trunc(n) {
		return calc.Bad("count", "How many in series: a whole number of diodes is possible")
	}
	low, typical, high := dropOf(in)
	out.SetRange("drop-band", low, high)
	if supply <= typical {
		out.Say("verdict", "too-few-volts", "Too few volts: the diodes alone drop "+volts(typical)+", and the resistor needs some too. Fewer in series, or more supply.")
		if in.Has("resistor") {
			out.SetRange("current-band", through(supply, high, in.Num("resistor")), through(supply, low, in.Num("resistor")))
		}
		return nil
	}
	r := (supply - typical) / want
	out.Set("resistor-for", r)
	next := notSmaller(chosen(in))
	out.Set("preferred", next)
	if in.Has("resistor") {
		next = in.Num("resistor")
	}
	i := through(supply, typical, next)
	most, least := through(supply, low, next), through(supply, high, next)
	out.Set("current-is", i)
	out.SetRange("current-band", least, most)
	out.Set("resistor-power", i*i*next)
	switch {
	case in.Has("resistor") && i > want*1.2:
		gives, wanted := quantity.Apart(quantity.Of(quantity.Current, i), quantity.Of(quantity.Current, want))
		out.Say("verdict", "too-much-current", "The fitted resistor gives "+gives+", more than the "+wanted+" wanted.")
	case in.Has("resistor") && i < want/3:
		out.Say("verdict", "dim", "The fitted resistor gives only "+amps(i)+": dim against the "+amps(want)+" wanted.")
	case least < i*0.6 || most > i*1.5:
		out.Say("verdict", "hangs-on-the-diode", "The resistor drops too little: from diode to diode the current may be "+quantity.Between(quantity.Current, least, most).Text()+". Fewer in series, more supply, or a current source.")
	default:
		out.Say("verdict", "steady", "Steady: over the band of forward volts the current stays within "+quantity.Between(quantity.Current, least, most).Text()+".")
	}
	return nil
}

func volts(v float64) string { return quantity.Of(quantity.Voltage, v).Text() }
func amps(a float64) string  { return quantity.Of(quantity.Current, a).Text() }

func chart(in calc.In) (draw.Chart, error) {
	low, typical, high := dropOf(in)
	supply := in.Num("supply")
	r := in.Num("resistor")
	if !in.Has("resistor") {
		if supply <= typical {
			return draw.Chart{}, calc.Bad("supply", "The supply must be above the forward volts for a curve; or enter a resistor")
		}
		r = notSmaller(chosen(in))
	}
	end := 1.5 * math.Max(supply, high)
	factor, unit := 1.0, "A"
	if through(end, low, r) < 1 {
		factor, unit = 1e-3, "mA"
	}
	line := func(drop float64, dashed bool) draw.Series {
		s := draw.Series{Dashed: dashed}
		for _, v := range []float64{0, drop, end} {
			s.X, s.Y = append(s.X, v), append(s.Y, through(v, drop, r)/factor)
		}
		return s
	}
	return draw.Chart{X: draw.Axis{Label: "supply", Unit: "V"}, Y: draw.Axis{Label: "current", Unit: unit},
		Series: []draw.Series{line(typical, false), line(low, true), line(high, true)},
		Marks:  []draw.Mark{{X: supply, Y: through(supply, typical, r) / factor, Name: "this supply"}}}, nil
}
