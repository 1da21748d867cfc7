package zener

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives the resistors and loads with which a Zener diode holds its volts.
var Calculator = &calc.Calculator{
	Name:    "zener",
	Title:   "Zener diode and its resistor",
	For:     "Tells which series resistor a Zener diode needs, which loads it holds, and what both must stand.",
	Shelf:   "semiconductor",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "source", Label: "Source", Kind: quantity.Voltage, Default: "12 V", Low: "0.5 V", High: "5 kV", Help: "With its range: 12 V ± 10 %. For a smoothed supply its lowest and highest."},
		{Name: "zener", Label: "Zener voltage", Kind: quantity.Voltage, Default: "5.1 V", Low: "1.5 V", High: "400 V"},
		{Name: "rating", Label: "Rated power, or highest current", Kind: quantity.Power, Or: []quantity.Kind{quantity.Current}, Default: "0.5 W", Low: "10 mW", High: "100 W"},
		{Name: "least", Label: "Least current that holds it", Folded: true, Kind: quantity.Current, Default: "5 mA", Low: "0 A", High: "10 A", Help: "5 mA for small types; above the knee on the data sheet."},
		{Name: "load", Label: "Load, in ohms or amperes", Kind: quantity.Current, Or: []quantity.Kind{quantity.Resistance}, Optional: true, Low: "0 A", High: "100 A",
			Help: "At the Zener voltage. Leave empty for none."},
		{Name: "resistor", Label: "Series resistor fitted", Kind: quantity.Resistance, Optional: true, Low: "0.1 Ω", High: "100 MΩ", Help: "Leave empty to see which would work."},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "resistor-least", Label: "Smallest resistor, load off", Kind: quantity.Resistance, Limit: quantity.Lowest, Main: true, Help: "Of a range only the upper end counts."},
		{Name: "resistor-most", Label: "Largest resistor, load on", Kind: quantity.Resistance, Limit: quantity.Highest, Main: true, Help: "Of a range only the lower end counts."},
		{Name: "zener-current", Label: "Current in the diode, load on", Kind: quantity.Current},
		{Name: "zener-current-off", Label: "Current in the diode, load off", Kind: quantity.Current},
		{Name: "zener-power-off", Label: "Heat in the diode, load off", Kind: quantity.Power},
		{Name: "resistor-power", Label: "Heat in the resistor", Kind: quantity.Power},
		{Name: "resistor-power-shorted", Label: "The same if the diode shorts", Kind: quantity.Power},
		{Name: "highest-current", Label: "Highest current of the diode", Kind: quantity.Current, Limit: quantity.Highest},
		{Name: "load-least", Label: "Smallest load resistance it holds", Kind: quantity.Resistance, Limit: quantity.Lowest},
		{Name: "load-most", Label: "Largest load resistance, else the diode overheats", Kind: quantity.Resistance, Limit: quantity.Highest, Help: "Missing where the load may come off."},
		{Name: "volts-out", Label: "Voltage at the load", Kind: quantity.Voltage},
		{Name: "drift", Label: "Change with temperature", Kind: quantity.TempCo, Unit: "mV/K", Help: "For small types, by nominal volts."},
		{Name: "as-valve", Label: "As a one-way valve behind this source"},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mfrac><mrow><msub><mi>V</mi><mi>s</mi></msub><mo>−</mo><msub><mi>V</mi><mi>z</mi></msub></mrow><msub><mi>I</mi><mtext>highest</mtext></msub></mfrac>` +
		`<mo>≤</mo><mi>R</mi><mo>≤</mo><mfrac><mrow><msub><mi>V</mi><mi>s</mi></msub><mo>−</mo><msub><mi>V</mi><mi>z</mi></msub></mrow><mrow><msub><mi>I</mi><mtext>load</mtext></msub>` +
		`<mo>+</mo><msub><mi>I</mi><mtext>least</mtext></msub></mrow></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "A Zener behind a capacitor or resistor from the mains is live to the touch in all its parts. Plug out, capacitor discharged and measured. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Care, Text: "Series resistors run hot by design; a charred one has a reason, often the Zener."},
	},
	Example: calc.Example{
		Says: "A control board makes 5.1 V from a 12 V supply that moves by 10 %, with a Zener of 0.5 W. Its load takes 20 mA, and 220 Ω are fitted.",
		Inputs: []calc.Setting{{Name: "source", Value: "12 V ± 10 %"}, {Name: "zener", Value: "5.1 V"}, {Name: "rating", Value: "0.5 W"}, {Name: "load", Value: "20 mA"},
			{Name: "resistor", Value: "220 Ω"}},
		Prints: []calc.Setting{{Name: "verdict", Value: "Holds 5.10 V, load on and off."}, {Name: "zener-current-off", Value: "25.9–36.8 mA"}},
	},
	Onward: []calc.Onward{
		{Calculator: "preferred", Says: "Which value is made next above the smallest?", Takes: []calc.Take{{From: "resistor-least", To: "value"}}},
		{Calculator: "diode-drop", Says: "What it drops the other way round", Takes: []calc.Take{{From: "highest-current", To: "current"}}}},
	Plots: []calc.Plot{{Name: "load", Title: "Voltage at the load against its current",
		Says: "Level at the Zener voltage until the load takes all that the resistor brings; from there the volts fall along the resistor's line.", Chart: chart}},
}

