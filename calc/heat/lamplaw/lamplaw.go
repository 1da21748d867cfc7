package lamplaw

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/heat"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives a filament lamp away from its rated volts.
var Calculator = &calc.Calculator{
	Name:    "lamp-law",
	Title:   "Filament lamp at other volts",
	For:     "Tells current, watts, light and life of a filament lamp at volts other than its own, and what it should read cold.",
	Shelf:   "heat",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "power", Label: "Rated power", Kind: quantity.Power, Default: "60 W", Low: "0.1 W", High: "20 kW", Help: "As marked on its cap."},
		{Name: "rated", Label: "Rated voltage", Kind: quantity.Voltage, Default: "230 V", From: calc.Rated, Low: "1 V", High: "1000 V"},
		{Name: "volts", Label: "Voltage that it gets", Kind: quantity.Voltage, Default: "207 V", From: calc.LowMains, Low: "1 mV", High: "1000 V"},
		{Name: "cold", Label: "Resistance read cold", Reading: true, Kind: quantity.Resistance, Optional: true, Low: "1 mΩ", High: "100 kΩ",
			Help: "Out of its holder, after some minutes; leads taken off the reading below 10 Ω."},
	},
	Outputs: []calc.Output{
		{Name: "current", Label: "Current", Kind: quantity.Current, Main: true},
		{Name: "watts", Label: "Power", Kind: quantity.Power, Main: true},
		{Name: "light", Label: "Light, of the rated", Kind: quantity.Percent, Main: true},
		{Name: "life", Label: "Life, times the rated", Kind: quantity.Ratio},
		{Name: "colour", Label: "Colour temperature, of the rated", Kind: quantity.Percent},
		{Name: "hot", Label: "Resistance at this voltage", Kind: quantity.Resistance},
		{Name: "hot-rated", Label: "Resistance at the rated voltage", Kind: quantity.Resistance, Help: "V²/P of its marks."},
		{Name: "cold-range", Label: "A healthy one reads cold", Kind: quantity.Resistance},
		{Name: "first-current", Label: "Most at the first instant", Kind: quantity.Current, Help: "Cold, switched on at the peak of the mains."},
		{Name: "power-if-cold", Label: "Power if it stayed cold", Kind: quantity.Power, Help: "Why cold ohms tell nothing of the watts."},
		{Name: "watts-other", Label: "Power by the printed exponent 1.6", Kind: quantity.Power, Help: "See where sources disagree."},
		{Name: "reading", Label: "What the cold reading tells"},
	},
	Compute: run,
	Pairs:   [][2]string{{"rated", "power"}},
	Doc:     doc,
	MathML: `<math display="block"><mfrac><mi>I</mi><msub><mi>I</mi><mi>n</mi></msub></mfrac><mo>=</mo>` +
		`<msup><mrow><mo>(</mo><mfrac><mi>V</mi><msub><mi>V</mi><mi>n</mi></msub></mfrac><mo>)</mo></mrow><mn>0.55</mn></msup></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Pull the plug before a meter in ohms touches the lamp or its holder. The thread of a holder may be live. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Care, Text: "A lamp is hot enough to burn for minutes after it was on."},
	},
	Example: calc.Example{
		Says:   "A lamp of 60 W and 230 V gets 207 V, ten per cent less.",
		Inputs: []calc.Setting{{Name: "power", Value: "60 W"}, {Name: "rated", Value: "230 V"}, {Name: "volts", Value: "207 V"}},
		Prints: []calc.Setting{{Name: "current", Value: "246 mA"}, {Name: "watts", Value: "51.0 W"}, {Name: "light", Value: "69–70 %"},
			{Name: "life", Value: "3.54–5.40"}, {Name: "cold-range", Value: "55.1–88.2 Ω"}},
	},
	Plots: []calc.Plot{{Name: "current", Title: "Current against voltage",
		Says: "The current climbs steeply at first and then ever less, bent away from the straight line that a resistor of the same watts would draw.", Chart: chart}},
	Onward: []calc.Onward{{Calculator: "element", Says: "What would a heating element of the same marks read?",
		Takes: []calc.Take{{From: "power", To: "power"}, {From: "rated", To: "mains"}}}},
}

// What is printed beside the law, and where the law is trusted; see the package comment.
const (
	lifeLeast, lifeMost        = 12, 16
	colourExponent             = 0.42
	printedPower               = 1.6 // printed beside 0.55; see Sources disagree
	lifeFrom, lifeTo, lightMin = 0.7, 1.2, 0.3
)

// life is the life over the rated life, the lower number first.
func life(fraction float64) (low, high float64) {
	a, b := math.Pow(fraction, -lifeLeast), math.Pow(fraction, -lifeMost)
	return math.Min(a, b), math.Max(a, b)
}

func run(in calc.In, out *calc.Out) error {
	watts, rated, volts := in.Num("power"), in.Num("rated"), in.Num("volts")
	x := volts / rated
	if x > 1.5 {
		return calc.Bad("volts", "Volts that it gets: "+quantity.Of(quantity.Voltage, volts).Text()+" would burn out a lamp for "+
			quantity.Of(quantity.Voltage, rated).Text()+" at once; up to one and a half times the rated volts can be computed")
	}
	amps := watts / rated * heat.Current(x)
	hot := rated * rated / watts
	out.Set("current", amps)
	out.Set("watts", volts*amps)
	out.Set("watts-other", watts*math.Pow(x, printedPower))
	out.Set("hot", hot*heat.Ohms(x))
	out.Set("hot-rated", hot)
	out.Set("colour", math.Pow(x, colourExponent))
	if x >= lightMin {
		low, high := heat.Light(x)
		out.SetRange("light", low, high)
	} else {
		out.Note("Below 30 % of its volts the law says little of the light: a dull red at most, seen in the dark.")
	}
	if x >= lifeFrom && x <= lifeTo {
		low, high := life(x)
		out.SetRange("life", low, high)
	}
	low, high := heat.Cold(hot)
	out.SetRange("cold-range", low, high)
	if r := in.Reading("cold"); in.Has("cold") && !r.Bounded() {
		word, says := in.Judge("cold", func(ohms float64) (string, string) {
			switch {
			case ohms > high:
				return "open", "Open: the filament is broken, or a wire to it."
			case ohms < low:
				return "too-low", "Too low for this lamp: another one, or something else is read with it."
			}
			return "fits", "It reads; take a range that shows the figure."
		})
		out.Say("reading", word, says)
	}
	if !in.Has("cold") || !in.Reading("cold").Bounded() {
		out.SetRange("first-current", math.Sqrt2*volts/high, math.Sqrt2*volts/low)
		out.SetRange("power-if-cold", volts*volts/high, volts*volts/low)
		return nil
	}
	cold := in.Num("cold")
	out.Set("first-current", math.Sqrt2*volts/cold)
	out.Set("power-if-cold", volts*volts/cold)
	ratio := quantity.Of(quantity.Ratio, hot/cold).Text()
	switch {
	case cold < low:
		out.Say("reading", "too-low", "Too low: its hot resistance would be "+ratio+" times this. The marks are of another lamp, or something else is read with it.")
	case cold > high:
		out.Say("reading", "too-high", "Too high: its hot resistance would be only "+ratio+" times this. It is still warm, a contact is bad, or the marks are of another lamp.")
	default:
		out.Say("reading", "fits", "Fits: its hot resistance is "+ratio+" times this, as of a healthy filament.")
	}
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	watts, rated := in.Num("power"), in.Num("rated")
	lamp := draw.Series{Name: "lamp"}
	line := draw.Series{Name: "resistor of the same watts", Dashed: true}
	for i := 0; i <= 120; i++ {
		x := 1.2 * float64(i) / 120
		lamp.X, lamp.Y = append(lamp.X, rated*x), append(lamp.Y, watts/rated*heat.Current(x))
		line.X, line.Y = append(line.X, rated*x), append(line.Y, watts/rated*x)
	}
	c := draw.Chart{X: draw.Axis{Label: "voltage", Unit: "V"}, Y: draw.Axis{Label: "current", Unit: "A"}, Series: []draw.Series{lamp, line}}
	if x := in.Num("volts") / rated; x <= 1.2 {
		c.Marks = []draw.Mark{{X: in.Num("volts"), Y: watts / rated * heat.Current(x), Name: "here"}}
	}
	return c, nil
}
