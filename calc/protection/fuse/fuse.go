package fuse

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

var speeds = []calc.Choice{{Name: "not-known", Label: "Not known"}, {Name: "ff", Label: "FF, very quick"}, {Name: "f", Label: "F, quick"},
	{Name: "m", Label: "M, medium"}, {Name: "t", Label: "T, time-lag"}, {Name: "tt", Label: "TT, long time-lag"}}

var letters = []calc.Choice{{Name: "not-known", Label: "Not known"}, {Name: "l", Label: "L, low"}, {Name: "e", Label: "E, enhanced"},
	{Name: "h", Label: "H, high"}, {Name: "ul", Label: "UL-listed, no letter"}}

var standards = []calc.Choice{{Name: "not-known", Label: "Not known"}, {Name: "iec", Label: "IEC 60127"}, {Name: "ul", Label: "UL 248-14"}}

// Calculator judges a cartridge fuse.
var Calculator = &calc.Calculator{
	Name:    "fuse",
	Title:   "Which fuse is right?",
	For:     "Tells which fuse to take, or whether the one in hand may replace the old: never above the mark, and fit for current, heat, switching on and short circuit.",
	Shelf:   "protection",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "marked", Label: "Amperes marked on the old fuse or beside its holder", Kind: quantity.Current, Optional: true, Low: "1 mA", High: "100 A",
			Help: "If it can be read, it decides: it is never raised."},
		{Name: "marked-speed", Label: "Speed marked", Default: "not-known", Choices: speeds},
		{Name: "marked-breaking", Label: "Breaking capacity marked", Default: "not-known", Choices: letters},
		{Name: "drawer", Label: "What lies in the drawer", Text: []string{"T1A T2A F2A T3.15A", "500 mA; 1 A; 1.6 A; 2 A", "T 2 A, F 2 A"}, Optional: true, Help: "Amperes with their letter."},
		{Name: "part", Label: "Amperes of the part in hand", Kind: quantity.Current, Optional: true, Low: "1 mA", High: "100 A", Help: "Leave it empty to be told which to take."},
		{Name: "part-speed", Label: "Speed of the part in hand", Default: "not-known", Choices: speeds},
		{Name: "part-breaking", Label: "Breaking capacity of the part in hand", Default: "not-known", Choices: letters},
		{Name: "part-volts", Label: "Rated voltage of the part in hand", Kind: quantity.Voltage, Optional: true, Low: "1 V", High: "1000 V",
			Help: "For the same kind, AC or DC: a rating for AC says nothing of DC."},
		{Name: "volts", Label: "Voltage of the circuit", Kind: quantity.Voltage, Default: "230 V", From: calc.Mains, Low: "1 V", High: "1000 V"},
		{Name: "amps", Label: "Steady current of the circuit, RMS", Kind: quantity.Current, Optional: true, Low: "0.1 mA", High: "100 A",
			Help: "Highest in ordinary use, measured or from the plate."},
		{Name: "marked-standard", Folded: true, Label: "Standard of the old fuse", Default: "not-known", Choices: standards, Help: "F, T and so on stand on fuses to IEC 60127."},
		{Name: "part-standard", Folded: true, Label: "Standard of the part in hand", Default: "not-known", Choices: standards},
		{Name: "breaking", Folded: true, Label: "Breaking capacity in amperes, by the maker", Kind: quantity.Current, Optional: true, Low: "1 A", High: "300 kA", Help: "Counts more than the letter."},
		{Name: "ambient", Folded: true, Label: "Air around the fuse", Kind: quantity.Temperature, Default: "25 °C", Low: "25 °C", High: "125 °C", Help: "Inside the case, warmed up."},
		{Name: "derating", Folded: true, Label: "Carries less per kelvin above 25 °C", Kind: quantity.Percent, Default: "0.5 %", Low: "0 %", High: "1 %", Help: "From the maker's curve."},
		{Name: "inrush", Folded: true, Label: "Melting integral of the inrush", Kind: quantity.Melting, Optional: true, Low: "0.000001 A²s", High: "1000000 A²s",
			Help: "Used in place of the peak and time below."},
		{Name: "peak", Folded: true, Label: "Peak of the inrush", Kind: quantity.Current, Optional: true, Low: "1 mA", High: "10 kA"},
		{Name: "lasts", Folded: true, Label: "Inrush lasts", Kind: quantity.Duration, Default: "5 ms", Low: "1 µs", High: "10 s", Help: "The time constant for an exponential fall."},
		{Name: "shape", Folded: true, Label: "Shape of the inrush", Default: "half-sine", Choices: []calc.Choice{{Name: "half-sine", Label: "Half sine"}, {Name: "rectangle", Label: "Rectangle"},
			{Name: "triangle", Label: "Straight ramp"}, {Name: "parabola", Label: "Parabola"}, {Name: "exponential", Label: "Exponential fall"}}},
		{Name: "pulses", Folded: true, Label: "Switched on how many times in its life", Kind: quantity.Count, Default: "100000", Low: "1", High: "100000"},
		{Name: "melting", Folded: true, Label: "Nominal melting integral of the part in hand", Kind: quantity.Melting, Optional: true, Low: "0.000001 A²s", High: "1000000 A²s", Help: "From its data sheet."},
		{Name: "prospective", Folded: true, Label: "Short-circuit current here", Kind: quantity.Current, Or: []quantity.Kind{quantity.Resistance}, Optional: true, Low: "1 A", High: "100 kA",
			Help: "In amperes, or as ohms of the loop."},
		{Name: "drop", Folded: true, Label: "Voltage across the part at rated current", Kind: quantity.Voltage, Optional: true, Low: "1 mV", High: "20 V", Help: "From its data sheet."},
		{Name: "cold", Folded: true, Label: "Cold resistance of the part", Kind: quantity.Resistance, Optional: true, Low: "0.1 mΩ", High: "1 kΩ", Help: "From its data sheet or measured with the leads taken off."},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "take", Label: "To take", Main: true},
		{Name: "carries", Label: "Carries continuously here", Kind: quantity.Current, Main: true},
		{Name: "least", Label: "Rating needed for the current", Kind: quantity.Current, Help: "Never a reason to go above the mark."},
		{Name: "pulse", Label: "Melting integral of the inrush", Kind: quantity.Melting},
		{Name: "share", Label: "Share of its melting integral that it withstands that many times", Kind: quantity.Percent},
		{Name: "needs", Label: "Nominal melting integral needed", Kind: quantity.Melting, Main: true},
		{Name: "stands", Label: "Inrush that the part withstands that many times", Kind: quantity.Melting},
		{Name: "breaks", Label: "Breaks up to", Kind: quantity.Current},
		{Name: "short-circuit", Label: "Short-circuit current here", Kind: quantity.Current},
		{Name: "hot-resistance", Label: "Resistance at rated current", Kind: quantity.Resistance},
		{Name: "hot-over-cold", Label: "Hot over cold resistance", Kind: quantity.Ratio},
		{Name: "power", Label: "Heat of the part at rated current", Kind: quantity.Power},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><msup><mi>I</mi><mn>2</mn></msup><msub><mi>t</mi><mtext>melting</mtext></msub><mo>≥</mo>` +
		`<mfrac><mrow><mi>k</mi><msubsup><mi>I</mi><mtext>peak</mtext><mn>2</mn></msubsup><mi>t</mi></mrow><mrow><mi>s</mi><mo>(</mo><mi>n</mi><mo>)</mo></mrow></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Never fit a higher rating, a bridge or foil: the fuse is what stands between a fault and a fire."},
		{Signal: calc.Warning, Text: "Pull the plug first. Find out why it opened before the new one goes in. The fuse sits in the line conductor. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says: "A supply marked T 2 A L draws 0.9 A in a case of 50 °C. In hand is a T 2 A L, 250 V, to IEC 60127 with a melting integral of 9.7 A²s. Switching on takes a half sine of 20 A for 5 ms, and a short circuit here could reach 30 A.",
		Inputs: []calc.Setting{{Name: "marked", Value: "2 A"}, {Name: "marked-speed", Value: "t"}, {Name: "marked-breaking", Value: "l"}, {Name: "part", Value: "2 A"}, {Name: "part-speed", Value: "t"},
			{Name: "part-breaking", Value: "l"}, {Name: "part-standard", Value: "iec"}, {Name: "marked-standard", Value: "iec"}, {Name: "part-volts", Value: "250 V"}, {Name: "amps", Value: "0.9 A"},
			{Name: "ambient", Value: "50 °C"}, {Name: "peak", Value: "20 A"}, {Name: "melting", Value: "9.7 A²s"}, {Name: "prospective", Value: "30 A"}},
		Prints: []calc.Setting{{Name: "carries", Value: "1.750 A"}, {Name: "pulse", Value: "1.000 A²s"}, {Name: "needs", Value: "4.55 A²s"},
			{Name: "verdict", Value: "Fits: same rating, speed and breaking capacity as marked, and fit for current, inrush and short circuit here."}},
	},
	Plots: []calc.Plot{{Name: "pulses", Title: "Melting integral needed against the number of pulses",
		Says: "The more often it is switched on the larger the melting integral must be: about twice the pulse for 100 times, four and a half times the pulse for 100,000; the level is the part in hand.", Chart: chart}},
	Onward: []calc.Onward{
		{Calculator: "fuse-gate", Says: "When must it open?", Takes: []calc.Take{{From: "part", To: "rating"}}},
	},
}

