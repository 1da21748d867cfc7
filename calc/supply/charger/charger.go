package charger

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

// Calculator gives the charging current of a plain charger.
var Calculator = &calc.Calculator{
	Name: "battery-charge", Title: "Charging a battery without a capacitor", Shelf: "supply",
	Circuit: drawn,
	For:     "The current that a transformer and a rectifier push into a battery, what it costs the winding, and how it falls as the battery fills.",
	Inputs: []calc.Input{
		{Name: "circuit", Label: "Circuit", Default: "bridge", Choices: []calc.Choice{
			{Name: "bridge", Label: "bridge"}, {Name: "centre-tap", Label: "full wave, centre tap"}, {Name: "half-wave", Label: "half wave"}}},
		{Name: "ac", Label: "Secondary, RMS", Kind: quantity.Voltage, Default: "15 V", Low: "1 V", High: "1000 V", Help: "Off load; of one half for a centre tap."},
		{Name: "battery", Label: "Battery's own voltage", Kind: quantity.Voltage, Default: "12.6 V", Low: "0 V", High: "1000 V",
			Help: "Measured with the charger off, some minutes after charging; 12 to 14 V for 12 V lead-acid."},
		{Name: "source-resistance", Label: "Source resistance", Kind: quantity.Resistance, Default: "0.4 Ω", Low: "1 mΩ", High: "10 kΩ", Help: "Winding and primary seen from it; per half for a centre tap."},
		{Name: "series", Label: "Resistor or lamp in series, and cables", Kind: quantity.Resistance, Default: "0.1 Ω", Low: "0 Ω", High: "10 kΩ", Help: "A lamp's ohms hot."},
		{Name: "internal-resistance", Label: "Battery's internal resistance", Folded: true, Kind: quantity.Resistance, Default: "20 mΩ", Low: "0 Ω", High: "1 kΩ"},
		{Name: "diode", Label: "Diodes", Folded: true, Default: "silicon", Choices: []calc.Choice{
			{Name: "silicon", Label: "silicon"}, {Name: "schottky", Label: "Schottky"}, {Name: "ideal", Label: "ideal (for comparison)"}}},
	},
	Outputs: []calc.Output{
		{Name: "mean", Label: "Charging current, mean", Kind: quantity.Current, Main: true, Help: "what charges; a DC meter shows it"},
		{Name: "rms", Label: "Charging current, RMS", Kind: quantity.Current, Main: true, Help: "what a fuse beside the battery sees"},
		{Name: "peak", Label: "Peak current", Kind: quantity.Current, Main: true},
		{Name: "rms-ratio", Label: "RMS over mean", Kind: quantity.Ratio},
		{Name: "conduction", Label: "Current flows for", Kind: quantity.Percent, Help: "of the time"},
		{Name: "source-rms", Label: "RMS current of the winding", Kind: quantity.Current, Help: "of each half for a centre tap"},
		{Name: "apparent-power", Label: "Apparent power of the winding", Kind: quantity.ApparentPower},
		{Name: "into-battery", Label: "Power that charges", Kind: quantity.Power},
		{Name: "series-heat", Label: "Heat in the series resistor", Kind: quantity.Power},
		{Name: "terminal-mean", Label: "Voltage across the battery, mean", Kind: quantity.Voltage},
		{Name: "terminal-peak", Label: "Voltage across the battery, peak", Kind: quantity.Voltage},
		{Name: "stops-at", Label: "Battery voltage at which the current ends", Kind: quantity.Voltage, Help: "where the peaks are down to half an ampere"},
		{Name: "backwards-peak", Label: "Peak current with the battery on backwards", Kind: quantity.Current},
		{Name: "verdict", Label: "In short"},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mrow><mi>α</mi><mo>=</mo><mi>arcsin</mi><mfrac><mi>E</mi><mi>Û</mi></mfrac><mo>,</mo><mspace width="1em"/>` +
		`<mover><mi>I</mi><mo>¯</mo></mover><mo>=</mo><mfrac><mrow><mn>2</mn><mi>Û</mi><mi>cos</mi><mi>α</mi><mo>−</mo><mi>E</mi><mo>(</mo><mi>π</mi><mo>−</mo><mn>2</mn><mi>α</mi><mo>)</mo></mrow>` +
		`<mrow><mi>π</mi><mi>R</mi></mrow></mfrac></mrow></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "The primary side is at mains. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Warning, Text: "Charging lead-acid makes explosive gas: air the room, switch off before unclipping. A battery that is frozen, hot or smells of rotten eggs: stop. Never put bare lithium cells on such a charger."},
	},
	Example: calc.Example{
		Says: "An old charger with a 15 V winding of 0.4 Ω, a bridge and 0.1 Ω of leads on a half-full 12 V lead-acid battery.",
		Inputs: []calc.Setting{{Name: "ac", Value: "15 V"}, {Name: "battery", Value: "12.6 V"}, {Name: "source-resistance", Value: "0.4 Ω"},
			{Name: "series", Value: "0.1 Ω"}},
		Prints: []calc.Setting{{Name: "mean", Value: "3.80 A"}, {Name: "rms", Value: "5.78 A"}},
	},
	Onward: []calc.Onward{
		{Calculator: "charge-time", Says: "How long does it take with this current?", Takes: []calc.Take{{From: "mean", To: "current"}}},
		{Calculator: "fuse", Says: "Does the fuse beside the battery suit?", Takes: []calc.Take{{From: "rms", To: "amps"}, {From: "battery", To: "volts"}}},
		{Calculator: "rectifier", Says: "And with a reservoir capacitor instead?", Takes: []calc.Take{{From: "ac", To: "ac"}, {From: "source-resistance", To: "source-resistance"}}},
	},
	Plots: []calc.Plot{
		{Name: "taper", Title: "Charging current against the battery's own voltage",
			Says: "The mean current falls as the battery's volts rise, steeply first and then ever more gently until the peak of the wave is reached.", Chart: taper},
		{Name: "waveform", Title: "Voltage and current over one mains period",
			Says: "The rectified source rises above the level of the battery at each peak, and only then a pulse of current flows.", Chart: waveform},
	},
}

