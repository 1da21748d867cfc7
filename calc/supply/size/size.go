package size

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/supply"
)

//go:embed doc.go
var doc string

// Calculator is the calculator "transformer-size".
var Calculator = &calc.Calculator{
	Name: "transformer-size", Title: "Transformer for wanted DC", Shelf: "supply",
	Circuit: circuit,
	For:     "Which transformer and which reservoir capacitor give wanted DC volts and amperes, plain or before a regulator.",
	Inputs: []calc.Input{
		{Name: "volts", Label: "DC voltage wanted", Kind: quantity.Voltage, Default: "12 V", Low: "1 V", High: "500 V", Help: "At full load; behind the regulator, if there is one."},
		{Name: "amps", Label: "DC amperes wanted", Kind: quantity.Current, Default: "1 A", Low: "1 mA", High: "50 A"},
		{Name: "output", Label: "Output", Default: "plain", Choices: []calc.Choice{{Name: "plain", Label: "plain"}, {Name: "regulated", Label: "behind a linear regulator"}}},
		{Name: "circuit", Label: "Circuit", Default: "bridge", Choices: []calc.Choice{
			{Name: "bridge", Label: "bridge"}, {Name: "centre-tap", Label: "full wave, centre tap"}, {Name: "half-wave", Label: "half wave"}}},
		{Name: "filter", Label: "Reservoir", Folded: true, Default: "capacitor", Choices: []calc.Choice{{Name: "capacitor", Label: "capacitor"}, {Name: "none", Label: "none"}}},
		{Name: "ripple", Label: "Ripple at full load, peak to peak", Kind: quantity.Percent, Default: "10 %", Low: "1 %", High: "40 %", Help: "Of the volts at the capacitor."},
		{Name: "dropout", Label: "Dropout of the regulator", Folded: true, Kind: quantity.Voltage, Default: "2 V", Low: "0 V", High: "20 V", Help: "Used only with a regulator; 2 to 3 V for common types."},
		{Name: "mains-low", Label: "Mains may be low by", Folded: true, Kind: quantity.Percent, Default: "10 %", Low: "0 %", High: "30 %", Help: "Used only with a regulator."},
		{Name: "mains-high", Label: "Mains may be high by", Folded: true, Kind: quantity.Percent, Default: "10 %", Low: "0 %", High: "30 %"},
		{Name: "regulation", Label: "Regulation of the transformer", Folded: true, Kind: quantity.Percent, Optional: true, Low: "0.5 %", High: "80 %", Help: "From its data sheet; else it follows from the size."},
		{Name: "frequency", Label: "Mains frequency", Folded: true, Kind: quantity.Frequency, Default: "50 Hz", From: calc.Hertz, Low: "10 Hz", High: "1000 Hz"},
		{Name: "diode", Label: "Diodes", Folded: true, Default: "silicon", Choices: []calc.Choice{{Name: "silicon", Label: "silicon"}, {Name: "schottky", Label: "Schottky"}}},
	},
	Outputs: []calc.Output{
		{Name: "ac", Label: "Secondary on the label", Kind: quantity.Voltage, Limit: quantity.Lowest, Main: true, Help: "RMS at its rated load; of one half for a centre tap."},
		{Name: "rms", Label: "Rated current of the secondary", Kind: quantity.Current, Limit: quantity.Lowest, Main: true, Help: "RMS; of each half for a centre tap."},
		{Name: "size", Label: "Size", Kind: quantity.ApparentPower, Limit: quantity.Lowest, Main: true, Help: "Take the next larger."},
		{Name: "capacitor", Label: "Reservoir capacitor", Kind: quantity.Capacitance, Limit: quantity.Lowest, Main: true, Help: "As it is; electrolytics may be 20 % below their mark."},
		{Name: "capacitor-volts", Label: "It must stand", Kind: quantity.Voltage, Limit: quantity.Lowest, Help: "Off load at the highest mains."},
		{Name: "ac-off-load", Label: "Secondary off load", Kind: quantity.Voltage},
		{Name: "dc-off-load", Label: "DC off load", Kind: quantity.Voltage},
		{Name: "mean", Label: "DC at full load, mean", Kind: quantity.Voltage, Help: "At the capacitor, at the nominal mains."},
		{Name: "rms-ratio", Label: "RMS over DC current", Kind: quantity.Ratio},
		{Name: "source-resistance", Label: "Source resistance", Kind: quantity.Resistance},
		{Name: "regulation-used", Label: "Regulation", Kind: quantity.Percent},
		{Name: "heat", Label: "Heat in the regulator", Kind: quantity.Power, Help: "At the nominal mains."},
		{Name: "rule-ac", Label: "Secondary by the makers' rule", Kind: quantity.Voltage, Help: "End to end for a centre tap, as the rule has it."},
		{Name: "rule-rms", Label: "Its current by the makers' rule", Kind: quantity.Current},
		{Name: "rule-size", Label: "Size by the makers' rule", Kind: quantity.ApparentPower},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>S</mi><mo>=</mo><msub><mi>U</mi><mtext>AC</mtext></msub><msub><mi>I</mi><mtext>RMS</mtext></msub><mo>,</mo><mspace width="1em"/>` +
		`<mover><mi>u</mi><mo>¯</mo></mover><mo>(</mo><msub><mi>U</mi><mtext>AC</mtext></msub><mo>,</mo><mi>S</mi><mo>,</mo><mi>C</mi><mo>)</mo><mo>=</mo><msub><mi>U</mi><mtext>DC</mtext></msub></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "The primary side is at mains. A new transformer brings its own fuse and, where the old one had it, its own thermal link and double insulation. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Warning, Text: "The capacitor keeps its charge: discharge it through a rated resistor, measure, wait, measure again."},
	},
	Example: calc.Example{
		Says:   "A supply of 12 V and 1 A, plain, with a bridge and a ripple of a tenth.",
		Inputs: []calc.Setting{{Name: "volts", Value: "12 V"}, {Name: "amps", Value: "1 A"}},
		Prints: []calc.Setting{{Name: "rule-ac", Value: "11.20 V"}, {Name: "rule-rms", Value: "1.800 A"}, {Name: "rule-size", Value: "19.60 VA"}},
	},
	Onward: []calc.Onward{
		{Calculator: "rectifier", Says: "Look at it in detail: ripple, pulses, load curve.", Takes: []calc.Take{{From: "ac-off-load", To: "ac"}, {From: "source-resistance", To: "source-resistance"}, {From: "capacitor", To: "capacitor"}, {From: "amps", To: "load"}, {From: "circuit", To: "circuit"}}},
		{Calculator: "regulator-heat", Says: "How hot does the regulator get?", Takes: []calc.Take{{From: "mean", To: "in"}, {From: "volts", To: "out"}, {From: "amps", To: "current"}}},
		{Calculator: "inrush", Says: "What does switching on cost?", Takes: []calc.Take{{From: "size", To: "power"}}},
	},
}

