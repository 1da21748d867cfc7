package load

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives the reading of a meter that loads its circuit, and the truth behind it.
var Calculator = &calc.Calculator{
	Name:    "meter-load",
	Title:   "A meter that changes the circuit",
	For:     "Tells what a meter shows when its own resistance counts, and what was there before it was connected.",
	Shelf:   "meter",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "measure", Label: "Measured", Default: "volts", Choices: []calc.Choice{{Name: "volts", Label: "Voltage, meter across"}, {Name: "amps", Label: "Current, meter in series"}}},
		{Name: "source", Label: "Voltage of the source", Kind: quantity.Voltage, Default: "12 V", Low: "1 µV", High: "50 kV"},
		{Name: "series", Label: "Resistance in series", Kind: quantity.Resistance, Default: "1 MΩ", Low: "0 Ω", High: "100 GΩ",
			Help: "The upper resistor of a divider, or the source's own resistance. For a current: the whole loop without the meter."},
		{Name: "across", Label: "Resistance at the probes", Kind: quantity.Resistance, Optional: true, Low: "1 mΩ", High: "100 GΩ",
			Help: "The lower resistor of a divider, across which the volts are measured. For a current it is one more in the loop."},
		{Name: "meter", Label: "Resistance of the voltmeter", Kind: quantity.Resistance, Default: "10 MΩ", Low: "1 Ω", High: "1000 GΩ",
			Help: "Most digital meters 10 MΩ; a needle meter its kΩ/V times its range."},
		{Name: "shunt", Label: "Resistance of the ammeter", Kind: quantity.Resistance, Default: "0.5 Ω", Low: "0 Ω", High: "100 kΩ",
			Help: "Shunt, fuse and leads together; or its burden in mV/mA as ohms."},
		{Name: "shown", Label: "What the meter shows", Reading: true, Kind: quantity.Voltage, Or: []quantity.Kind{quantity.Current}, Optional: true,
			Help: "To take the meter's load off a reading."},
	},
	Outputs: []calc.Output{
		{Name: "reading", Label: "The meter shows", Kind: quantity.Voltage, Main: true},
		{Name: "true", Label: "Without the meter", Kind: quantity.Voltage, Main: true},
		{Name: "corrected", Label: "Truth behind the reading", Kind: quantity.Voltage},
		{Name: "reading-amps", Label: "The meter shows", Kind: quantity.Current, Main: true},
		{Name: "true-amps", Label: "Without the meter", Kind: quantity.Current, Main: true},
		{Name: "corrected-amps", Label: "Truth behind the reading", Kind: quantity.Current},
		{Name: "share", Label: "Off by", Kind: quantity.Percent},
		{Name: "behind", Label: "Resistance seen from the probes", Kind: quantity.Resistance},
		{Name: "meter-current", Label: "Current through the voltmeter", Kind: quantity.Current},
		{Name: "burden", Label: "Voltage the ammeter takes", Kind: quantity.Voltage},
		{Name: "meter-for-one-percent", Label: "Voltmeter for 1 % needs at least", Kind: quantity.Resistance, Limit: quantity.Lowest},
		{Name: "shunt-for-one-percent", Label: "Ammeter for 1 % may have at most", Kind: quantity.Resistance, Limit: quantity.Highest},
	},
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><msub><mi>V</mi><mtext>shown</mtext></msub><mo>=</mo><mi>V</mi><mfrac><msub><mi>R</mi><mi>m</mi></msub><mrow><msub><mi>R</mi><mi>m</mi></msub><mo>+</mo><mi>R</mi></mrow></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "An ammeter set across a supply is a short circuit: on mains it can burst. Put the leads back into the volt sockets after each current reading. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says: "Two resistors of 1 MΩ halve 10 V. A digital meter of 10 MΩ across the lower one shows a twentieth less than the 5 V that are there without it.",
		Inputs: []calc.Setting{{Name: "source", Value: "10 V"}, {Name: "series", Value: "1 MΩ"}, {Name: "across", Value: "1 MΩ"}, {Name: "meter", Value: "10 MΩ"},
			{Name: "shown", Value: "4.7619 V"}},
		Prints: []calc.Setting{{Name: "reading", Value: "4.76 V"}, {Name: "true", Value: "5.00 V"}, {Name: "corrected", Value: "5.00 V"}, {Name: "share", Value: "-4.8 %"}},
	},
	Plots: []calc.Plot{{Name: "loading", Title: "Reading against the resistance behind it",
		Says: "The reading falls as the resistance behind the probes grows; where it equals the meter's own, half is left.", Chart: chart}},
}