// circuit is one charging path onto a battery of emf volts.
type circuit struct {
	peak, emf float64
	half      bool
	path      supply.Path
}

func of(in calc.In) circuit {
	count := 1.0
	if in.Word("circuit") == "bridge" {
		count = 2
	}
	return circuit{peak: math.Sqrt2 * in.Num("ac"), emf: in.Num("battery"), half: in.Word("circuit") == "half-wave",
		path: supply.PathOf(in.Word("diode"), count, in.Num("source-resistance")+in.Num("series")+in.Num("internal-resistance"))}
}

// amps at an angle of the wave, 0 to π.
func (c circuit) amps(angle float64) float64 {
	return c.path.Amps(float64(c.peak*math.Sin(angle)) - c.emf)
}

// steps of the integration over a quarter of the wave.
const steps = 200

// current gives mean and RMS amperes, by Simpson's rule from the angle at which
// current may begin to the crest: the pulse is symmetrical about it.
func (c circuit) current() (mean, rms float64) {
	if c.peak <= c.emf {
		return 0, 0
	}
	from := math.Asin(c.emf / c.peak)
	h := (math.Pi/2 - from) / steps
	sum, squares := 0.0, 0.0
	for n := 0; n <= steps; n++ {
		w := 2.0
		switch {
		case n == 0 || n == steps:
			w = 1
		case n%2 == 1:
			w = 4
		}
		i := c.amps(from + float64(float64(n)*h))
		sum += float64(w * i)
		squares += float64(w * i * i)
	}
	// two halves of the pulse in half a period; every second one for half wave
	share := 2 * h / 3 / math.Pi
	if c.half {
		share /= 2
	}
	return sum * share, math.Sqrt(squares * share)
}

// conduction is the share of time with more than a thousandth of the peak current.
func (c circuit) conduction() float64 {
	top := c.amps(math.Pi / 2)
	if top <= 0 {
		return 0
	}
	begin := c.emf
	if c.path.Slope > 0 {
		begin += c.path.Volts(top / 1000)
	}
	share := 1 - 2*math.Asin(math.Min(begin/c.peak, 1))/math.Pi
	if c.half {
		share /= 2
	}
	return share
}