// factors of k·I²·t by shape: pulse chart 1 of the Littelfuse fuse catalogue; each is
// the mean of the squared shape (the exponential to infinity).
var factors = map[string]float64{"rectangle": 1, "half-sine": 1.0 / 2, "triangle": 1.0 / 3, "parabola": 1.0 / 5, "exponential": 1.0 / 2}

// withstand is the share of the nominal melting integral by count of pulses: pulse
// chart 2 of the same catalogue.
var withstand = []struct{ pulses, share float64 }{{100, 0.48}, {1000, 0.38}, {10000, 0.29}, {100000, 0.22}}

// pulseShare reads the chart, straight between its points on logarithmic scales.
func pulseShare(pulses float64) float64 {
	if pulses <= withstand[0].pulses {
		return withstand[0].share
	}
	for i := 1; i < len(withstand); i++ {
		a, b := withstand[i-1], withstand[i]
		if pulses < b.pulses {
			f := math.Log(pulses/a.pulses) / math.Log(b.pulses/a.pulses)
			return a.share * math.Exp(f*math.Log(b.share/a.share))
		}
	}
	return withstand[len(withstand)-1].share
}

// pulseOf is the melting integral of the inrush in A²s.
func pulseOf(in calc.In) (float64, bool) {
	switch {
	case in.Has("inrush"):
		return in.Num("inrush"), true
	case in.Has("peak"):
		return factors[in.Word("shape")] * in.Num("peak") * in.Num("peak") * in.Num("lasts"), true
	}
	return 0, false
}

