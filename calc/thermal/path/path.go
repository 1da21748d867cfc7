package path

import (
	_ "embed"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator follows heat from junction to air.
var Calculator = &calc.Calculator{
	Name:  "heat-path",
	Title: "From junction to air",
	For:   "Tells how hot a semiconductor's junction, case and heat sink get, and which heat sink it needs.",
	Shelf: "thermal",
	Inputs: []calc.Input{
		{Name: "power", Label: "Heat in the part", Kind: quantity.Power, Default: "5 W", Low: "1 µW", High: "10 kW"},
		{Name: "path", Label: "Mounted", Default: "sink", Choices: []calc.Choice{{Name: "sink", Label: "On a heat sink"}, {Name: "free", Label: "Without one"}}},
		{Name: "junction-case", Label: "Junction to case", Kind: quantity.ThermalRes, Default: "3 K/W", Low: "0.001 K/W", High: "1000 K/W", Help: "From the data sheet; 1 to 5 K/W in TO-220."},
		{Name: "case-sink", Label: "Case to sink", Folded: true, Kind: quantity.ThermalRes, Default: "1 K/W", Low: "0 K/W", High: "100 K/W", Help: "0.5 with paste, 1 to 2 with a pad."},
		{Name: "sink-air", Label: "Sink to air", Kind: quantity.ThermalRes, Default: "12 K/W", Low: "0 K/W", High: "1000 K/W"},
		{Name: "junction-air", Label: "Junction to air, without sink", Folded: true, Kind: quantity.ThermalRes, Default: "62 K/W", Low: "0.01 K/W", High: "2000 K/W", Help: "About 62 K/W in TO-220; used only without a sink."},
		{Name: "air", Label: "Air around it", Kind: quantity.Temperature, Default: "40 °C", Low: "-55 °C", High: "200 °C"},
		{Name: "highest", Label: "Highest junction temperature", Folded: true, Kind: quantity.Temperature, Default: "150 °C", Low: "0 °C", High: "400 °C"},
		{Name: "case", Label: "Case, measured", Reading: true, Kind: quantity.Temperature, Optional: true, Low: "-55 °C", High: "300 °C", Help: "Probe at the tab; then air and sink do not matter."},
	},
	Outputs: []calc.Output{
		{Name: "junction", Label: "Junction", Kind: quantity.Temperature, Main: true},
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "case-temperature", Label: "Case", Kind: quantity.Temperature},
		{Name: "sink-temperature", Label: "Sink", Kind: quantity.Temperature},
		{Name: "rise", Label: "Junction above the air", Kind: quantity.Rise},
		{Name: "margin", Label: "Left to the highest", Kind: quantity.Rise, Limit: quantity.Highest},
		{Name: "sink-needed", Label: "Sink to air at most", Kind: quantity.ThermalRes, Limit: quantity.Highest},
		{Name: "most-power", Label: "Most heat on this path", Kind: quantity.Power, Limit: quantity.Highest},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><msub><mi>T</mi><mi>j</mi></msub><mo>=</mo><msub><mi>T</mi><mtext>air</mtext></msub><mo>+</mo><mi>P</mi>` +
		`<mo>(</mo><msub><mi>R</mi><mi>jc</mi></msub><mo>+</mo><msub><mi>R</mi><mi>cs</mi></msub><mo>+</mo><msub><mi>R</mi><mi>sa</mi></msub><mo>)</mo></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Care, Text: "Sinks and tabs burn skin above about 60 °C. Tab and sink may be live, in a mains supply at mains: measure them before touching, power off. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "5 W in TO-220, 3 K/W to its case and 1 K/W to its sink, in air of 50 °C.",
		Inputs: []calc.Setting{{Name: "power", Value: "5 W"}, {Name: "junction-case", Value: "3 K/W"}, {Name: "case-sink", Value: "1 K/W"}, {Name: "air", Value: "50 °C"}, {Name: "highest", Value: "150 °C"}},
		Prints: []calc.Setting{{Name: "sink-needed", Value: "16.00 K/W"}, {Name: "junction", Value: "130.0 °C"}},
	},
	Plots: []calc.Plot{{Name: "junction", Title: "Junction temperature against heat",
		Says: "Straight lines from the air's temperature; the steeper one is without a sink. Where a line meets the level of the highest junction its watts end.", Chart: chart}},
}

