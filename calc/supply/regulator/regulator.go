package regulator

import (
	_ "embed"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives the heat in a linear regulator.
var Calculator = &calc.Calculator{
	Name:    "regulator-heat",
	Title:   "Heat in a linear regulator",
	For:     "Tells how much heat a linear regulator makes, how hot it gets with and without a sink, and whether its input suffices.",
	Shelf:   "supply",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "in", Label: "Voltage in, mean", Kind: quantity.Voltage, Default: "12 V", Low: "0.5 V", High: "500 V", Help: "DC at its input, under load."},
		{Name: "out", Label: "Voltage out", Kind: quantity.Voltage, Default: "5 V", Low: "0 V", High: "500 V"},
		{Name: "current", Label: "Load current", Kind: quantity.Current, Default: "0.5 A", Low: "0 A", High: "100 A"},
		{Name: "own-current", Label: "Its own current", Folded: true, Kind: quantity.Current, Default: "5 mA", Low: "0 A", High: "1 A", Help: "About 5 mA; 0 for a pass transistor alone."},
		{Name: "dropout", Label: "Dropout", Folded: true, Kind: quantity.Voltage, Default: "2 V", Low: "0 V", High: "10 V", Help: "2 V for common types, 0.1 to 1.2 V for low-drop ones."},
		{Name: "ripple", Label: "Ripple at its input, peak to peak", Folded: true, Kind: quantity.Voltage, Default: "0 V", Low: "0 V", High: "200 V"},
		{Name: "junction-case", Label: "Junction to case", Folded: true, Kind: quantity.ThermalRes, Default: "5 K/W", Low: "0.001 K/W", High: "1000 K/W"},
		{Name: "case-sink", Label: "Case to sink", Folded: true, Kind: quantity.ThermalRes, Default: "1 K/W", Low: "0 K/W", High: "100 K/W"},
		{Name: "sink-air", Label: "Sink to air", Kind: quantity.ThermalRes, Default: "10 K/W", Low: "0 K/W", High: "1000 K/W"},
		{Name: "junction-air", Label: "Junction to air, without sink", Folded: true, Kind: quantity.ThermalRes, Default: "62 K/W", Low: "0.01 K/W", High: "2000 K/W"},
		{Name: "air", Label: "Air around it", Kind: quantity.Temperature, Default: "40 °C", Low: "-40 °C", High: "120 °C"},
		{Name: "highest", Label: "Highest junction temperature", Folded: true, Kind: quantity.Temperature, Default: "125 °C", Low: "50 °C", High: "250 °C"},
	},
	Outputs: []calc.Output{
		{Name: "heat", Label: "Heat in the regulator", Kind: quantity.Power, Main: true},
		{Name: "junction", Label: "Junction, on this sink", Kind: quantity.Temperature, Main: true},
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "junction-free", Label: "Junction, without sink", Kind: quantity.Temperature},
		{Name: "sink-needed", Label: "Sink to air at most", Kind: quantity.ThermalRes, Limit: quantity.Highest},
		{Name: "most-current", Label: "Most current on this sink", Kind: quantity.Current, Limit: quantity.Highest},
		{Name: "lowest-in", Label: "Input at its lowest", Kind: quantity.Voltage, Limit: quantity.Highest},
		{Name: "headroom", Label: "Above output and dropout", Kind: quantity.Voltage, Limit: quantity.Highest},
		{Name: "efficiency", Label: "Efficiency", Kind: quantity.Percent},
		{Name: "in-power", Label: "Power that it takes", Kind: quantity.Power},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>P</mi><mo>=</mo><mo>(</mo><msub><mi>V</mi><mtext>in</mtext></msub><mo>−</mo><msub><mi>V</mi><mtext>out</mtext></msub><mo>)</mo>` +
		`<mi>I</mi><mo>+</mo><msub><mi>V</mi><mtext>in</mtext></msub><msub><mi>I</mi><mtext>own</mtext></msub></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Care, Text: "Regulator and sink burn skin. The tab may be live: input, output or ground by type; measure before touching or insulating. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says: "12 V down to 5 V at 0.5 A, on a sink of 10 K/W in air of 25 °C; its own current left out.",
		Inputs: []calc.Setting{{Name: "in", Value: "12 V"}, {Name: "out", Value: "5 V"}, {Name: "current", Value: "0.5 A"}, {Name: "own-current", Value: "0 A"},
			{Name: "air", Value: "25 °C"}},
		Prints: []calc.Setting{{Name: "heat", Value: "3.50 W"}, {Name: "junction", Value: "81.0 °C"}, {Name: "efficiency", Value: "42 %"}},
	},
	Plots: []calc.Plot{{Name: "junction", Title: "Junction temperature against load current",
		Says: "The junction climbs in a straight line with the current; where it meets the level the regulator shuts down.", Chart: chart}},
	Onward: []calc.Onward{{Calculator: "heat-path", Says: "Follow the heat, or get the junction from a measured case.",
		Takes: []calc.Take{{From: "heat", To: "power"}, {From: "junction-case", To: "junction-case"}, {From: "case-sink", To: "case-sink"},
			{From: "sink-air", To: "sink-air"}, {From: "air", To: "air"}, {From: "highest", To: "highest"}}}},
}