// coefficients are the temperature coefficients of small types in fractions per kelvin,
// for nominal volts up to upTo: data sheet BZX79C.
var coefficients = []struct{ upTo, low, high float64 }{
	{2.85, -0.09, -0.06}, {3.95, -0.08, -0.05}, {4.5, -0.06, -0.03}, {4.9, -0.05, 0.02}, {5.35, -0.02, 0.02}, {5.9, -0.05, 0.05},
	{6.5, 0.03, 0.06}, {7.8, 0.03, 0.07}, {8.6, 0.03, 0.08}, {9.5, 0.03, 0.09}, {10.5, 0.03, 0.10}, {21, 0.03, 0.11}, {34, 0.04, 0.12},
}

// highestCurrent of the diode in A.
func highestCurrent(in calc.In) float64 {
	if r := in.Value("rating"); r.Kind == quantity.Current {
		return r.Num
	}
	return in.Num("rating") / in.Num("zener")
}

// loadCurrent in A at the Zener voltage; 0 without a load.
func loadCurrent(in calc.In) float64 {
	l := in.Value("load")
	switch {
	case !in.Has("load"):
		return 0
	case l.Kind == quantity.Resistance:
		return in.Num("zener") / l.Num
	}
	return l.Num
}

// across gives the volts at a load behind r ohms, with the diode in parallel; it
// cannot pull them above the Zener voltage.
func across(source, zener, r, load float64, ohms bool) float64 {
	v := source - float64(load*r)
	if ohms {
		v = source * load / (load + r)
	}
	return math.Max(0, math.Min(zener, v))
}

func run(in calc.In, out *calc.Out) error {
	source, zener, least := in.Num("source"), in.Num("zener"), in.Num("least")
	most, load := highestCurrent(in), loadCurrent(in)
	if l := in.Value("load"); l.Kind == quantity.Resistance && l.Num < 1e-3 {
		return calc.Bad("load", "Load: less than a milliohm is a short; enter the load's ohms or amperes")
	}
	if !(most > 0) {
		return calc.Bad("rating", "Rated power, or highest current: it must be above 0")
	}
	out.Set("highest-current", most)
	if most <= least {
		return calc.Bad("least", "Least current that holds it: it must lie below the highest current of "+amps(most))
	}
	for _, c := range coefficients {
		if zener <= c.upTo && zener >= 2.3 {
			out.SetRange("drift", float64(zener*c.low)/100, float64(zener*c.high)/100)
			break
		}
	}
	if source > zener {
		out.Say("as-valve", "conducts-back", "Not: it blocks only "+volts(zener)+" and conducts backwards behind "+volts(source)+", with nothing to limit the current.")
	} else {
		out.Say("as-valve", "blocks", "It blocks "+volts(source)+"; a rectifier of at least twice that is still the right part.")
	}
	if source <= zener {
		out.Say("verdict", "source-too-low", "Does not conduct: the source of "+volts(source)+" is not above the Zener voltage of "+volts(zener)+".")
		return nil
	}
	over := source - zener
	lo, hi := over/most, math.Inf(1)
	out.Set("resistor-least", lo)
	if need := load + least; need > 0 {
		hi = over / need
		out.Set("resistor-most", hi)
	}
	if !in.Has("resistor") {
		s, z := in.Whole("source"), in.Whole("zener") // one resistor for the whole of their ranges
		if lo <= hi && (s.High-z.Low)/most > (s.Low-z.High)/(load+least) && load+least > 0 {
			out.Say("verdict", "not-over-range", "No one resistor does over the whole range of source and Zener voltage; one would do at its middle.")
		} else if lo <= hi {
			out.Say("verdict", "possible", "Possible: a resistor between the two limits holds it, load on and off. Take one well above the smallest.")
		} else {
			out.Say("verdict", "not-possible", "No resistor does both: with the load off the diode overheats before it holds with the load on. A larger diode, or a regulator.")
		}
		return nil
	}
	r := in.Num("resistor")
	all := over / r
	out.Set("zener-current-off", all)
	out.Set("zener-power-off", all*zener)
	out.Set("resistor-power-shorted", source*source/r)
	l := in.Value("load")
	vout := zener
	if in.Has("load") {
		vout = across(source, zener, r, l.Num, l.Kind == quantity.Resistance)
	}
	out.Set("volts-out", vout)
	out.Set("resistor-power", (source-vout)*(source-vout)/r)
	out.Set("zener-current", math.Max(0, all-load))
	if all > least {
		out.Set("load-least", zener/(all-least))
	}
	if all > most {
		out.Set("load-most", zener/(all-most))
	}
	judge(in, out, all, most, load, least)
	return nil
}