// above is how much hotter than its cold end a path gets: watts times the sum of its K/W.
func above(watts float64, path ...float64) float64 {
	sum := 0.0
	for _, r := range path {
		sum += r
	}
	return watts * sum
}

// sinkNeeded is the K/W that may lie between sink and air; negative where even the best sink fails.
func sinkNeeded(watts, air, highest, junctionCase, caseSink float64) float64 {
	return (highest-air)/watts - junctionCase - caseSink
}

func celsius(x float64) string { return quantity.Of(quantity.Temperature, x).Text() }

func run(in calc.In, out *calc.Out) error {
	p, air, highest := in.Num("power"), in.Num("air"), in.Num("highest")
	jc, cs, sa, ja := in.Num("junction-case"), in.Num("case-sink"), in.Num("sink-air"), in.Num("junction-air")
	if highest <= air {
		return calc.Bad("air", "Air around it: "+celsius(air)+" is not below the highest junction temperature of "+celsius(highest)+", so no heat could leave; enter cooler air")
	}
	free := in.Word("path") == "free"
	if free && ja <= jc {
		return calc.Bad("junction-air", "Junction to air: it holds junction to case as a part, so it must be above "+quantity.Of(quantity.ThermalRes, jc).Text())
	}
	measured := in.Has("case")
	var junction float64
	switch {
	case measured:
		junction = in.Num("case") + above(p, jc)
		out.Set("case-temperature", in.Num("case"))
	case free:
		junction = air + above(p, ja)
		out.Set("case-temperature", junction-above(p, jc))
		out.Set("most-power", (highest-air)/ja)
	default:
		junction = air + above(p, jc, cs, sa)
		out.Set("sink-temperature", air+above(p, sa))
		out.Set("case-temperature", air+above(p, cs, sa))
		out.Set("most-power", (highest-air)/(jc+cs+sa))
	}
	out.Set("junction", junction)
	if !measured {
		out.Set("rise", junction-air)
	}
	out.Set("margin", highest-junction)
	need := sinkNeeded(p, air, highest, jc, cs)
	if need > 0 {
		out.Set("sink-needed", need)
	} else {
		out.Note("No sink is good enough: what is between junction and sink alone makes it too hot. Spread the heat over several parts.")
	}
	switch {
	case junction > highest:
		reached, allowed := quantity.Apart(quantity.Of(quantity.Temperature, junction), quantity.Of(quantity.Temperature, highest))
		out.Say("verdict", "too-hot", "Too hot: the junction would reach "+reached+" of "+allowed+" allowed; the part shuts down or dies.")
	case highest-junction < 25:
		out.Say("verdict", "close", "Close: less than 25 K are left; a warm day, dust or dried paste take them.")
	default:
		out.Say("verdict", "holds", "Holds, with "+quantity.Of(quantity.Rise, highest-junction).Text()+" left.")
	}
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	p, air, highest := in.Num("power"), in.Num("air"), in.Num("highest")
	sink := in.Num("junction-case") + in.Num("case-sink") + in.Num("sink-air")
	on, off := draw.Series{Name: "on the sink"}, draw.Series{Name: "without one", Dashed: true}
	for i := 0; i <= 40; i++ {
		w := 2 * p * float64(i) / 40
		on.X, on.Y = append(on.X, w), append(on.Y, air+above(w, sink))
		if t := air + above(w, in.Num("junction-air")); t <= 1.5*highest+50 {
			off.X, off.Y = append(off.X, w), append(off.Y, t)
		}
	}
	c := draw.Chart{X: draw.Axis{Label: "heat", Unit: "W"}, Y: draw.Axis{Label: "junction", Unit: "°C"}, Series: []draw.Series{on},
		Marks: []draw.Mark{{Y: highest, Name: "highest", Level: true}}}
	if len(off.X) > 1 {
		c.Series = append(c.Series, off)
	}
	at := air + above(p, sink)
	if in.Word("path") == "free" {
		at = air + above(p, in.Num("junction-air"))
	}
	if at <= 1.5*highest+50 || in.Word("path") == "sink" {
		c.Marks = append(c.Marks, draw.Mark{X: p, Y: at, Name: "here"})
	}
	return c, nil
}