func run(in calc.In, out *calc.Out) error {
	c := of(in)
	mean, rms := c.current()
	top := c.amps(math.Pi / 2)
	out.Set("mean", mean)
	out.Set("rms", rms)
	out.Set("peak", top)
	out.Set("conduction", c.conduction())
	winding, windings := rms, 1.0
	if in.Word("circuit") == "centre-tap" {
		winding, windings = rms/math.Sqrt2, 2 // each half carries every second pulse
	}
	out.Set("source-rms", winding)
	out.Set("apparent-power", windings*in.Num("ac")*winding)
	out.Set("into-battery", c.emf*mean)
	out.Set("series-heat", in.Num("series")*rms*rms)
	inside := in.Num("internal-resistance")
	out.Set("terminal-mean", c.emf+float64(inside*mean))
	out.Set("terminal-peak", c.emf+float64(inside*top))
	stops := math.Max(0, c.peak-c.path.Volts(.5))
	out.Set("stops-at", stops)
	backwards := c
	backwards.emf = -c.emf
	out.Set("backwards-peak", backwards.amps(math.Pi/2))
	volts := func(v float64) string { return quantity.Of(quantity.Voltage, v).Text() }
	switch {
	case mean <= 1e-3*c.peak/c.path.Ohms || stops <= c.emf:
		out.Say("verdict", "hardly", "It hardly charges: the wave's peak of "+volts(c.peak)+" is not far enough above the battery's "+volts(c.emf)+" and the diodes.")
	case stops > 1.15*c.emf:
		out.Say("verdict", "does-not-stop", "It charges, and does not stop by itself: current would flow up to "+volts(stops)+". Watch the volts, or the clock, and take it off.")
	default:
		out.Say("verdict", "tapers", "It charges, and tapers off on the way to "+volts(stops)+"; compare that with the battery's end of charge.")
	}
	if mean > 0 {
		out.Set("rms-ratio", rms/mean)
	}
	out.Note("Mains 5 % high shifts the current by far more than 5 %; give the AC with its tolerance to see it.")
	return nil
}

func taper(in calc.In) (draw.Chart, error) {
	c := of(in)
	mean, _ := c.current()
	s := draw.Series{}
	const n = 24
	from := math.Min(c.emf, c.peak) * .7
	for k := 0; k <= n; k++ {
		at := c
		at.emf = from + float64((c.peak-from)*float64(k)/n)
		i, _ := at.current()
		s.X, s.Y = append(s.X, at.emf), append(s.Y, i)
	}
	chart := draw.Chart{X: draw.Axis{Label: "battery", Unit: "V"}, Y: draw.Axis{Label: "mean current", Unit: "A"}, Series: []draw.Series{s}}
	if c.emf < c.peak {
		chart.Marks = []draw.Mark{{X: c.emf, Y: mean, Name: "this one"}}
	}
	return chart, nil
}

func waveform(in calc.In) (draw.Chart, error) {
	c := of(in)
	source, amps := draw.Series{Name: "source, rectified"}, draw.Series{Name: "current", Right: true}
	const n = 120
	for k := 0; k <= n; k++ {
		angle := 2 * math.Pi * float64(k) / n
		folded := angle
		v := c.peak * math.Abs(math.Sin(angle))
		if angle > math.Pi {
			folded -= math.Pi
			if c.half {
				folded, v = 0, 0
			}
		}
		source.X, source.Y = append(source.X, angle*180/math.Pi), append(source.Y, v)
		amps.X, amps.Y = append(amps.X, angle*180/math.Pi), append(amps.Y, c.amps(folded))
	}
	top := math.Max(c.amps(math.Pi/2), 1e-3)
	return draw.Chart{X: draw.Axis{Label: "angle", Unit: "°", From: 0, To: 360}, Y: draw.Axis{Label: "voltage", Unit: "V", From: 0, To: math.Max(c.peak, c.emf) * 1.1},
		Right: draw.Axis{Label: "current", Unit: "A", From: 0, To: top * 1.5}, Series: []draw.Series{source, amps},
		Marks: []draw.Mark{{Y: c.emf, Name: "battery", Level: true}}}, nil
}
