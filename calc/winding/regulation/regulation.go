package regulation

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
	"faultleaf/calc/supply"
)

//go:embed doc.go
var doc string

// Calculator is the calculator "regulation".
var Calculator = &calc.Calculator{
	Name: "regulation", Title: "Regulation of a transformer", Shelf: "winding",
	Circuit: circuit,
	For:     "How far a transformer's volts fall under load, from two readings or from its size, and its source resistance.",
	Inputs: []calc.Input{
		{Name: "from", Label: "From", Default: "readings", Choices: []calc.Choice{{Name: "readings", Label: "readings"}, {Name: "size", Label: "its size alone"}}},
		{Name: "no-load", Label: "Voltage off load", Reading: true, Kind: quantity.Voltage, Default: "14.2 V", Low: "1 mV", High: "50 kV", Help: "RMS, at the winding."},
		{Name: "loaded", Label: "Voltage under load", Reading: true, Kind: quantity.Voltage, Default: "12.6 V", Low: "0 V", High: "50 kV", Help: "At the winding; the rated volts when going by the size."},
		{Name: "load", Label: "Load of that reading", Kind: quantity.Current, Or: []quantity.Kind{quantity.Resistance}, Default: "1 A", Low: "1 µA", High: "10 kA", Help: "Amperes, or the ohms of the load resistor hot."},
		{Name: "rated", Label: "Rated current", Kind: quantity.Current, Optional: true, Low: "1 µA", High: "10 kA", Help: "From the plate, VA over volts; leave empty if the load was that."},
		{Name: "size", Label: "Size", Kind: quantity.ApparentPower, Or: []quantity.Kind{quantity.Power}, Optional: true, Low: "0.5 VA", High: "5000 VA", Help: "From the plate; needed when going by the size, and for the verdict."},
	},
	Outputs: []calc.Output{
		{Name: "regulation", Label: "Regulation", Kind: quantity.Percent, Main: true, Help: "at rated load, of the loaded volts"},
		{Name: "source-resistance", Label: "Source resistance", Kind: quantity.Resistance, Main: true, Help: "what a rectifier behind it sees"},
		{Name: "of-no-load", Label: "The same drop, of the voltage off load", Kind: quantity.Percent, Help: "as some makers write it"},
		{Name: "at-rated", Label: "Voltage at rated load", Kind: quantity.Voltage},
		{Name: "off-load", Label: "Voltage off load", Kind: quantity.Voltage},
		{Name: "loss", Label: "Heat in the windings at rated load", Kind: quantity.Power},
		{Name: "by-size", Label: "Regulation to expect for the size", Kind: quantity.Percent},
		{Name: "verdict", Label: "For its size"},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mrow><mi>r</mi><mo>=</mo><mfrac><mrow><msub><mi>U</mi><mn>0</mn></msub><mo>−</mo><mi>U</mi></mrow><mi>U</mi></mfrac><mo>,</mo><mspace width="1em"/>` +
		`<msub><mi>R</mi><mtext>source</mtext></msub><mo>=</mo><mfrac><mrow><msub><mi>U</mi><mn>0</mn></msub><mo>−</mo><mi>U</mi></mrow><mi>I</mi></mfrac></mrow></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "The primary is at mains while you read. Clip on dead, hands out, read live. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Care, Text: "A load resistor gets hot enough to burn: rate it for the watts and keep it off the bench top."},
	},
	Example: calc.Example{
		Says:   "A 20 VA winding shows 14.2 V off load and 12.6 V with 1 A. Its rated current is 1.5 A.",
		Inputs: []calc.Setting{{Name: "no-load", Value: "14.2 V"}, {Name: "loaded", Value: "12.6 V"}, {Name: "load", Value: "1 A"}, {Name: "rated", Value: "1.5 A"}, {Name: "size", Value: "20 VA"}},
		Prints: []calc.Setting{{Name: "source-resistance", Value: "1.600 Ω"}, {Name: "at-rated", Value: "11.80 V"}, {Name: "regulation", Value: "20 %"}},
	},
	Plots: []calc.Plot{{Name: "load-line", Title: "Voltage against load current",
		Says: "A straight line falls from the voltage off load; the mark is the rated load.", Chart: chart}},
	Onward: []calc.Onward{
		{Calculator: "rectifier", Says: "What DC does it give behind a rectifier?", Takes: []calc.Take{{From: "off-load", To: "ac"}, {From: "source-resistance", To: "source-resistance"}}},
		{Calculator: "battery-charge", Says: "What does it push into a battery?", Takes: []calc.Take{{From: "off-load", To: "ac"}, {From: "source-resistance", To: "source-resistance"}}},
		{Calculator: "secondary-window", Says: "What voltage should a supply with it show?", Takes: []calc.Take{{From: "regulation", To: "regulation"}}},
		{Calculator: "winding-rise", Says: "How hot does it get under that load?"},
	},
}

// line is the straight fall of the volts: off load, and ohms.
type line struct{ volts, ohms float64 }

func (l line) at(amps float64) float64 { return l.volts - float64(l.ohms*amps) }