// carried is the share of the rating that the part carries continuously at this
// temperature; 75 % for UL-rated and unknown fuses, 100 % for IEC.
func carried(standard string, derating, ambient float64) float64 {
	share := 0.75
	if standard == "iec" {
		share = 1
	}
	return share * (1 - float64(derating*(ambient-25)))
}

// ulBreaking is the least breaking capacity in amperes at 250 V AC of a UL-listed
// fuse; 10 kA up to 125 V. Fuseology guide of Littelfuse, standards page.
func ulBreaking(rating, volts float64) float64 {
	switch {
	case volts <= 125:
		return 10000
	case rating <= 1:
		return 35
	case rating <= 3.5:
		return 100
	case rating <= 10:
		return 200
	case rating <= 15:
		return 750
	case rating <= 30:
		return 1500
	}
	return 0
}

// letterBreaks is what a letter promises in amperes, 0 where that is unknown.
func letterBreaks(letter string, rating, volts float64) float64 {
	switch letter {
	case "l":
		return math.Max(35, 10*rating)
	case "e":
		return 150
	case "h":
		return 1500
	case "ul":
		if volts <= 250 {
			return ulBreaking(rating, volts)
		}
	}
	return 0
}

// breakingOf is the breaking capacity of the part in amperes, 0 where unknown.
func breakingOf(in calc.In, rating float64) float64 {
	if in.Has("breaking") {
		return in.Num("breaking")
	}
	return letterBreaks(in.Word("part-breaking"), rating, in.Num("volts"))
}