// parallel is the resistance of two side by side.
func parallel(a, b float64) float64 { return a * b / (a + b) }

// shownOf is the share of the true volts that a meter of resistance rm shows behind r; the
// same share serves a current with the loop's resistance as rm and the shunt as r.
func shownOf(rm, r float64) float64 { return rm / (rm + r) }

// behind is the resistance seen from the probes, and the open-circuit volts there.
func behind(in calc.In) (ohms, volts float64) {
	ohms, volts = in.Num("series"), in.Num("source")
	if in.Has("across") {
		lower := in.Num("across")
		volts = volts * lower / (lower + ohms)
		ohms = parallel(ohms, lower)
	}
	return ohms, volts
}

func run(in calc.In, out *calc.Out) error {
	if in.Word("measure") == "amps" {
		return current(in, out)
	}
	if in.Has("shown") && in.Value("shown").Kind != quantity.Voltage {
		return calc.Bad("shown", "What the meter shows: volts are measured here, so write it in volts")
	}
	r, v := behind(in)
	share := shownOf(in.Num("meter"), r)
	out.Set("true", v)
	out.Set("reading", v*share)
	out.Set("share", share-1)
	out.Set("behind", r)
	out.Set("meter-current", v*share/in.Num("meter"))
	out.Set("meter-for-one-percent", 99*r)
	if in.Has("shown") {
		out.Set("corrected", in.Num("shown")/share)
	}
	if share < 0.9 {
		out.Note("The meter takes more than a tenth of the volts: use one of higher resistance, or compute the truth from two readings.")
	}
	return nil
}

func current(in calc.In, out *calc.Out) error {
	if in.Has("shown") && in.Value("shown").Kind != quantity.Current {
		return calc.Bad("shown", "What the meter shows: a current is measured here, so write it in amperes")
	}
	r := in.Num("series")
	if in.Has("across") {
		r += in.Num("across")
	}
	if r == 0 {
		return calc.Bad("series", "Resistance in series: a loop without any is a short circuit; enter the source's own resistance, for instance 0.1 Ω")
	}
	share := shownOf(r, in.Num("shunt"))
	amps := in.Num("source") / r
	out.Set("true-amps", amps)
	out.Set("reading-amps", amps*share)
	out.Set("share", share-1)
	out.Set("burden", amps*share*in.Num("shunt"))
	out.Set("shunt-for-one-percent", r/99)
	if in.Has("shown") {
		out.Set("corrected-amps", in.Num("shown")/share)
	}
	if share < 0.9 {
		out.Note("The meter takes more than a tenth of the volts of the loop: use a higher current range, or measure the volts on a resistor that is there already.")
	}
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	meter, r, label, named := in.Num("meter"), 0.0, "resistance behind the probes", "this circuit"
	if in.Word("measure") == "amps" {
		// the share is the same with the roles exchanged: shunt against loop
		meter, r, label = in.Num("series")+in.Num("across"), in.Num("shunt"), "resistance of the ammeter"
	} else {
		r, _ = behind(in)
	}
	end := math.Max(2*r, meter/2)
	unit, factor := scale(end)
	s := draw.Series{}
	for i := 0; i <= 100; i++ {
		x := end * float64(i) / 100
		s.X, s.Y = append(s.X, x/factor), append(s.Y, 100*shownOf(meter, x))
	}
	return draw.Chart{X: draw.Axis{Label: label, Unit: unit}, Y: draw.Axis{Label: "shown, of the truth", Unit: "%", From: 0, To: 100},
		Series: []draw.Series{s}, Marks: []draw.Mark{{X: r / factor, Y: 100 * shownOf(meter, r), Name: named}}}, nil
}

func scale(ohms float64) (string, float64) {
	switch {
	case ohms >= 1e9:
		return "GΩ", 1e9
	case ohms >= 1e6:
		return "MΩ", 1e6
	case ohms >= 1e3:
		return "kΩ", 1e3
	case ohms < 1:
		return "mΩ", 1e-3
	}
	return "Ω", 1
}