// ofReadings is the line through both readings, and the current of the loaded one.
func ofReadings(in calc.In) (l line, amps float64, err error) {
	u0, u := in.Num("no-load"), in.Num("loaded")
	if u > u0 {
		return l, 0, calc.Bad("loaded", "Volts under load: "+quantity.Of(quantity.Voltage, u).Text()+" is above the volts off load, "+quantity.Of(quantity.Voltage, u0).Text()+
			"; the readings may be swapped, or the mains rose in between")
	}
	amps = in.Num("load")
	if v := in.Value("load"); v.Kind == quantity.Resistance {
		if v.Num <= 0 {
			return l, 0, calc.Bad("load", "Load: a load resistor needs more than 0 Ω")
		}
		amps = u / v.Num
	}
	if amps <= 0 {
		return l, 0, calc.Bad("load", "Load: without current there is no drop to measure; write the load's amperes or ohms")
	}
	return line{u0, (u0 - u) / amps}, amps, nil
}

func run(in calc.In, out *calc.Out) error {
	if in.Word("from") == "size" {
		return bySize(in, out)
	}
	l, amps, err := ofReadings(in)
	if err != nil {
		return err
	}
	out.Set("source-resistance", l.ohms)
	out.Set("off-load", l.volts)
	if in.Has("rated") {
		amps = in.Num("rated")
	}
	u := l.at(amps)
	if u <= 0 {
		input, says := "loaded", "Volts under load: a winding that gives nothing under load has no regulation: look for a bad joint, or for volts that only the meter's high resistance sees"
		if in.Has("rated") {
			input, says = "rated", "Rated current: this winding gives at most "+quantity.Of(quantity.Current, l.volts/l.ohms).Text()+", into a short"
		}
		return calc.Bad(input, says)
	}
	r := (l.volts - u) / u
	out.Set("at-rated", u)
	out.Set("regulation", r)
	out.Set("of-no-load", (l.volts-u)/l.volts)
	out.Set("loss", l.ohms*amps*amps)
	if !in.Has("size") {
		return nil
	}
	low, _, high := supply.Regulation(in.Num("size"))
	out.SetRange("by-size", low, high)
	text := quantity.Between(quantity.Percent, low, high).Text()
	switch {
	case r > high:
		out.Say("verdict", "too-much", "It falls further than its size explains ("+text+"): look for a bad joint, thin leads, a sagging mains, or a load that is more than it is rated for.")
	case r < low:
		out.Say("verdict", "little", "It falls less than usual for its size ("+text+"): no fault in itself; check that the load really draws its current.")
	default:
		out.Say("verdict", "as-usual", "Usual for its size ("+text+"). That says nothing of shorted turns.")
	}
	if !in.Has("rated") && math.Abs(in.Num("loaded")*amps/in.Num("size")-1) > .25 {
		out.Note("The load was not the rated one: enter the rated current, VA over volts, for a fair comparison.")
	}
	return nil
}

// bySize estimates from the VA alone.
func bySize(in calc.In, out *calc.Out) error {
	if !in.Has("size") {
		return calc.Bad("size", "Size: going by the size needs the VA of the plate")
	}
	u, va := in.Num("loaded"), in.Num("size")
	if u <= 0 {
		return calc.Bad("loaded", "Volts under load: going by the size this is the rated volts, which must be above 0 V")
	}
	low, _, high := supply.Regulation(va)
	amps := va / u
	set := func(name string, of func(r float64) float64) {
		out.SetRange(name, of(low), of(high))
	}
	set("regulation", func(r float64) float64 { return r })
	set("source-resistance", func(r float64) float64 { return r * u / amps })
	set("of-no-load", func(r float64) float64 { return r / (1 + r) })
	set("off-load", func(r float64) float64 { return u * (1 + r) })
	set("loss", func(r float64) float64 { return r * u * amps })
	out.Set("at-rated", u)
	out.Note("An estimate from the size; two readings go before it.")
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	var l line
	var amps float64
	if in.Word("from") == "size" {
		if !in.Has("size") || in.Num("loaded") <= 0 {
			return draw.Chart{}, calc.Bad("size", "Size: going by the size needs the VA of the plate and the rated volts")
		}
		_, r, _ := supply.Regulation(in.Num("size"))
		u := in.Num("loaded")
		amps = in.Num("size") / u
		l = line{u * (1 + r), r * u / amps}
	} else {
		var err error
		if l, amps, err = ofReadings(in); err != nil {
			return draw.Chart{}, err
		}
		if in.Has("rated") {
			amps = in.Num("rated")
		}
	}
	end := 1.5 * amps
	s := draw.Series{X: []float64{0, end}, Y: []float64{l.volts, math.Max(0, l.at(end))}}
	return draw.Chart{X: draw.Axis{Label: "load current", Unit: "A"}, Y: draw.Axis{Label: "winding", Unit: "V", From: 0, To: l.volts * 1.1},
		Series: []draw.Series{s}, Marks: []draw.Mark{{X: amps, Y: math.Max(0, l.at(amps)), Name: "rated load"}}}, nil
}
