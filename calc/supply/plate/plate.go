package plate

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator reads a rating plate.
var Calculator = &calc.Calculator{
	Name:    "plate",
	Title:   "Reading a rating plate",
	For:     "Gives watts, volt-amperes, amperes and power factor from any two or three of them on a rating plate.",
	Shelf:   "supply",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "volts", Label: "Rated voltage", Kind: quantity.Voltage, Default: "230 V", From: calc.Rated, Low: "1 V", High: "1000 V"},
		{Name: "rating", Label: "First rating", Kind: quantity.Power, Or: []quantity.Kind{quantity.ApparentPower, quantity.Current}, Default: "800 W", Low: "1 mW", High: "100 kW",
			Help: "Watts, VA or amperes, with its unit."},
		{Name: "also", Label: "Second rating", Kind: quantity.Current, Or: []quantity.Kind{quantity.Power, quantity.ApparentPower}, Optional: true, Low: "1 mA", High: "1 kA",
			Help: "Another of watts, VA and amperes, if the plate has it."},
		{Name: "power-factor", Label: "Power factor", Kind: quantity.Ratio, Optional: true, Low: "0.05", High: "1",
			Help: "Also printed as PF or cos φ. 1 for a heater or DC."},
		{Name: "shaft", Label: "Power at the shaft", Kind: quantity.Power, Optional: true, Low: "1 mW", High: "100 kW", Help: "A motor's output, in W or hp."},
	},
	Outputs: []calc.Output{
		{Name: "watts", Label: "Power that it takes", Kind: quantity.Power, Main: true},
		{Name: "amps", Label: "Current", Kind: quantity.Current, Main: true, Help: "What fuse, switch and cord carry."},
		{Name: "volt-amps", Label: "Apparent power", Kind: quantity.ApparentPower, Main: true},
		{Name: "power-factor", Label: "Power factor", Kind: quantity.Ratio},
		{Name: "efficiency", Label: "Efficiency of the motor", Kind: quantity.Percent},
		{Name: "heater-ohms", Label: "Ohms if it were a heater", Kind: quantity.Resistance, Help: "V²/P; motors, transformers and supplies read otherwise."},
		{Name: "missing", Label: "What the plate leaves open"},
		{Name: "kind", Label: "What the power factor fits"},
	},
	Compute: run,
	Pairs:   [][2]string{{"volts", "rating"}, {"volts", "also"}},
	Doc:     doc,
	MathML:  `<math display="block"><mi>P</mi><mo>=</mo><mi>V</mi><mi>I</mi><mi>cos</mi><mi>φ</mi></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Fuse, cord and socket must suit the amperes, never the watts alone, and a fuse never goes above its marked rating. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A motor on 120 V draws 8.0 A and takes 800 W.",
		Inputs: []calc.Setting{{Name: "volts", Value: "120 V"}, {Name: "rating", Value: "800 W"}, {Name: "also", Value: "8.0 A"}},
		Prints: []calc.Setting{{Name: "volt-amps", Value: "960 VA"}, {Name: "power-factor", Value: "0.833"}},
	},
	Onward: []calc.Onward{
		{Calculator: "fuse", Says: "Does the fuse suit these amperes?", Takes: []calc.Take{{From: "amps", To: "amps"}, {From: "volts", To: "volts"}}},
		{Calculator: "element", Says: "What should a heating element of this plate read?", Takes: []calc.Take{{From: "watts", To: "power"}, {From: "volts", To: "mains"}}},
		{Calculator: "series-lamp", Says: "How bright would a series lamp burn with it?", Takes: []calc.Take{{From: "watts", To: "size"}, {From: "volts", To: "supply"}}},
	},
}

// slack is how far two roundings on a plate may disagree before they are a contradiction: our choice.
const slack = 0.03

// ratings are what is known; zero is not known.
type ratings struct{ volts, watts, va, amps, factor float64 }

// take enters one rating.
func (r *ratings) take(v quantity.Value) {
	switch v.Kind {
	case quantity.Power:
		r.watts = v.Num
	case quantity.ApparentPower:
		r.va = v.Num
	case quantity.Current:
		r.amps = v.Num
	}
}

// fill computes what follows. Volts are known always.
func (r *ratings) fill() {
	if r.va == 0 && r.amps > 0 {
		r.va = r.volts * r.amps
	}
	if r.va == 0 && r.watts > 0 && r.factor > 0 {
		r.va = r.watts / r.factor
	}
	if r.amps == 0 && r.va > 0 {
		r.amps = r.va / r.volts
	}
	if r.watts == 0 && r.va > 0 && r.factor > 0 {
		r.watts = r.va * r.factor
	}
	if r.factor == 0 && r.watts > 0 && r.va > 0 {
		r.factor = r.watts / r.va
	}
}

func amount(k quantity.Kind, x float64) string { return quantity.Of(k, x).Text() }

func run(in calc.In, out *calc.Out) error {
	r := ratings{volts: in.Num("volts"), factor: in.Num("power-factor")}
	for _, name := range []string{"rating", "also"} {
		if v := in.Value(name); in.Has(name) && v.Num <= 0 {
			return calc.Bad(name, "A rating should be above zero; write it as on the plate")
		}
	}
	if in.Has("also") && in.Value("also").Kind == in.Value("rating").Kind {
		return calc.Bad("also", "Second rating: it is of the same kind as the first; give another of watts, VA and amperes, or leave it empty")
	}
	r.take(in.Value("rating"))
	if in.Has("also") {
		r.take(in.Value("also"))
	}
	given := r
	r.fill()
	if r.factor > 1 {
		if r.factor > 1+slack {
			return calc.Bad("also", "Second rating: "+amount(quantity.Power, r.watts)+" is more than the "+amount(quantity.ApparentPower, r.va)+
				" of these volts and amperes, which cannot be; look for another pair of volts and amperes on the plate")
		}
		r.factor = 1 // rounding on the plate
	}
	if given.watts > 0 && given.va+given.amps > 0 && given.factor > 0 && math.Abs(given.watts/(r.va*given.factor)-1) > 2*slack {
		return calc.Bad("power-factor", "Power factor: the other ratings make it "+amount(quantity.Ratio, given.watts/r.va)+"; leave it empty or correct one of them")
	}
	if given.va > 0 && given.amps > 0 && math.Abs(given.va/(r.volts*given.amps)-1) > 2*slack {
		return calc.Bad("also", "Second rating: volts times amperes make "+amount(quantity.ApparentPower, r.volts*given.amps)+" and not the VA given; look for another pair on the plate")
	}
	set := func(name string, x float64) {
		if x > 0 {
			out.Set(name, x)
		}
	}
	set("watts", r.watts)
	set("amps", r.amps)
	set("volt-amps", r.va)
	set("power-factor", r.factor)
	if r.watts > 0 {
		out.Set("heater-ohms", r.volts*r.volts/r.watts)
	}
	if v := in.Whole("volts"); v.Span && v.High > 1.3*v.Low && in.Value("rating").Kind == quantity.Current {
		out.Note("The amperes beside so wide a range of volts are those at its lowest: enter " + quantity.Of(quantity.Voltage, v.Low).Text() + " for the watts, fewer amperes flow at the upper end.")
	}
	switch {
	case r.factor > 0:
		out.Say("missing", "nothing", "Nothing: all follows from what is given.")
		kind(out, r.factor)
	case r.watts > 0:
		out.Say("missing", "power-factor", "The power factor: it draws at least "+amount(quantity.Current, r.watts/r.volts)+"; a heater just that, a small motor or a supply up to twice as much.")
	default:
		out.Say("missing", "power-factor", "The power factor: it takes at most "+amount(quantity.Power, r.va)+"; a heater just that, a small motor or a supply about half to three quarters.")
	}
	if in.Has("shaft") {
		return shaft(in.Num("shaft"), r, out)
	}
	return nil
}

// shaft compares a motor's output with what it takes.
func shaft(output float64, r ratings, out *calc.Out) error {
	if r.watts == 0 {
		if output > r.va {
			return calc.Bad("shaft", "Power at the shaft: "+amount(quantity.Power, output)+" is more than the "+amount(quantity.ApparentPower, r.va)+" that it draws, which no motor gives; it may be a peak for advertising")
		}
		out.Note("Efficiency needs the watts it takes: enter them or the power factor. Volts times amperes would give a number far too low.")
		return nil
	}
	if output > r.watts {
		return calc.Bad("shaft", "Power at the shaft: "+amount(quantity.Power, output)+" is more than the "+amount(quantity.Power, r.watts)+" that it takes, which no motor gives; it may be a peak for advertising")
	}
	out.Set("efficiency", output/r.watts)
	return nil
}

// kind says what load has such a power factor: from memory.
func kind(out *calc.Out, factor float64) {
	switch {
	case factor >= 0.97:
		out.Say("kind", "resistive", "A heater, a filament lamp, or a supply with power factor correction.")
	case factor >= 0.85:
		out.Say("kind", "near-one", "A universal motor, or a supply with correction at part load.")
	case factor >= 0.7:
		out.Say("kind", "motor", "A motor at load, or a large supply without correction.")
	case factor >= 0.45:
		out.Say("kind", "supply-or-small-motor", "A switch-mode supply without correction, or a small motor.")
	default:
		out.Say("kind", "idling", "A shaded-pole motor, an idling motor or transformer, or a capacitor dropper.")
	}
}