// judge weighs the fitted resistor.
func judge(in calc.In, out *calc.Out, all, most, load, least float64) {
	const slack = 1 + 1e-9 // a limit met exactly is met
	switch {
	case all > most*slack && all-load > most*slack:
		out.Say("verdict", "too-hot", "Too hot: the diode carries more than its "+amps(most)+", load on or off. A larger resistor.")
	case all > most*slack:
		has, stands := apart(all, most)
		out.Say("verdict", "too-hot-unloaded", "Too hot when the load comes off: "+has+" in a diode for "+stands+".")
	case all-load < 0:
		out.Say("verdict", "drops-out", "Does not hold: the load takes more than the "+amps(all)+" that the resistor brings, and the volts fall.")
	case (all-load)*slack < least:
		left, needs := apart(all-load, least)
		out.Say("verdict", "starved", "Hardly holds: "+left+" are left for the diode, which needs "+needs+".")
	default:
		out.Say("verdict", "holds", "Holds "+volts(in.Num("zener"))+", load on and off.")
		if all > most/2*slack {
			out.Note("With the load off the diode takes more than half of its rating: it runs hot and ages.")
		}
	}
}

// apart prints two currents that are compared so that they differ in print too.
func apart(a, b float64) (string, string) {
	return quantity.Apart(quantity.Of(quantity.Current, a), quantity.Of(quantity.Current, b))
}

func volts(v float64) string { return quantity.Of(quantity.Voltage, v).Text() }
func amps(a float64) string  { return quantity.Of(quantity.Current, a).Text() }

func chart(in calc.In) (draw.Chart, error) {
	source, zener := in.Num("source"), in.Num("zener")
	if source <= zener {
		return draw.Chart{}, calc.Bad("source", "The source must be above the Zener voltage for a curve")
	}
	least, most := (source-zener)/highestCurrent(in), 0.0
	r := least * 1.5
	if in.Has("resistor") {
		r = in.Num("resistor")
	}
	most = source / r
	factor, unit := 1.0, "A"
	if most < 1 {
		factor, unit = 1e-3, "mA"
	}
	s := draw.Series{}
	for i := 0; i <= 100; i++ {
		l := most * float64(i) / 100
		s.X, s.Y = append(s.X, l/factor), append(s.Y, across(source, zener, r, l, false))
	}
	c := draw.Chart{X: draw.Axis{Label: "load", Unit: unit}, Y: draw.Axis{Label: "at the load", Unit: "V"}, Series: []draw.Series{s}}
	if load := loadCurrent(in); in.Has("load") && load <= most {
		c.Marks = append(c.Marks, draw.Mark{X: load / factor, Y: across(source, zener, r, load, false), Name: "this load"})
	}
	return c, nil
}