// facts are what the inputs say, in base units.
type facts struct {
	carries, pulse, stands, breaks, short float64
	hasPulse, hasStands, hasShort         bool
}

func run(in calc.In, out *calc.Out) error {
	var f facts
	carried := carried(in.Word("part-standard"), in.Num("derating"), in.Num("ambient"))
	if carried <= 0 {
		return calc.Bad("ambient", "Air around the fuse: at "+text(quantity.Temperature, in.Num("ambient"))+" and this loss per kelvin it carries nothing; use the maker's curve")
	}
	least := in.Num("amps") / carried
	if in.Has("amps") {
		out.Set("least", least)
	}
	part, marked, known := in.Num("part"), false, in.Has("part")
	if !known {
		part, marked, known = wanted(in, least)
	}
	if known {
		f.breaks = breakingOf(in, part)
		f.carries = part * carried
		out.Set("carries", f.carries)
	}
	share := pulseShare(in.Num("pulses"))
	out.Set("share", share)
	if f.pulse, f.hasPulse = pulseOf(in); f.hasPulse {
		out.Set("pulse", f.pulse)
		out.Set("needs", f.pulse/share)
	}
	if in.Has("melting") {
		f.stands, f.hasStands = share*in.Num("melting"), true
		out.Set("stands", f.stands)
	}
	if f.breaks > 0 {
		out.Set("breaks", f.breaks)
	}
	if in.Has("prospective") {
		f.hasShort = true
		if v := in.Value("prospective"); v.Kind == quantity.Resistance {
			if v.Low <= 0 {
				return calc.Bad("prospective", "Short-circuit current here: the ohms of a loop are more than zero; measure them or ask for the short-circuit current")
			}
			f.short = in.Num("volts") / v.Num
		} else {
			f.short = v.Num
		}
		out.Set("short-circuit", f.short)
	}
	if in.Has("drop") && known {
		hot := in.Num("drop") / part
		out.Set("hot-resistance", hot)
		out.Set("power", in.Num("drop")*part)
		if in.Has("cold") {
			out.Set("hot-over-cold", hot/in.Num("cold"))
		}
	}
	switch {
	case in.Has("part"):
		word, sentence := judge(in, f)
		out.Say("verdict", word, sentence)
	case known:
		if err := choose(in, out, f, part, marked); err != nil {
			return err
		}
	default:
		out.Say("verdict", calc.CannotTell, "Enter the amperes marked beside the holder or on the old fuse; without them the current of the circuit says only what carries it.")
	}
	out.Note("Find out why the old one opened: a fuse seldom opens without a reason.")
	if in.Num("pulses") < withstand[0].pulses && f.hasPulse {
		out.Note("The share for 100 pulses is used, which is on the safe side for fewer.")
	}
	return nil
}

func text(k quantity.Kind, x float64) string { return quantity.Of(k, x).Text() }

func amps(x float64) string { return text(quantity.Current, x) }

// differ tells whether both marks are known and not the same.
func differ(old, part string) bool { return old != "not-known" && part != "not-known" && old != part }

// same is how far two printed ratings may lie apart.
const same = 1e-9