// rule is the makers' factors: AC volts for DC volts plus the diodes' drop, RMS for DC amperes, and volt-amperes for
// output watts plus what the diodes take. ATC-Frost Magnetics; the bridge by Petra Toroid.
type rule struct{ ac, drop, rms, va float64 }

var rules = map[string]rule{
	"half-wave": {0.88, 1, 2.6, 2.3}, "centre-tap": {1.7, 1, 1.2, 1.7}, "bridge": {0.8, 2, 1.8, 1.4},
	"half-wave none": {2.2, 1, 1.6, 3.5}, "centre-tap none": {2.2, 1, 0.8, 1.4}, "bridge none": {1.1, 2, 1.1, 1.2},
}

// wish is what is asked for.
type wish struct {
	circuit, diode      string
	volts, amps, hertz  float64
	ripple              float64 // of the volts, peak to peak
	regulated           bool
	dropout, low, given float64 // volts, share of the mains, regulation or 0
}

// found is a transformer with its capacitor.
type found struct {
	ac, off, ohms, rms, va, farads, mean, regulation float64
}

func (w wish) halves() (windings, diodes float64) {
	switch w.circuit {
	case "centre-tap":
		return 2, 1
	case "half-wave":
		return 1, 1
	}
	return 1, 2
}

// regulate is the regulation for a size.
func (w wish) regulate(va float64) float64 {
	if w.given > 0 {
		return w.given
	}
	_, likely, _ := supply.Regulation(va)
	return likely
}

// near is the share to which volts, ripple and current are found.
const near = 1e-6