// heat in W of a series regulator: data sheets LM78M05 and LM317.
func heat(in, out, amps, own float64) float64 { return float64((in-out)*amps) + float64(in*own) }

func run(in calc.In, out *calc.Out) error {
	vin, vout, amps, own := in.Num("in"), in.Num("out"), in.Num("current"), in.Num("own-current")
	air, highest := in.Num("air"), in.Num("highest")
	if vout >= vin {
		return calc.Bad("out", "Volts out: a linear regulator cannot give "+quantity.Of(quantity.Voltage, vout).Text()+" from "+quantity.Of(quantity.Voltage, vin).Text()+"; enter less than the input")
	}
	if in.Num("ripple") >= 2*vin {
		return calc.Bad("ripple", "Ripple at its input: it cannot be more than twice the mean of "+quantity.Of(quantity.Voltage, vin).Text())
	}
	if highest <= air {
		return calc.Bad("air", "Air around it: it must be below the highest junction temperature of "+quantity.Of(quantity.Temperature, highest).Text())
	}
	p := heat(vin, vout, amps, own)
	sink := in.Num("junction-case") + in.Num("case-sink") + in.Num("sink-air")
	junction := air + float64(p*sink)
	free := air + float64(p*in.Num("junction-air"))
	lowest := vin - in.Num("ripple")/2
	room := lowest - vout - in.Num("dropout")
	taken := vin * (amps + own)
	out.Set("heat", p)
	out.Set("junction", junction)
	out.Set("junction-free", free)
	out.Set("lowest-in", lowest)
	out.Set("headroom", room)
	out.Set("in-power", taken)
	if taken > 0 {
		out.Set("efficiency", vout*amps/taken)
	}
	if p > 0 {
		need := (highest-air)/p - in.Num("junction-case") - in.Num("case-sink")
		if need > 0 {
			out.Set("sink-needed", need)
		} else {
			out.Note("No sink is good enough for so much heat in one part: fewer volts in, a resistor before it, or several parts.")
		}
	}
	if most := ((highest-air)/sink - float64(vin*own)) / (vin - vout); most > 0 {
		out.Set("most-current", most)
	}
	switch {
	case room < 0:
		out.Say("verdict", "drops-out", "Drops out: at its lowest the input is too near the output, which sags and carries hum. Look for a tired reservoir capacitor, one open diode or low mains.")
	case junction > highest:
		out.Say("verdict", "too-hot", "Too hot on this sink: it shuts down and tries again, or ages fast.")
	case free <= highest:
		out.Say("verdict", "no-sink-needed", "Holds, and would without a sink.")
	case highest-junction < 20:
		out.Say("verdict", "close", "Close: less than 20 K are left; high mains or a warm day take them.")
	default:
		out.Say("verdict", "holds", "Holds on this sink; without one it would be too hot.")
	}
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	vin, vout, own, air := in.Num("in"), in.Num("out"), in.Num("own-current"), in.Num("air")
	sink := in.Num("junction-case") + in.Num("case-sink") + in.Num("sink-air")
	top := 2 * in.Num("current")
	if top == 0 {
		top = 1
	}
	at := func(amps float64) float64 { return air + float64(heat(vin, vout, amps, own)*sink) }
	s := draw.Series{}
	for i := 0; i <= 40; i++ {
		a := top * float64(i) / 40
		s.X, s.Y = append(s.X, a), append(s.Y, at(a))
	}
	return draw.Chart{X: draw.Axis{Label: "load current", Unit: "A"}, Y: draw.Axis{Label: "junction", Unit: "°C"}, Series: []draw.Series{s},
		Marks: []draw.Mark{{Y: in.Num("highest"), Name: "highest", Level: true}, {X: in.Num("current"), Y: at(in.Num("current")), Name: "here"}}}, nil
}
