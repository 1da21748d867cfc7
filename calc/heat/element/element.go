package element

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

// Calculator gives the ohms of an element from its plate.
var Calculator = &calc.Calculator{
	Name:    "element",
	Title:   "Ohms of a heating element",
	For:     "Tells what a heating element or filament should read, cold and hot, from its rating plate.",
	Shelf:   "heat",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "power", Label: "Rated power", Kind: quantity.Power, Default: "2 kW", Low: "0.1 W", High: "100 kW",
			Help: "From the rating plate. Take a fan motor's or a lamp's share off first."},
		{Name: "mains", Label: "Rated mains", Kind: quantity.Voltage, Default: "230 V", From: calc.Rated, Low: "1 V", High: "1000 V",
			Help: "The volts for which that power is stated."},
		{Name: "supply", Label: "Mains that it gets", Folded: true, Kind: quantity.Voltage, Optional: true, Low: "1 V", High: "1000 V",
			Help: "Leave empty for the rated mains."},
		{Name: "material", Label: "Made of", Default: "resistance-wire", Choices: []calc.Choice{
			{Name: "resistance-wire", Label: "Resistance wire"},
			{Name: "tungsten", Label: "Tungsten filament"},
			{Name: "ptc", Label: "PTC ceramic"}}},
		{Name: "running", Label: "Temperature of the wire in use", Folded: true, Kind: quantity.Temperature, Default: "250 °C", Low: "20 °C", High: "1100 °C",
			Help: "About 250 °C in a blower, 600 °C dull red, 900 °C orange. It moves the result by 7 % at most."},
		{Name: "tolerance", Label: "Tolerance of the rated power", Folded: true, Kind: quantity.Percent, Optional: true, Low: "0 %", High: "30 %",
			Help: "The same over and under. Leave empty for the usual limits of heating appliances."},
	},
	Outputs: []calc.Output{
		{Name: "cold", Label: "Resistance cold", Kind: quantity.Resistance, Main: true, Help: "At 20 °C, away from the circuit."},
		{Name: "cold-range", Label: "A healthy one reads", Kind: quantity.Resistance, Main: true},
		{Name: "half-cold-range", Label: "With one of two equal parts open", Kind: quantity.Resistance, Help: "Two equal parts in parallel, one of them open."},
		{Name: "hot", Label: "Resistance hot", Kind: quantity.Resistance},
		{Name: "power-at-supply", Label: "Power at this mains", Kind: quantity.Power},
		{Name: "current", Label: "Current at this mains", Kind: quantity.Current},
		{Name: "verdict", Label: "What cold ohms tell"},
	},
	Compute: run,
	Pairs:   [][2]string{{"mains", "power"}},
	Doc:     doc,
	MathML: `<math display="block"><msub><mi>R</mi><mtext>hot</mtext></msub><mo>=</mo><mfrac><msup><mi>V</mi><mn>2</mn></msup><mi>P</mi></mfrac>` +
		`<mo>,</mo><mspace width="1em"/><msub><mi>R</mi><mtext>cold</mtext></msub><mo>=</mo><mfrac><msub><mi>R</mi><mtext>hot</mtext></msub><mi>k</mi></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Pull the plug and let it cool before a meter in ohms touches it. Take off one lead of the element. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Care, Text: "Right ohms do not prove insulation. Test insulation and earth bond before it goes back to its owner."},
	},
	Example: calc.Example{
		Says:   "A fan heater of 2 kW and 230 V blows lukewarm. Its element is two equal parts in parallel.",
		Inputs: []calc.Setting{{Name: "power", Value: "2 kW"}, {Name: "mains", Value: "230 V"}},
		Prints: []calc.Setting{{Name: "cold", Value: "25.9 Ω"}, {Name: "current", Value: "8.70 A"}, {Name: "cold-range", Value: "23.3–29.4 Ω"},
			{Name: "half-cold-range", Value: "46.6–58.8 Ω"}, {Name: "verdict", Value: "Resistance wire reads nearly the same cold and hot, so cold ohms are a fair test of its power."}},
	},
	Plots: []calc.Plot{{Name: "ohms", Title: "Cold ohms against rated power",
		Says: "Resistance falls as rated power rises; the second curve, twice as high, is an element of two parts with one open.", Chart: chart}},
}

// Resistivity of nickel-chromium 79/21 in 10⁻⁸ Ω·m: CRC Handbook wire table.
const nichrome20, nichrome100 = 107.5, 108.3

// Resistivity of tungsten in 10⁻⁸ Ω·m at 20 and 100 °C: the same table.
const tungsten20, tungsten100 = 5.28, 7.18

// highestWireRatio is the most by which resistance wire is higher hot than cold
// (from memory: alloy data sheets stay within 8 %).
const highestWireRatio = 1.08

// wireRatio is resistance at t (°C) over that at 20 °C, by the slope of the CRC
// Handbook wire table between 20 and 100 °C.
func wireRatio(t float64) float64 {
	return 1 + float64((nichrome100/nichrome20-1)/80*(t-20))
}

// hotOhms is V²/P.
func hotOhms(volts, watts float64) float64 { return volts * volts / watts }

// limits are how far rated power may stray, as fractions under and over: EN
// 60335-1 clause 10, from memory.
func limits(watts float64) (under, over float64) {
	switch {
	case watts <= 25:
		return 0.20, 0.20
	case watts <= 200:
		return 0.10, 0.10
	}
	return 0.10, 0.05
}

// coldOhms is the likely cold resistance and the ratios of hot to cold at the ends.
func coldOhms(in calc.In) (cold, leastRatio, mostRatio float64) {
	hot := hotOhms(in.Num("mains"), in.Num("power"))
	if in.Word("material") == "tungsten" {
		return hot / heat.LikelyHotOverCold, heat.LeastHotOverCold, heat.MostHotOverCold
	}
	return hot / wireRatio(in.Num("running")), 1, math.Max(highestWireRatio, wireRatio(in.Num("running")))
}

func run(in calc.In, out *calc.Out) error {
	volts, watts := in.Num("mains"), in.Num("power")
	hot := hotOhms(volts, watts)
	out.Set("hot", hot)
	supply := volts
	if in.Has("supply") {
		supply = in.Num("supply")
	}
	if supply > 1.5*volts {
		return calc.Bad("supply", "The mains that it gets, "+quantity.Of(quantity.Voltage, supply).Text()+", would burn out an element for "+
			quantity.Of(quantity.Voltage, volts).Text()+"; up to one and a half times the rated mains can be computed")
	}
	material := in.Word("material")
	fraction := supply / volts
	switch material {
	case "resistance-wire":
		out.Set("power-at-supply", watts*fraction*fraction)
		out.Set("current", watts/volts*fraction)
	case "tungsten":
		out.Set("current", watts/volts*heat.Current(fraction))
		out.Set("power-at-supply", watts*fraction*heat.Current(fraction))
	case "ptc":
		if fraction == 1 {
			out.Set("power-at-supply", watts)
			out.Set("current", watts/volts)
		}
		out.Say("verdict", "ohms-mislead", "Cold ohms tell nothing of a PTC heater's power; only open or not. Measure its current when it is warm.")
		out.Note("A PTC heater holds its temperature, so its power does not follow the square of the volts; none is given for another mains.")
		return nil
	}
	cold, least, most := coldOhms(in)
	out.Set("cold", cold)
	under, over := limits(watts)
	if in.Has("tolerance") {
		under, over = in.Num("tolerance"), in.Num("tolerance")
	}
	low, high := hot/(1+over)/most, hot/(1-under)/least
	out.SetRange("cold-range", low, high)
	if 2*low > high {
		out.SetRange("half-cold-range", 2*low, 2*high)
	} else {
		out.Note("With limits as wide as these one reading cannot tell a whole element from one with an open half; compare both parts one by one.")
	}
	if material == "tungsten" {
		out.Say("verdict", "ohms-mislead", "A filament reads a tenth to a sixteenth of its hot ohms when cold; that is no short, and power reckoned from it is far too high.")
		out.Note("Let it cool first: at 100 °C a filament already reads " + quantity.Of(quantity.Ratio, tungsten100/tungsten20).Text() + " times its ohms at 20 °C.")
	} else {
		out.Say("verdict", "ohms-tell", "Resistance wire reads nearly the same cold and hot, so cold ohms are a fair test of its power.")
	}
	if low < 10 {
		out.Note("Below 10 Ω the meter's leads count: touch their tips together first and take that reading off.")
	}
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	watts := in.Num("power")
	whole := draw.Series{Name: "whole"}
	half := draw.Series{Name: "one of two open", Dashed: true}
	c := draw.Chart{X: draw.Axis{Label: "rated power", Unit: "W"}, Y: draw.Axis{Label: "cold resistance", Unit: "Ω"}}
	if in.Word("material") == "ptc" {
		return c, calc.Bad("material", "A PTC heater has no cold resistance that follows from its power; choose another material for the curve")
	}
	for i := 0; i <= 60; i++ {
		p := watts * (0.5 + 1.5*float64(i)/60)
		r, _, _ := coldOhms(in.With("power", p))
		whole.X, whole.Y = append(whole.X, p), append(whole.Y, r)
		half.X, half.Y = append(half.X, p), append(half.Y, 2*r)
	}
	r, _, _ := coldOhms(in)
	c.Series = []draw.Series{whole, half}
	c.Marks = []draw.Mark{{X: watts, Y: r, Name: "this one"}}
	return c, nil
}