// find seeks volts, size and capacitor together: each round solves the circuit as it is and mends the three by
// what is missing, which converges as each depends mostly on itself.
func (w wish) find() (f found, ok bool) {
	windings, diodes := w.halves()
	want, share := w.volts, 1.0
	if w.regulated {
		want, share = w.volts+w.dropout, 1-w.low
	}
	f.off = (want*1.1 + diodes) / share
	f.rms = 1.8 * w.amps / math.Sqrt(windings)
	charges := 2 * w.hertz
	if w.circuit == "half-wave" {
		charges = w.hertz
	}
	f.farads = .8 * w.amps / (charges * w.ripple * want)
	for range 200 {
		f.ac = f.off // its loaded volts follow from its size
		for range 60 {
			f.va = windings * f.ac * f.rms
			f.regulation = w.regulate(f.va)
			next := f.off / (1 + f.regulation)
			if done := math.Abs(next-f.ac) <= 1e-12*next; done {
				break
			}
			f.ac = next
		}
		f.ohms = f.regulation * f.ac / f.rms
		path := supply.PathOf(w.diode, diodes, f.ohms)
		c := supply.Reservoir{Peak: math.Sqrt2 * f.off * share, Hertz: w.hertz, Source: path.Ohms, Farads: f.farads, Amps: w.amps, Half: w.circuit == "half-wave", Slope: path.Slope, Leak: path.Leak}
		if c.Amps > .9*c.Most() {
			f.off *= 1.2
			continue
		}
		wave := c.Solve()
		lowest, highest, _ := wave.Extremes()
		if lowest <= 0 {
			f.farads *= 2
			continue
		}
		got := wave.Mean(func(v, _ float64) float64 { return v })
		at := got
		if w.regulated {
			got, at = lowest, lowest
			full := c
			full.Peak = math.Sqrt2 * f.off
			wave = full.Solve()
			at = wave.Mean(func(v, _ float64) float64 { return v })
		}
		f.mean = at
		rms := math.Sqrt(wave.Mean(func(_, i float64) float64 { return i * i }) / windings)
		missing, more, turn := want-got, (highest-lowest)/(w.ripple*want), rms/f.rms
		f.off += missing / (math.Sqrt2 * share) // the capacitor follows the peak
		f.farads *= more
		f.rms = rms
		if math.Abs(missing) < near*want && math.Abs(more-1) < near && math.Abs(turn-1) < near {
			return f, true
		}
	}
	return f, false
}

// plainSine is the same without a capacitor: the mean of the rectified sine less the diodes.
func (w wish) plainSine() (f found) {
	windings, diodes := w.halves()
	want := w.volts
	mean, form := 2*math.Sqrt2/math.Pi, math.Pi/(2*math.Sqrt2) // of a full wave, over its RMS, and RMS over mean
	if w.circuit == "half-wave" {
		mean, form = math.Sqrt2/math.Pi, math.Pi/2
	}
	path := supply.PathOf(w.diode, diodes, 0)
	drop := path.Volts(w.amps)
	if w.circuit == "half-wave" {
		drop /= 2 // it drops in every second half only
	}
	f.rms = form * w.amps / math.Sqrt(windings)
	f.ac = (want + drop) / mean
	f.va = windings * f.ac * f.rms
	f.regulation = w.regulate(f.va)
	f.off = f.ac * (1 + f.regulation)
	f.ohms = f.regulation * f.ac / f.rms
	f.mean = want
	return f
}

func run(in calc.In, out *calc.Out) error {
	w := wish{circuit: in.Word("circuit"), diode: in.Word("diode"), volts: in.Num("volts"), amps: in.Num("amps"), hertz: in.Num("frequency"), ripple: in.Num("ripple"),
		regulated: in.Word("output") == "regulated", dropout: in.Num("dropout"), low: in.Num("mains-low"), given: in.Num("regulation")}
	windings, _ := w.halves()
	name := w.circuit
	var f found
	if in.Word("filter") == "none" {
		if w.regulated {
			return calc.Bad("filter", "Reservoir: a regulator needs a capacitor before it, as the rectified sine falls to nothing a hundred times a second; choose capacitor")
		}
		name += " none"
		f = w.plainSine()
	} else {
		var ok bool
		if f, ok = w.find(); !ok {
			return calc.Bad("amps", "DC amperes wanted: no transformer of this kind gives so much at these volts; look for a slip of a prefix")
		}
		out.Set("capacitor", f.farads)
		out.Set("capacitor-volts", math.Sqrt2*f.off*(1+in.Num("mains-high")))
		out.Set("dc-off-load", math.Sqrt2*f.off)
	}
	out.Set("ac", f.ac)
	out.Set("rms", f.rms)
	out.Set("size", f.va)
	out.Set("ac-off-load", f.off)
	out.Set("mean", f.mean)
	out.Set("rms-ratio", f.rms/w.amps)
	out.Set("source-resistance", f.ohms)
	out.Set("regulation-used", f.regulation)
	volts := w.volts
	if w.regulated {
		out.Set("heat", (f.mean-w.volts)*w.amps)
		volts = f.mean
		out.Note("The makers' rule is taken for the " + quantity.Of(quantity.Voltage, f.mean).Text() + " before the regulator.")
	}
	r := rules[name]
	out.Set("rule-ac", r.ac*(volts+r.drop))
	out.Set("rule-rms", r.rms*w.amps)
	out.Set("rule-size", r.va*(float64(volts*w.amps)+float64(r.drop*w.amps)))
	if windings == 2 {
		out.Note("A centre tap: the label's volts are those of one half here, twice that from end to end.")
	}
	return nil
}