// judge gives the verdict: what the mark forbids first, then what the place asks,
// and "fits" only where all is known.
func judge(in calc.In, f facts) (word, sentence string) {
	part, marked, hasMark := in.Num("part"), in.Num("marked"), in.Has("marked")
	if hasMark && part > marked*(1+same) {
		return "above-mark", "No: the mark is " + amps(marked) + " and this one is " + amps(part) + ". A higher rating is never fitted, whatever else agrees."
	}
	if in.Has("part-volts") && in.Num("part-volts") < in.Num("volts") {
		return "volts-too-low", "No: its rated volts are below those of the circuit, so that it may not put out the arc."
	}
	// a lower rating of the same letter breaks less; that is not held against it
	old := letterBreaks(in.Word("marked-breaking"), math.Min(part, marked), in.Num("volts"))
	if f.breaks > 0 && f.breaks < old*(1-same) {
		return "breaking-too-low", "No: it breaks " + amps(f.breaks) + " and the old one's mark promises " + amps(old) + ": it may burst on a short circuit."
	}
	if f.hasShort && f.breaks > 0 && f.short > f.breaks {
		return "breaking-too-low", "No: a short circuit here gives " + amps(f.short) + " and it breaks " + amps(f.breaks) + ": it may burst."
	}
	if differ(in.Word("marked-standard"), in.Word("part-standard")) {
		return "not-equal", "Not equal: the ampere of IEC 60127 and that of UL 248-14 are not the same; get one of the old one's standard."
	}
	if differ(in.Word("marked-speed"), in.Word("part-speed")) {
		return "not-equal", "Not equal: another speed. A slower one protects less, a quicker one opens at switching on; get the speed that is marked."
	}
	if in.Has("amps") && in.Num("amps") > f.carries {
		if hasMark && part >= marked*(1-same) {
			return "draws-too-much", "The circuit draws " + amps(in.Num("amps")) + " and a fuse as marked carries " + amps(f.carries) + " here: look for what draws too much or runs too hot, not for a larger fuse."
		}
		return "opens-in-use", "Would open in use: it carries " + amps(f.carries) + " here and the circuit draws " + amps(in.Num("amps")) + "."
	}
	if f.hasPulse && f.hasStands && f.pulse > f.stands {
		says := "Would open at switching on, sooner or later: the inrush is " + text(quantity.Melting, f.pulse) + " and it stands " + text(quantity.Melting, f.stands) + " so often"
		if hasMark && part >= marked*(1-same) {
			return "opens-at-switch-on", says + ". Look at the inrush limiter, not for a larger fuse."
		}
		return "opens-at-switch-on", says + "."
	}
	switch {
	case hasMark && part < marked*(1-same):
		return "below-mark", "Below the mark: safe, but not the maker's value and it may open without need; get " + amps(marked) + "."
	case !hasMark:
		return calc.CannotTell, "Nothing here speaks against it, but only the mark beside the holder or the service sheet says what the maker chose; find that first."
	case in.Word("marked-speed") == "not-known" || in.Word("part-speed") == "not-known":
		return calc.CannotTell, "The amperes agree; read the speed (F, T or the like) on both for a verdict."
	case !in.Has("part-volts"):
		return calc.CannotTell, "Amperes and speed agree; enter its rated volts for a verdict."
	case f.breaks == 0:
		return calc.CannotTell, "Amperes, speed and volts agree; read its breaking capacity (L, E or H) for a verdict."
	case old == 0 && !f.hasShort:
		return calc.CannotTell, "Amperes, speed and volts agree; read the breaking capacity (L, E or H) of the old one for a verdict, or enter the short-circuit current here."
	}
	if in.Has("amps") && f.hasPulse && f.hasStands && f.hasShort {
		return "fits", "Fits: same rating, speed and breaking capacity as marked, and fit for current, inrush and short circuit here."
	}
	return "fits", "Fits: it agrees with the mark in amperes and speed, and its volts and breaking capacity suffice."
}

func chart(in calc.In) (draw.Chart, error) {
	pulse, ok := pulseOf(in)
	unit := "A²s"
	if !ok {
		pulse, unit = 1, "times the pulse"
	}
	s := draw.Series{}
	for i := 0; i <= 60; i++ {
		x := 2 + 3*float64(i)/60
		s.X, s.Y = append(s.X, x), append(s.Y, pulse/pulseShare(math.Pow(10, x)))
	}
	c := draw.Chart{X: draw.Axis{Label: "pulses", Unit: "powers of ten"}, Y: draw.Axis{Label: "melting integral needed", Unit: unit}, Series: []draw.Series{s},
		Marks: []draw.Mark{{X: math.Max(2, math.Log10(in.Num("pulses"))), Y: pulse / pulseShare(in.Num("pulses")), Name: "here"}}}
	// a part far above needs no line: it would squeeze the curve flat
	if m := in.Num("melting"); ok && in.Has("melting") && m < 3*pulse/pulseShare(1e5) {
		c.Marks = append(c.Marks, draw.Mark{Y: m, Name: "part", Level: true})
	}
	return c, nil
}
