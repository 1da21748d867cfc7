package hum

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator points from a hum to its source.
var Calculator = &calc.Calculator{
	Name:  "hum",
	Title: "Where the hum comes from",
	For:   "Points from the pitch of a hum, its level and what changes it to the supply, an earth loop, a field or a signal lead.",
	Shelf: "audio",
	Inputs: []calc.Input{
		{Name: "pitch", Label: "Pitch of the hum", Kind: quantity.Frequency, Default: "100 Hz", From: calc.TwiceHertz, Low: "10 Hz", High: "2 kHz", Help: "By a meter with frequency, or by ear."},
		{Name: "mains", Label: "Mains frequency", Kind: quantity.Frequency, Default: "50 Hz", From: calc.Hertz, Low: "16 Hz", High: "400 Hz"},
		{Name: "level", Label: "Hum at the output", Kind: quantity.Voltage, Default: "20 mV", Low: "1 µV", High: "100 V"},
		{Name: "full", Label: "Voltage at full output", Kind: quantity.Voltage, Default: "20 V", Low: "0.1 V", High: "200 V", Help: "√(P·R): 50 W into 8 Ω is 20 V."},
		{Name: "volume", Label: "The volume control", Default: "no", Choices: []calc.Choice{{Name: "no", Label: "does not change it"}, {Name: "yes", Label: "changes it"}}},
		{Name: "shorted", Label: "With the input shorted or the lead out", Default: "stays", Choices: []calc.Choice{{Name: "stays", Label: "it stays"}, {Name: "goes", Label: "it goes"}}},
	},
	Outputs: []calc.Output{
		{Name: "points-to", Label: "It points to", Main: true},
		{Name: "next", Label: "Do next"},
		{Name: "below-full", Label: "Below full output", Kind: quantity.Level, Main: true},
		{Name: "audible", Label: "To the ear"},
		{Name: "pitch-is", Label: "The pitch is"},
	},
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><mi>L</mi><mo>=</mo><mn>20</mn><mi>lg</mi><mfrac><msub><mi>V</mi><mtext>hum</mtext></msub><msub><mi>V</mi><mtext>full</mtext></msub></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Never cut or lift the protective earth to stop a hum. The amplifier is live inside and its capacitors stay charged. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "20 mV at 100 Hz on 50 Hz mains, volume makes no difference, amplifier of 20 V.",
		Inputs: []calc.Setting{},
		Prints: []calc.Setting{{Name: "below-full", Value: "-60.0 dB"}},
	},
	Onward: []calc.Onward{{Calculator: "rectifier", Says: "How much ripple a healthy supply has"}, {Calculator: "esr", Says: "Is the reservoir capacitor dried out?"}},
}

// near is how far a pitch may lie from a multiple of the mains frequency and
// still be it, as a share of the mains frequency (twice that from the second on).
const near = .06

// order is the multiple of the mains frequency that the pitch is, 0 for none.
func order(pitch, mains float64) int {
	n := math.Round(pitch / mains)
	if n >= 1 && math.Abs(pitch-n*mains) <= near*math.Min(n, 2)*mains {
		return int(n)
	}
	return 0
}

func run(in calc.In, out *calc.Out) error {
	n := order(in.Num("pitch"), in.Num("mains"))
	before := in.Word("volume") == "yes" // before the volume control
	goes := in.Word("shorted") == "goes"
	switch {
	case n == 0:
		out.Say("pitch-is", "foreign", "No multiple of the mains frequency.")
	case n == 1:
		out.Say("pitch-is", "mains", "The mains frequency: half-wave ripple, a field or a loop.")
	case n == 2:
		out.Say("pitch-is", "twice", "Twice the mains frequency: full-wave ripple.")
	default:
		out.Say("pitch-is", "harmonic", "A higher multiple of the mains frequency: the buzz of a loop, a dimmer or a rectifier.")
	}
	say := func(word, sentence, next string) {
		out.Say("points-to", word, sentence)
		out.Say("next", "next", next)
	}
	switch {
	case n == 0:
		say("not-mains", "Not mains hum: a switch-mode supply, an oscillation, or a source that hums itself.", "Look at it with a scope, or try another source.")
	case goes && before:
		say("signal-lead", "The signal lead, its screen or the source.", "Try a short screened lead and a battery source; measure the screen end to end.")
	case goes:
		say("input-wiring", "The lead or the input wiring behind the volume control.", "Move and re-solder the input's screen; keep it away from the transformer.")
	case n == 2 && !before:
		say("reservoir", "The reservoir capacitors or their rectifier: ripple that the output stage passes on.", "Measure the ripple on both rails and the capacitors; the two should be alike.")
	case n == 2:
		say("early-supply", "The smoothing or the regulator of the small-signal stages.", "Measure ripple before and after the regulator or the dropping resistor.")
	case n == 1 && !before:
		say("half-wave", "Half of the rectifier is open, so that the supply ripples at the mains frequency, or the transformer's field reaches the output wiring.", "Test the rectifier's diodes; then turn the transformer or move leads and listen.")
	case n == 1:
		say("loop-or-field", "An earth loop or a field before the volume control.", "Unplug every other device but one; if it goes, the loop is between them: a signal transformer, never a lifted earth.")
	default:
		say("loop", "An earth loop or a dimmer's buzz.", "Unplug other devices and dimmers on the circuit one by one.")
	}
	l := 20 * math.Log10(in.Num("level")/in.Num("full"))
	out.Set("below-full", l)
	switch {
	case l > -50:
		out.Say("audible", "loud", "Plain to hear in any room; a fault.")
	case l > -75:
		out.Say("audible", "faint", "To be heard near the loudspeaker or in a quiet room.")
	default:
		out.Say("audible", "quiet", "Hardly to be heard; good amplifiers are here.")
	}
	return nil
}
