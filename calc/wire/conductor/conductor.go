package conductor

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/wire"
)

//go:embed doc.go
var doc string

// Calculator gives the resistance of a wire.
var Calculator = &calc.Calculator{
	Name:    "conductor",
	Title:   "Ohms of a wire",
	For:     "Gives the resistance of a wire from its gauge, cross-section or diameter, length, metal and temperature, and the length from a reading.",
	Shelf:   "wire",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "size", Label: "Cross-section, gauge or bare diameter", Kind: quantity.Area, Or: []quantity.Kind{quantity.Length}, Default: "18 AWG", Low: "0.00005 mm²", High: "1000 mm²",
			Help: "Like 1.5 mm², 18 AWG, 7/0.2 for strands, or 0.5 mm for a diameter."},
		{Name: "metal", Label: "Metal", Default: "copper", Choices: metals()},
		{Name: "length", Label: "Length of the conductor", Kind: quantity.Length, Default: "10 m", Low: "1 mm", High: "100 km", Help: "There and back for a pair."},
		{Name: "temperature", Label: "Temperature of the wire", Kind: quantity.Temperature, Default: "20 °C", Low: "-60 °C", High: "3200 °C", Help: "Above 250 °C for nichrome and tungsten alone."},
		{Name: "current", Label: "Current", Kind: quantity.Current, Optional: true, Low: "1 µA", High: "10 kA"},
		{Name: "reading", Label: "Resistance measured", Kind: quantity.Resistance, Reading: true, Open: "the conductor is broken, or the range too low", Optional: true, Low: "1 µΩ", High: "100 MΩ", Help: "With the leads taken off."},
		{Name: "reading-at", Label: "It was measured at", Kind: quantity.Temperature, Default: "20 °C", Low: "-60 °C", High: "3200 °C"},
	},
	Outputs: []calc.Output{
		{Name: "resistance", Label: "Resistance of the length", Kind: quantity.Resistance, Main: true},
		{Name: "per-length", Label: "Resistance per length", Kind: quantity.LineRes, Main: true},
		{Name: "area", Label: "Cross-section", Kind: quantity.Area},
		{Name: "diameter", Label: "Diameter of solid wire", Kind: quantity.Length},
		{Name: "gauge", Label: "Nearest gauge"},
		{Name: "flexible-most", Label: "Most a flexible conductor may have at 20 °C", Kind: quantity.LineRes, Help: "IEC 60228 class 5, plain copper: cords."},
		{Name: "stranded-most", Label: "Most a stranded conductor may have at 20 °C", Kind: quantity.LineRes, Help: "IEC 60228 class 2, plain copper: fixed wiring."},
		{Name: "drop", Label: "Voltage lost", Kind: quantity.Voltage},
		{Name: "heat", Label: "Heat", Kind: quantity.Power},
		{Name: "reading-referred", Label: "Reading at the wire's temperature", Kind: quantity.Resistance},
		{Name: "reading-length", Label: "Length by the reading", Kind: quantity.Length},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>R</mi><mo>=</mo><mi>ρ</mi><mfrac><mi>l</mi><mi>A</mi></mfrac><mo>·</mo><mfrac><mrow><mn>234.5</mn><mo>+</mo><mi>T</mi></mrow>` +
		`<mrow><mn>234.5</mn><mo>+</mo><mn>20</mn></mrow></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Measure ohms with the plug out and capacitors discharged. A wire's ohms are not its rating: how much it may carry is for its maker and your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A spool of 24 AWG enamelled wire reads 21 Ω at 25 °C.",
		Inputs: []calc.Setting{{Name: "size", Value: "24 AWG"}, {Name: "length", Value: "1 m"}, {Name: "temperature", Value: "25 °C"}, {Name: "reading", Value: "21 Ω"}, {Name: "reading-at", Value: "25 °C"}},
		Prints: []calc.Setting{{Name: "per-length", Value: "85.9 mΩ/m"}, {Name: "diameter", Value: "511 µm"}, {Name: "reading-length", Value: "245 m"}, {Name: "gauge", Value: "24 AWG"}},
	},
	Onward: []calc.Onward{
		{Calculator: "winding-rise", Says: "How hot is the winding, from cold and warm ohms?"},
	},
}

