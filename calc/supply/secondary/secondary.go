package secondary

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/supply"
)

//go:embed doc.go
var doc string

// Calculator gives the window for a secondary's AC volts.
var Calculator = &calc.Calculator{
	Name:    "secondary-window",
	Title:   "AC volts of a supply's secondary",
	For:     "Tells which AC volts the transformer of a supply or charger should show, off load and loaded, from its label.",
	Shelf:   "supply",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "kind", Label: "Kind of supply", Default: "charger", Choices: []calc.Choice{
			{Name: "charger", Label: "Lead-acid charger, plain transformer"}, {Name: "dc-adapter", Label: "DC adapter, not regulated"},
			{Name: "ac-adapter", Label: "AC adapter"}, {Name: "regulated", Label: "Linear regulated supply"}}},
		{Name: "output", Label: "Rated output voltage", Kind: quantity.Voltage, Default: "12 V", Low: "1 V", High: "500 V", Help: "As on the label; of the battery for a charger."},
		{Name: "amps", Label: "Rated output current", Kind: quantity.Current, Default: "1 A", Low: "5 mA", High: "200 A"},
		{Name: "circuit", Label: "Rectifier", Folded: true, Default: "bridge", Choices: []calc.Choice{
			{Name: "bridge", Label: "Bridge"}, {Name: "centre-tap", Label: "Full wave, centre tap"}, {Name: "half-wave", Label: "Half wave"}}},
		{Name: "regulation", Label: "Regulation of the transformer", Folded: true, Kind: quantity.Percent, Optional: true, Low: "0 %", High: "120 %",
			Help: "Off load over loaded volts, less one. Leave empty to take it from the size."},
		{Name: "mains-off", Label: "Mains may be off by", Folded: true, Kind: quantity.Percent, Default: "6 %", Low: "0 %", High: "15 %"},
		{Name: "reading", Label: "AC voltage read off load", Reading: true, Kind: quantity.Voltage, Optional: true, Low: "0 V", High: "1000 V", Help: "At the winding, load taken off; of one half for a centre tap."},
	},
	Outputs: []calc.Output{
		{Name: "off-load", Label: "Secondary off load, AC", Kind: quantity.Voltage, Main: true},
		{Name: "healthy", Label: "Most likely", Kind: quantity.Voltage, Main: true},
		{Name: "verdict", Label: "The reading", Main: true},
		{Name: "loaded", Label: "Secondary at rated load, AC", Kind: quantity.Voltage},
		{Name: "dc-off-load", Label: "DC output off load", Kind: quantity.Voltage, Help: "Mean volts; a charger without battery shows these."},
		{Name: "regulation-used", Label: "Regulation", Kind: quantity.Percent},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><msub><mi>V</mi><mtext>off load</mtext></msub><mo>=</mo><msub><mi>V</mi><mtext>loaded</mtext></msub>` +
		`<mo>(</mo><mn>1</mn><mo>+</mo><mtext>regulation</mtext><mo>)</mo></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "The primary side is at mains. Clip on dead, hands out, read live. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Warning, Text: "Charging lead-acid makes explosive gas: ventilate, switch off before unclipping. Never from such a charger: lithium cells. A thermal link in the winding is never bypassed."},
	},
	Example: calc.Example{
		Says:   "A transformer charger for a 12 V lead-acid battery shows 17 V AC at its secondary, off load.",
		Inputs: []calc.Setting{{Name: "kind", Value: "charger"}, {Name: "output", Value: "12 V"}, {Name: "amps", Value: "4 A"}, {Name: "reading", Value: "17 V"}},
		Prints: []calc.Setting{{Name: "off-load", Value: "13.00–20.0 V"}, {Name: "healthy", Value: "17.00 V"}, {Name: "verdict", Value: "In the window of a healthy one. Load it and look again: a weak winding drops only then."}},
	},
	Onward: []calc.Onward{{Calculator: "rectifier", Says: "Which DC and ripple come of it with a capacitor?", Takes: []calc.Take{{From: "healthy", To: "ac"}}}},
}

// A charger's AC volts off load for 12 V of battery: common practice, no source.
const chargerLow, chargerHealthy, chargerHigh = 13.0 / 12, 17.0 / 12, 20.0 / 12

// A DC adapter rises so many times the transformer's regulation: the ends of 32 to 80 % over 12 to 34 %, rounded
// outward (trade practice, "roughly double").
const riseLeast, riseLikely, riseMost = 2.0, 2.2, 2.5

