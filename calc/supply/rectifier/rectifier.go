package rectifier

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

// Calculator is the calculator "rectifier".
var Calculator = &calc.Calculator{
	Name: "rectifier", Title: "Rectifier with a reservoir capacitor", Shelf: "supply",
	Circuit: circuit,
	For:     "The DC volts and the ripple to expect behind a transformer, and the currents in its winding and diodes.",
	Inputs: []calc.Input{
		{Name: "circuit", Label: "Circuit", Default: "bridge", Choices: []calc.Choice{
			{Name: "bridge", Label: "bridge"}, {Name: "centre-tap", Label: "full wave, centre tap"}, {Name: "half-wave", Label: "half wave"}}},
		{Name: "ac", Label: "Secondary, RMS", Kind: quantity.Voltage, Default: "17 V", Low: "1 V", High: "1000 V", Help: "Off load; of one half for a centre tap."},
		{Name: "frequency", Label: "Mains frequency", Folded: true, Kind: quantity.Frequency, Default: "50 Hz", From: calc.Hertz, Low: "10 Hz", High: "1000 Hz"},
		{Name: "source-resistance", Label: "Source resistance", Kind: quantity.Resistance, Default: "0.5 Ω", Low: "1 mΩ", High: "10 kΩ", Help: "Winding and primary seen from it; per half for a centre tap."},
		{Name: "capacitor", Label: "Reservoir capacitor", Kind: quantity.Capacitance, Default: "2200 µF", Low: "1 nF", High: "10 F"},
		{Name: "load", Label: "Load", Kind: quantity.Resistance, Or: []quantity.Kind{quantity.Current}, Default: "24 Ω", Low: "10 mΩ", High: "100 MΩ", Help: "In ohms, or as a constant current in amperes."},
		{Name: "diode", Label: "Diodes", Folded: true, Default: "silicon", Choices: []calc.Choice{
			{Name: "silicon", Label: "silicon"}, {Name: "schottky", Label: "Schottky"}, {Name: "ideal", Label: "ideal (for comparison)"}}},
		{Name: "wanted-ripple", Label: "Wanted ripple, peak to peak", Kind: quantity.Voltage, Optional: true, Low: "1 mV", High: "1000 V", Help: "To learn which capacitor gives it; leave empty otherwise."},
	},
	Outputs: []calc.Output{
		{Name: "mean", Label: "DC voltage, mean", Kind: quantity.Voltage, Main: true},
		{Name: "ripple", Label: "Ripple, peak to peak", Kind: quantity.Voltage, Main: true},
		{Name: "open-circuit-peak", Label: "Without load", Kind: quantity.Voltage, Main: true, Help: "what capacitor and regulator must stand"},
		{Name: "capacitor-for-ripple", Label: "Capacitor for the wanted ripple", Kind: quantity.Capacitance, Help: "a smaller one ripples more; electrolytics may be 20 % below their mark"},
		{Name: "lowest", Label: "Lowest", Kind: quantity.Voltage},
		{Name: "highest", Label: "Highest", Kind: quantity.Voltage},
		{Name: "load-current", Label: "Load current, mean", Kind: quantity.Current},
		{Name: "diode-peak", Label: "Peak diode current", Kind: quantity.Current},
		{Name: "first-peak", Label: "Peak at switching on", Kind: quantity.Current, Help: "capacitor empty, switched on at the crest, the worst instant; the diodes' surge rating must stand it"},
		{Name: "source-rms", Label: "RMS current of the winding", Kind: quantity.Current, Help: "of each half for a centre tap; what the fuse sees"},
		{Name: "rms-ratio", Label: "RMS over DC current", Kind: quantity.Ratio},
		{Name: "apparent-power", Label: "Apparent power of the winding", Kind: quantity.ApparentPower},
		{Name: "reverse", Label: "Peak reverse voltage per diode", Kind: quantity.Voltage},
		{Name: "conduction", Label: "Current flows for", Kind: quantity.Percent, Help: "of the time"},
		{Name: "estimate-mean", Label: "Textbook mean", Kind: quantity.Voltage},
		{Name: "estimate-mean-off", Label: "Textbook mean is off by", Kind: quantity.Percent},
		{Name: "estimate-ripple", Label: "Textbook ripple", Kind: quantity.Voltage},
		{Name: "estimate-ripple-off", Label: "Textbook ripple is off by", Kind: quantity.Percent},
		{Name: "estimate-capacitor", Label: "Textbook capacitor for the wanted ripple", Kind: quantity.Capacitance},
		{Name: "estimate-source-rms", Label: "RMS current by the makers' factor", Kind: quantity.Current},
		{Name: "estimate-source-rms-off", Label: "Makers' factor is off by", Kind: quantity.Percent},
	},
	Compute: compute,
	Doc:     doc,
	MathML: `<math display="block"><mrow><mi>C</mi><mfrac><mrow><mi>d</mi><mi>u</mi></mrow><mrow><mi>d</mi><mi>t</mi></mrow></mfrac><mo>=</mo><mi>i</mi><mo>-</mo><msub><mi>i</mi><mtext>load</mtext></msub><mo>,</mo><mspace width="1em"/>` +
		`<mo>|</mo><mi>e</mi><mo>|</mo><mo>=</mo><mi>u</mi><mo>+</mo><mi>R</mi><mi>i</mi><mo>+</mo><mi>m</mi><mi>n</mi><msub><mi>U</mi><mtext>T</mtext></msub><mi>ln</mi><mrow><mo>(</mo><mn>1</mn><mo>+</mo><mfrac><mi>i</mi><msub><mi>I</mi><mtext>s</mtext></msub></mfrac><mo>)</mo></mrow></mrow></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "The primary side is at mains, and a rectifier without a transformer is at mains throughout. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Warning, Text: "The capacitor keeps its charge: discharge it through a rated resistor, measure, wait, measure again."},
	},
	Example: calc.Example{
		Says:   "A 12 V winding of 0.5 Ω feeds a bridge, 2200 µF and a load of 24 Ω.",
		Inputs: []calc.Setting{{Name: "ac", Value: "12 V"}, {Name: "source-resistance", Value: "0.5 Ω"}, {Name: "capacitor", Value: "2200 µF"}, {Name: "load", Value: "24 Ω"}},
		Prints: []calc.Setting{{Name: "mean", Value: "13.23 V"}, {Name: "ripple", Value: "1.762 V"}, {Name: "source-rms", Value: "1.093 A"}},
	},
	Onward: []calc.Onward{
		{Calculator: "inrush", Says: "What does switching on cost, over all the half waves until the capacitor is full?",
			Takes: []calc.Take{{From: "ac", To: "mains"}, {From: "frequency", To: "frequency"}, {From: "source-resistance", To: "loop"}, {From: "capacitor", To: "capacitor"}}},
		{Calculator: "fuse", Says: "Does the fuse at the winding suit this current?", Takes: []calc.Take{{From: "source-rms", To: "amps"}, {From: "ac", To: "volts"}}},
		{Calculator: "discharge", Says: "How long does the capacitor stay charged?", Takes: []calc.Take{{From: "capacitor", To: "capacitor"}, {From: "open-circuit-peak", To: "volts"}}},
	},
	Plots: []calc.Plot{{Name: "waveform", Title: "Voltage and diode current over one mains period",
		Says:  "The rectified source rises above the capacitor for a short time at each peak and tops it up by a pulse of diode current; in between the load draws it down.",
		Chart: chart},
		{Name: "load-curve", Title: "DC voltage against load current",
			Says:  "Without load the volts stand at the peak of the AC; they fall steeply at first, then more evenly, and the lowest volts fall faster than the mean.",
			Chart: loadCurve}},
}

func circuitOf(in calc.In) *supply.Reservoir {
	count := 1.0
	if in.Word("circuit") == "bridge" {
		count = 2
	}
	path := supply.PathOf(in.Word("diode"), count, in.Num("source-resistance"))
	c := &supply.Reservoir{Peak: math.Sqrt2 * in.Num("ac"), Hertz: in.Num("frequency"), Source: path.Ohms,
		Farads: in.Num("capacitor"), Half: in.Word("circuit") == "half-wave", Slope: path.Slope, Leak: path.Leak}
	if l := in.Value("load"); l.Kind == quantity.Current {
		c.Amps = l.Num
	} else {
		c.Load = l.Num
	}
	return c
}

// waveOf is the steady state for these inputs, solved once for results and plot.
func waveOf(in calc.In, c *supply.Reservoir) *supply.Wave {
	return in.Once(func() any { w := c.Solve(); return &w }).(*supply.Wave)
}

func refuse(c *supply.Reservoir) error {
	if c.Load > 0 {
		return nil
	}
	if c.Amps <= 0 {
		return calc.Bad("load", "Load: a constant current should be above zero; write ohms for a light load")
	}
	free := *c
	free.Amps = 0
	free.Load = math.Inf(1)
	if m := free.Most(); c.Amps > 0.95*m {
		return calc.Bad("load", "Load: this supply cannot keep up "+quantity.Of(quantity.Current, c.Amps).Text()+"; even into a short it gives only about "+quantity.Of(quantity.Current, m).Text())
	}
	return nil
}

func compute(in calc.In, out *calc.Out) error {
	c := circuitOf(in)
	if err := refuse(c); err != nil {
		return err
	}
	w := waveOf(in, c)
	low, high, peak := w.Extremes()
	if low < 0 {
		return calc.Bad("capacitor", "Reservoir capacitor: with this load it is empty before the next peak; take at least "+
			quantity.Of(quantity.Capacitance, CapacitorFor(c.Amps, c.Charges(), c.Peak/2)).Text()+", or enter the load in ohms")
	}
	mean := w.Mean(func(v, _ float64) float64 { return v })
	amps := c.Amps
	if c.Load > 0 {
		amps = mean / c.Load
	}
	rms := math.Sqrt(w.Mean(func(_, i float64) float64 { return i * i }))
	windings, factor, reverse, drops := 1.0, BridgeFactor, c.Peak, 2.0
	switch in.Word("circuit") {
	case "centre-tap":
		rms /= math.Sqrt2 // each half carries every second pulse
		windings, factor, reverse, drops = 2, 1/CentreTapShare, 2*c.Peak, 1
	case "half-wave":
		factor, reverse, drops = 1/HalfWaveShare, 2*c.Peak, 1
	}
	out.Set("mean", mean)
	out.Set("ripple", high-low)
	out.Set("lowest", low)
	out.Set("highest", high)
	out.Set("open-circuit-peak", c.Peak)
	out.Set("load-current", amps)
	out.Set("diode-peak", peak)
	out.Set("first-peak", c.FirstPeak())
	out.Set("source-rms", rms)
	if amps > 0 {
		out.Set("rms-ratio", rms/amps)
	}
	out.Set("apparent-power", windings*in.Num("ac")*rms)
	out.Set("reverse", reverse)
	out.Set("conduction", w.Mean(func(_, i float64) float64 {
		if i > 1e-3*peak {
			return 1
		}
		return 0
	}))
	drop := 0.7
	switch in.Word("diode") {
	case "schottky":
		drop = 0.35
	case "ideal":
		drop = 0
	}
	ripple := RippleEstimate(amps, c.Charges(), c.Farads)
	estimate(out, "estimate-ripple", ripple, high-low)
	estimate(out, "estimate-mean", c.Peak-float64(drops*drop)-ripple/2, mean)
	estimate(out, "estimate-source-rms", factor*amps, rms)
	if in.Has("wanted-ripple") {
		want := in.Num("wanted-ripple")
		farads, err := faradsFor(c, want, amps, high-low)
		if err != nil {
			return err
		}
		out.Set("capacitor-for-ripple", farads)
		out.Set("estimate-capacitor", CapacitorFor(amps, c.Charges(), want))
	}
	if high-low > 0.5*mean {
		out.Note("The ripple is more than half of the mean: the capacitor is too small for this load, or dried out.")
	}
	return nil
}

// faradsFor is the capacitor that gives a ripple in volts, where the present one
// gives has. Ripple falls with capacitance, nearly in inverse proportion, so it is
// sought along logarithms, between what is known to be too small and too large.
func faradsFor(c *supply.Reservoir, want, amps, has float64) (float64, error) {
	smallest, largest := math.Log(1e-9), math.Log(10) // as the input capacitor
	low, high := smallest, largest
	x, y := math.Log(c.Farads), math.Log(has/want)
	x0, y0 := math.NaN(), math.NaN()
	for range 40 {
		if high-low < 1e-6 {
			break
		}
		if y > 0 {
			low = x
		} else {
			high = x
		}
		next := x + y // ripple in inverse proportion to capacitance
		if !math.IsNaN(x0) && y != y0 {
			next = x - float64(y*(x-x0))/(y-y0)
		}
		switch {
		case next > low && next < high:
		case next <= low && low == smallest || next >= high && high == largest:
			// past the end: the end itself tells at once whether there is one
			next = math.Max(low, math.Min(next, high))
		default:
			next = low + (high-low)/2
		}
		if math.Abs(y) < 1e-6 || math.Abs(y) < 5e-3 && !math.IsNaN(x0) {
			return math.Exp(next), nil // the secant leaves about the square of it
		}
		x0, y0, x = x, y, next
		try := *c
		try.Farads = math.Exp(x)
		w := try.Solve()
		lowest, highest, _ := w.Extremes()
		if lowest < 0 {
			highest -= lowest // emptied by a constant current: far too small
		}
		y = math.Log((highest - math.Max(lowest, 0)) / want)
		if x == largest && y > 0 || x == smallest && y < 0 {
			break
		}
	}
	if math.Abs(y) > 1e-3 {
		if y < 0 {
			return 0, calc.Bad("wanted-ripple", "Wanted ripple: "+quantity.Of(quantity.Voltage, want).Text()+" is more than there is without a capacitor; take less")
		}
		return 0, calc.Bad("wanted-ripple", "Wanted ripple: "+quantity.Of(quantity.Voltage, want).Text()+" needs more than 10 F with this load; take more ripple, or a regulator behind it")
	}
	return math.Exp(x), nil
}

// estimate sets a textbook figure and how far it is off the solved one.
func estimate(out *calc.Out, name string, guess, solved float64) {
	if guess <= 0 || solved <= 0 {
		return // the textbook has no answer here
	}
	out.Set(name, guess)
	out.Set(name+"-off", guess/solved-1)
}

func chart(in calc.In) (draw.Chart, error) {
	c := circuitOf(in)
	if err := refuse(c); err != nil {
		return draw.Chart{}, err
	}
	w := waveOf(in, c)
	periods := 2
	if c.Half {
		periods = 1
	}
	low, high, top := w.Extremes()
	volts, source, amps := draw.Series{Name: "capacitor"}, draw.Series{Name: "source, rectified"}, draw.Series{Name: "diode current", Right: true}
	for p := range periods {
		was := -1
		for n := range w.T {
			// the wave has more points than a drawing shows
			if was >= 0 && n > 0 && n < len(w.T)-1 && w.T[n]-w.T[was] < c.Period()/50 &&
				math.Abs(w.V[n]-w.V[was]) < (high-low)/50 && math.Abs(w.I[n]-w.I[was]) < top/20 {
				continue
			}
			was = n
			t := (w.T[n] + float64(float64(p)*c.Period())) * 1000
			volts.X, volts.Y = append(volts.X, t), append(volts.Y, w.V[n])
			source.X, source.Y = append(source.X, t), append(source.Y, math.Max(0, c.Rectified(w.T[n])))
			amps.X, amps.Y = append(amps.X, t), append(amps.Y, w.I[n])
		}
	}
	return draw.Chart{X: draw.Axis{Label: "time", Unit: "ms"}, Y: draw.Axis{Label: "voltage", Unit: "V", From: 0, To: c.Peak * 1.1},
		Right: draw.Axis{Label: "current", Unit: "A", From: 0, To: top * 1.5}, Series: []draw.Series{volts, source, amps}}, nil
}

// loadCurve sweeps the load from none to two and a half times the present one.
func loadCurve(in calc.In) (draw.Chart, error) {
	c := circuitOf(in)
	if err := refuse(c); err != nil {
		return draw.Chart{}, err
	}
	volts := func(v, _ float64) float64 { return v }
	here := waveOf(in, c).Mean(volts)
	amps, ohms := c.Amps, c.Load
	if ohms > 0 {
		amps = here / ohms
	} else {
		ohms = here / amps
	}
	mean := draw.Series{Name: "mean", X: []float64{0}, Y: []float64{c.Peak}}
	lowest := draw.Series{Name: "lowest", X: []float64{0}, Y: []float64{c.Peak}, Dashed: true}
	var loads []float64
	for _, share := range []float64{.01, .03, .06, .1, .2, .35, .5, .75, 1, 1.3, 1.6, 2, 2.5} {
		loads = append(loads, ohms/share)
	}
	for n, w := range c.Sketches(loads) {
		v := w.Mean(volts)
		low, _, _ := w.Extremes()
		mean.X, mean.Y = append(mean.X, v/loads[n]), append(mean.Y, v)
		lowest.X, lowest.Y = append(lowest.X, v/loads[n]), append(lowest.Y, low)
	}
	return draw.Chart{X: draw.Axis{Label: "load current", Unit: "A"}, Y: draw.Axis{Label: "voltage", Unit: "V", From: 0, To: c.Peak * 1.1},
		Series: []draw.Series{mean, lowest}, Marks: []draw.Mark{{X: amps, Y: here, Name: "this load"}}}, nil
}