func metals() []calc.Choice {
	var cs []calc.Choice
	for _, m := range wire.Metals {
		cs = append(cs, calc.Choice{Name: m.Name, Label: m.Label})
	}
	return cs
}

// diameterOf is that of a gauge in metres: 0.005 in at 36, ratio 92^(1/39) a step
// (ASTM B258); 1/0 is gauge 0, 2/0 is −1 and so on.
func diameterOf(gauge float64) float64 { return 0.005 * 0.0254 * math.Pow(92, (36-gauge)/39) }

// gaugeOf is the inverse of diameterOf.
func gaugeOf(diameter float64) float64 {
	return 36 - float64(39*math.Log(diameter/(0.005*0.0254))/math.Log(92))
}

// gauge names the nearest gauge and says how far off it is.
func gauge(diameter float64) (word, sentence string) {
	n := math.Round(gaugeOf(diameter))
	switch {
	case n < -3:
		return "none", "Thicker than 4/0 AWG"
	case n > 50:
		return "none", "Thinner than 50 AWG"
	}
	name := quantity.Number(n)
	if n < 0 {
		name = quantity.Number(1-n) + "/0"
	}
	d := diameterOf(n)
	off := diameter*diameter/(d*d) - 1
	word = name + "-awg"
	switch {
	case off > 0.005:
		return word, name + " AWG; this wire has " + quantity.Of(quantity.Percent, off).Text() + " more cross-section"
	case off < -0.005:
		return word, name + " AWG; this wire has " + quantity.Of(quantity.Percent, -off).Text() + " less cross-section"
	}
	return word, name + " AWG"
}

func run(in calc.In, out *calc.Out) error {
	var area, diameter float64
	if v := in.Value("size"); v.Kind == quantity.Length {
		if v.Low < 1e-6 || v.High > 0.1 {
			return calc.Bad("size", "Cross-section, gauge or bare diameter: a diameter should be 1 µm to 100 mm")
		}
		diameter = v.Num
		area = math.Pi * diameter * diameter / 4
	} else {
		area = v.Num
		diameter = math.Sqrt(4 * area / math.Pi)
	}
	metal := wire.Find(in.Word("metal"))
	for _, name := range []string{"temperature", "reading-at"} {
		if t := in.Num(name); t > metal.Hottest() {
			d := map[string]string{"temperature": "Temperature of the wire", "reading-at": "It was measured at"}[name]
			return calc.Bad(name, d+": "+metal.Label+" is known here up to "+quantity.Of(quantity.Temperature, metal.Hottest()).Text()+" only")
		}
	}
	factor := metal.Factor(in.Num("temperature"))
	per := metal.PerMetre(area) * factor
	ohms := per * in.Num("length")
	out.Set("area", area)
	out.Set("diameter", diameter)
	out.Set("per-length", per)
	out.Set("resistance", ohms)
	word, sentence := gauge(diameter)
	out.Say("gauge", word, sentence)
	if metal.Name == "copper" {
		if most, ok := wire.Most(area*1e6, 5, false); ok {
			out.Set("flexible-most", most)
		}
		if most, ok := wire.Most(area*1e6, 2, false); ok {
			out.Set("stranded-most", most)
		}
	}
	if in.Has("current") {
		i := in.Num("current")
		out.Set("drop", i*ohms)
		out.Set("heat", i*i*ohms)
	}
	if in.Has("reading") {
		referred := in.Num("reading") * factor / metal.Factor(in.Num("reading-at"))
		out.Set("reading-referred", referred)
		out.Set("reading-length", referred/per)
	}
	return nil
}