// Diode drops in V: a silicon diode off load and at load, from memory.
const dropIdle, dropLoaded = 0.5, 0.9

// Before a linear regulator: V above the output at 10 % less mains, and how far makers go above the least (from memory).
const headroom, lowMains, generous = 2.5, 0.90, 1.5

// factor is the winding's apparent power over DC power, with a capacitor: common practice for the bridge; ATC-Frost for half
// wave.
var factor = map[string]float64{"bridge": 1.8, "centre-tap": 1.8, "half-wave": 2.3}

// window is low, likely and high end.
type window struct{ low, likely, high float64 }

func (w window) each(f func(float64) float64) window {
	return window{f(w.low), f(w.likely), f(w.high)}
}

// expected gives the secondary off load, loaded, and the DC off load (zero for AC adapters), in V RMS and V mean.
func expected(in calc.In) (off, loaded, dc window, regulation window) {
	volts := in.Num("output")
	kind, circuit := in.Word("kind"), in.Word("circuit")
	drops := 1.0
	if circuit == "bridge" {
		drops = 2
	}
	va := volts * in.Num("amps")
	if kind != "ac-adapter" {
		va *= factor[circuit]
	}
	if in.Has("regulation") {
		r := in.Num("regulation")
		regulation = window{r, r, r}
	} else {
		regulation.low, regulation.likely, regulation.high = supply.Regulation(va)
	}
	m := in.Num("mains-off")
	switch kind {
	case "charger":
		off = window{volts * chargerLow, volts * chargerHealthy, volts * chargerHigh}
		share := 2 * math.Sqrt2 / math.Pi // mean of a rectified sine over its RMS
		if circuit == "half-wave" {
			share /= 2
			drops /= 2 // it drops in every second half only
		}
		dc = off.each(func(v float64) float64 { return math.Max(0, float64(v*share)-float64(drops*0.7)) })
		loaded = off.each(func(v float64) float64 { return v / (1 + regulation.likely) })
		return off, loaded, dc, regulation
	case "ac-adapter":
		off = window{volts * (1 + regulation.low), volts * (1 + regulation.likely), volts * (1 + regulation.high)}
		loaded = window{volts, volts, volts}
	default:
		base := window{volts, volts, volts}
		if kind == "regulated" {
			least := (volts + headroom) / lowMains
			base = window{least, least * (1 + generous) / 2, least * generous}
		}
		dc = window{base.low * (1 + float64(riseLeast*regulation.low)), base.likely * (1 + float64(riseLikely*regulation.likely)), base.high * (1 + float64(riseMost*regulation.high))}
		off = dc.each(func(v float64) float64 { return (v + float64(drops*dropIdle)) / math.Sqrt2 })
		loaded = window{off.low / (1 + regulation.low), off.likely / (1 + regulation.likely), off.high / (1 + regulation.high)}
	}
	spread := func(w window) window { return window{w.low * (1 - m), w.likely, w.high * (1 + m)} }
	return spread(off), spread(loaded), spread(dc), regulation
}

func run(in calc.In, out *calc.Out) error {
	off, loaded, dc, regulation := expected(in)
	out.SetRange("off-load", off.low, off.high)
	out.Set("healthy", off.likely)
	out.SetRange("loaded", loaded.low, loaded.high)
	if in.Word("kind") != "ac-adapter" {
		out.SetRange("dc-off-load", dc.low, dc.high)
	}
	if in.Word("kind") == "regulated" {
		out.Note("The DC off load is that before the regulator; behind it the output holds its volts.")
	}
	out.SetRange("regulation-used", regulation.low, regulation.high)
	if !in.Has("reading") {
		return nil
	}
	switch v := in.Num("reading"); {
	case v < off.likely/20:
		out.Say("verdict", "none", "Nothing: no mains at the primary, an open primary or secondary, or the thermal link in the winding.")
	case v < off.low:
		out.Say("verdict", "low", "Low: it is still loaded, the mains is low or set to another, turns are shorted, or the label is not of this transformer.")
	case v > off.high:
		out.Say("verdict", "high", "High: mains selector or taps set wrong, the label is not of this transformer, or end to end was read on a centre tap.")
	default:
		out.Say("verdict", "healthy", "In the window of a healthy one. Load it and look again: a weak winding drops only then.")
	}
	return nil
}
