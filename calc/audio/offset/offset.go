package offset

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator judges the DC at a loudspeaker output.
var Calculator = &calc.Calculator{
	Name:    "dc-offset",
	Title:   "DC at the loudspeaker output",
	For:     "Says whether the DC volts at an amplifier's output are safe for a loudspeaker, and what they do to it.",
	Shelf:   "audio",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "volts", Label: "DC at the output", Reading: true, Kind: quantity.Voltage, Default: "35 mV", Low: "-200 V", High: "200 V", Help: "Speaker unplugged, input shorted, after a minute."},
		{Name: "speaker", Label: "Loudspeaker, nominal", Kind: quantity.Resistance, Default: "8 Ω", Low: "1 Ω", High: "1 kΩ"},
		{Name: "rated", Label: "Its rated power", Kind: quantity.Power, Default: "50 W", Low: "0.1 W", High: "5 kW"},
		{Name: "rail", Label: "Voltage of the supply rail", Kind: quantity.Voltage, Optional: true, Low: "1 V", High: "200 V"},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "The offset", Main: true},
		{Name: "power", Label: "Heat in the voice coil", Kind: quantity.Power, Main: true},
		{Name: "current", Label: "DC through the coil", Kind: quantity.Current},
		{Name: "share", Label: "Of its rated power", Kind: quantity.Percent, Help: "DC cools worse than music of the same power, as the cone does not move."},
		{Name: "relay", Label: "A protection relay"},
	},
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><mi>P</mi><mo>=</mo><mfrac><msup><mi>V</mi><mn>2</mn></msup><mrow><mn>0.8</mn><mi>Z</mi></mrow></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Unplug the loudspeakers before you power a repaired amplifier; a series lamp and a dummy resistor first."},
		{Signal: calc.Danger, Text: "Live work on the mains side is for those licensed for it where the law says so. Reservoir capacitors stay charged. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "35 mV stand at the output for an 8 Ω speaker of 50 W.",
		Inputs: []calc.Setting{{Name: "volts", Value: "35 mV"}},
		Prints: []calc.Setting{{Name: "power", Value: "191.4 µW"}},
	},
}

// Limits of practice; sources in the package comment.
const (
	fine      = .05
	watch     = .1
	find      = .6 // where protection relays begin to open
	relayMost = 3.0
	coil      = .8 // DC resistance over nominal impedance
	nearRail  = .6 // share of the rail from which an output device is shorted
	harm      = .1 // share of rated power as DC that a coil is not asked to bear; our choice
)

func run(in calc.In, out *calc.Out) error {
	v := math.Abs(in.Num("volts"))
	r := coil * in.Num("speaker")
	p := v * v / r
	out.Set("power", p)
	out.Set("current", v/r)
	out.Set("share", p/in.Num("rated"))
	switch {
	case in.Has("rail") && v >= nearRail*in.Num("rail"):
		out.Say("verdict", "rail", "Near the supply rail: an output device or its driver is shorted, or a rail or its fuse is missing. Never with a loudspeaker on.")
	case v > find || p > harm*in.Num("rated"):
		out.Say("verdict", "danger", "Dangerous for the loudspeaker: leave it unplugged and find the cause.")
	case v > watch:
		out.Say("verdict", "find", "Too much: no harm at once, but something has drifted or leaks. Find it before it goes back.")
	case v > fine:
		out.Say("verdict", "watch", "More than most makers allow, not yet harmful; see whether it drifts as it warms.")
	default:
		out.Say("verdict", "fine", "Fine.")
	}
	switch {
	case v < find:
		out.Say("relay", "closes", "Should close and stay closed.")
	case v <= relayMost:
		out.Say("relay", "may-open", "Opens or not, by its design.")
	default:
		out.Say("relay", "opens", "Must stay open. If it has closed, its contacts are welded or the sensing is dead.")
	}
	return nil
}
