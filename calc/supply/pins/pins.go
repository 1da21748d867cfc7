package pins

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/heat"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
	"faultleaf/calc/supply"
)

//go:embed doc.go
var doc string

// Calculator gives the ohms across the pins of a plug.
var Calculator = &calc.Calculator{
	Name:    "pins",
	Title:   "Ohms across the pins of the plug",
	For:     "Tells what a pulled plug should read with the switch on, from the rating plate and the kind of device.",
	Shelf:   "supply",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "kind", Label: "Kind of device", Default: "heater", Choices: []calc.Choice{
			{Name: "heater", Label: "Heater"}, {Name: "transformer", Label: "Transformer at its input"}, {Name: "universal-motor", Label: "Universal motor, with brushes"},
			{Name: "shaded-pole", Label: "Shaded-pole motor"}, {Name: "capacitor-motor", Label: "Capacitor or split-phase motor"},
			{Name: "switch-mode", Label: "Switch-mode supply"}, {Name: "filament", Label: "Filament lamp"}, {Name: "led", Label: "LED lamp"}}},
		{Name: "power", Label: "Rated power", Kind: quantity.Power, Or: []quantity.Kind{quantity.ApparentPower}, Default: "2 kW", Low: "0.5 W", High: "20 kW",
			Help: "Watts, or VA of a transformer."},
		{Name: "mains", Label: "Rated mains", Kind: quantity.Voltage, Default: "230 V", From: calc.Rated, Low: "12 V", High: "500 V"},
		{Name: "reading", Label: "What the meter shows", Kind: quantity.Resistance, Reading: true, Optional: true,
			Help: "Ohms, or OL with its range, like OL on 2 MΩ. Wait until it stands still."},
	},
	Outputs: []calc.Output{
		{Name: "healthy", Label: "A healthy one reads", Kind: quantity.Resistance, Main: true},
		{Name: "verdict", Label: "The reading", Main: true},
		{Name: "tells", Label: "What ohms tell here"},
		{Name: "rated-ohms", Label: "V²/P of the plate", Kind: quantity.Resistance, Help: "Only a hot heater or a lit lamp has these ohms."},
		{Name: "share", Label: "Share of V²/P", Kind: quantity.Percent},
		{Name: "short-below", Label: "A short is below", Kind: quantity.Resistance},
	},
	Compute: run,
	Pairs:   [][2]string{{"mains", "power"}},
	Doc:     doc,
	MathML:  `<math display="block"><mi>R</mi><mo>=</mo><mi>k</mi><mfrac><msup><mi>V</mi><mn>2</mn></msup><mi>P</mi></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Only with the plug pulled, and some time after: short the pins by a rated resistor, not by the meter. Capacitors across the pins bite and kill meters."},
		{Signal: calc.Warning, Text: "Right ohms do not prove insulation or earth: test both before it goes back. Microwave ovens stay unopened. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A transformer of 100 VA for 230 V shows 22 Ω across its plug. V²/P would be 529 Ω, and nothing is wrong.",
		Inputs: []calc.Setting{{Name: "kind", Value: "transformer"}, {Name: "power", Value: "100 VA"}, {Name: "reading", Value: "22 Ω"}},
		Prints: []calc.Setting{{Name: "healthy", Value: "8.25–61.3 Ω"}, {Name: "rated-ohms", Value: "529 Ω"},
			{Name: "verdict", Value: "Not open, and plausible for its size. Shorted turns can hide in this reading."}},
	},
	Onward: []calc.Onward{
		{Calculator: "element", Says: "For a heater: cold ohms in detail, and one of two parts open", Takes: []calc.Take{{From: "power", To: "power"}, {From: "mains", To: "mains"}}},
		{Calculator: "series-lamp", Says: "Not shorted: how bright should a series lamp burn at the first switching on?", Takes: []calc.Take{{From: "power", To: "size"}, {From: "mains", To: "supply"}}},
	},
}

// Shares of V²/P that healthy devices show. Heater: power 10 % under to 5 % over, wire up to 8 % higher hot, as under
// element. Motors: from memory, held against service manuals in the tests.
var shares = map[string]struct{ low, high float64 }{
	"heater":          {1 / 1.05 / 1.08, 1 / 0.9},
	"universal-motor": {0.04, 0.35},
	"shaded-pole":     {0.05, 0.35},
	"capacitor-motor": {0.03, 0.30},
}

// A switch-mode supply or LED lamp whose steady reading is below this has a shorted part: common practice, no source.
const electronicsShort = 1000.0

// share is what the pins show over V²/P, for a device of so many watts or VA; false for electronics.
func share(kind string, power float64) (low, high float64, ok bool) {
	switch kind {
	case "transformer":
		low, high = supply.Winding(1, power) // over V²/P of one volt
		return low * power, high * power, true
	case "filament":
		low, high = heat.Cold(1)
		return low, high, true
	}
	s, ok := shares[kind]
	return s.low, s.high, ok
}

// tells says what a reading of the kind proves.
var tells = map[string]string{
	"heater":          "Ohms tell: a heater reads nearly the same cold and hot.",
	"transformer":     "Only open or not open: the primary's copper is far below V²/P, and shorted turns hardly change it.",
	"universal-motor": "Open or not open, and bad brushes: copper and brushes only. Turn it by hand and take the lowest reading.",
	"shaded-pole":     "Only open or not open: copper alone, shorted turns hardly change it.",
	"capacitor-motor": "Only open or not open: the running winding, and the start winding where its switch is closed.",
	"switch-mode":     "Only a short: the reading climbs while a capacitor charges, and ends high or at OL.",
	"filament":        "Open or whole: cold it reads a sixteenth to a tenth of its hot ohms, which is no short.",
	"led":             "Only a short: most read OL, some the resistor across their capacitor.",
}

func run(in calc.In, out *calc.Out) error {
	kind, power, mains := in.Word("kind"), in.Num("power"), in.Num("mains")
	if in.Value("power").Low < 0.5 || power > 20e3 {
		return calc.Bad("power", "Rated power: between 0.5 and 20000 W or VA can be computed")
	}
	rated := mains * mains / power
	out.Set("rated-ohms", rated)
	out.Say("tells", kind, tells[kind])
	low, high, ohms := share(kind, power)
	short := electronicsShort
	if ohms {
		out.SetRange("share", low, high)
		low, high = float64(low*rated), float64(high*rated)
		out.SetRange("healthy", low, high)
		short = low / 10
		if low < 10 {
			out.Note("Below 10 Ω the leads count: touch their tips together first and take that reading off.")
		}
	}
	out.Set("short-below", short)
	if !in.Has("reading") {
		return nil
	}
	r := in.Reading("reading")
	beyond := r.Shows == reading.Over && ohms && r.Limit() > high
	word, sentence := in.Judge("reading", func(x float64) (string, string) {
		if beyond {
			x = math.Inf(1)
		}
		return judge(kind, x, low, high, short)
	})
	out.Say("verdict", word, sentence)
	return nil
}

// judge names a reading in ohms, +Inf for none, against the healthy range and the limit of a short.
func judge(kind string, ohms, low, high, short float64) (word, sentence string) {
	electronics := kind == "switch-mode" || kind == "led"
	switch {
	case electronics && ohms >= 10*short:
		return "as-expected", "As expected: no short. Whether it works, ohms cannot tell."
	case electronics && ohms >= short:
		return "low", "Lower than usual once it stands still: read it both ways round; a leaky rectifier, capacitor or surge part, or something else in parallel."
	case ohms > 30*high && ohms > 1000:
		return "open", "Open: cord, plug fuse, switch, thermostat, thermal link or the load itself; or a relay or soft switch that is off."
	case ohms < short && !electronics:
		return "short", "A short, or as good as one: cord, plug, a surge part, or the load itself. Do not switch it on."
	case electronics:
		return "short", "A short, or as good as one: rectifier, capacitor, switching transistor or surge part. Do not switch it on."
	case ohms < low:
		return "low", "Lower than a healthy one: a shorted part of it, another load in parallel, or the wrong plate."
	case ohms > high:
		return "high", "Higher than a healthy one: a bad contact or brush, one of several loads open, or it is still warm."
	case kind == "heater":
		return "as-expected", "As expected for its plate."
	case kind == "filament":
		return "as-expected", "As expected for a whole, cold filament."
	}
	return "as-expected", "Not open, and plausible for its size. Shorted turns can hide in this reading."
}
