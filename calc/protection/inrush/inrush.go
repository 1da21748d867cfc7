package inrush

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
	"faultleaf/calc/root"
)

//go:embed doc.go
var doc string

// Calculator gives peak and melting integral at switching on.
var Calculator = &calc.Calculator{
	Name:    "inrush",
	Title:   "Current at switching on",
	For:     "Gives the peak and the melting integral of the current at switching on, and the ohms of a limiter for it.",
	Shelf:   "protection",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "load", Label: "What is switched on", Default: "capacitor", Choices: []calc.Choice{{Name: "capacitor", Label: "Bridge and reservoir capacitor"},
			{Name: "transformer", Label: "Transformer"}, {Name: "filament", Label: "Filament lamp"}}},
		{Name: "mains", Label: "AC voltage, RMS", Kind: quantity.Voltage, Default: "230 V", From: calc.Mains, Low: "1 V", High: "1000 V", Help: "Ten per cent above the rated volts is the worst."},
		{Name: "frequency", Label: "Mains frequency", Kind: quantity.Frequency, Default: "50 Hz", From: calc.Hertz, Low: "10 Hz", High: "1000 Hz"},
		{Name: "loop", Label: "Resistance of source and wiring", Kind: quantity.Resistance, Default: "1 Ω", Low: "1 mΩ", High: "1 kΩ",
			Help: "With choke, fuse and the capacitor's ESR; 0.5 to 1 Ω for an ordinary outlet with its cord (from memory)."},
		{Name: "limiter", Label: "Limiter, cold", Kind: quantity.Resistance, Optional: true, Low: "0.1 Ω", High: "1 kΩ", Help: "NTC or resistor; none if left empty."},
		{Name: "limiter-hot", Folded: true, Label: "Limiter, hot", Kind: quantity.Resistance, Optional: true, Low: "1 mΩ", High: "1 kΩ", Help: "At its running current, from its data sheet."},
		{Name: "wanted", Folded: true, Label: "Peak that is allowed", Kind: quantity.Current, Optional: true, Low: "10 mA", High: "10 kA", Help: "Of the rectifier's surge rating, the switch or relay."},
		{Name: "power", Label: "Power on the plate", Kind: quantity.Power, Or: []quantity.Kind{quantity.ApparentPower}, Default: "100 W", Low: "0.1 W", High: "10 kW"},
		{Name: "capacitor", Label: "Reservoir capacitor", Kind: quantity.Capacitance, Default: "220 µF", Low: "1 nF", High: "100 mF"},
		{Name: "winding", Label: "Resistance of the primary", Kind: quantity.Resistance, Default: "10 Ω", Low: "10 mΩ", High: "10 kΩ", Help: "Transformer only."},
		{Name: "flux", Folded: true, Label: "Usual crest of the flux, of a full core", Kind: quantity.Percent, Default: "75 %", Low: "20 %", High: "100 %", Help: "Transformer only; from memory."},
		{Name: "remanence", Folded: true, Label: "Remanence, of a full core", Kind: quantity.Percent, Default: "60 %", Low: "0 %", High: "95 %",
			Help: "Transformer only; about 60 % for stacked sheets, 80 % for a toroid (from memory)."},
		{Name: "cold-ratio", Folded: true, Label: "Filament, hot over cold", Kind: quantity.Ratio, Default: "14", Low: "2", High: "20"},
		{Name: "warming", Folded: true, Label: "Filament warms with time constant", Kind: quantity.Duration, Default: "10 ms", Low: "0.1 ms", High: "2 s",
			Help: "About 10 ms for 100 W on mains, 2 ms for a small lamp."},
	},
	Outputs: []calc.Output{
		{Name: "peak", Label: "Highest peak", Kind: quantity.Current, Main: true},
		{Name: "i2t", Label: "Melting integral", Kind: quantity.Melting, Main: true, Help: "What the fuse must stand."},
		{Name: "steady", Label: "Current in use, RMS", Kind: quantity.Current, Help: "Power over volts; more with a poor power factor."},
		{Name: "times", Label: "Peak over that in use", Kind: quantity.Ratio, Help: "Crest over crest."},
		{Name: "time-constant", Label: "Time constant R·C", Kind: quantity.Duration},
		{Name: "energy", Label: "Energy the limiter must take", Kind: quantity.Energy},
		{Name: "needed", Label: "Limiter needed, cold", Kind: quantity.Resistance, Help: "At its highest air temperature and least tolerance."},
		{Name: "hot-peak", Label: "Peak if switched on again hot", Kind: quantity.Current},
		{Name: "fills", Label: "Core full from", Kind: quantity.Duration, Help: "After the volts passed zero."},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><msub><mi>I</mi><mtext>peak</mtext></msub><mo>=</mo><mfrac><mrow><msqrt><mn>2</mn></msqrt><mi>V</mi></mrow><mi>R</mi></mfrac><mo>,</mo><mspace width="1em"/>` +
		`<msup><mi>I</mi><mn>2</mn></msup><mi>t</mi><mo>≤</mo><mfrac><mrow><mi>C</mi><msup><mi>V</mi><mn>2</mn></msup></mrow><mi>R</mi></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "The capacitor keeps its charge with the plug out: discharge it through a rated resistor, measure, wait, measure again. Never bridge a limiter or raise a fuse because of the inrush."},
		{Signal: calc.Warning, Text: "A limiter runs at 100 to 200 °C in use. A series lamp limits and does not isolate. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A switch-mode supply of 100 W with 220 µF behind its bridge and an NTC of 10 Ω, 0.5 Ω hot, at an outlet with 1 Ω.",
		Inputs: []calc.Setting{{Name: "limiter", Value: "10 Ω"}, {Name: "limiter-hot", Value: "0.5 Ω"}},
		Prints: []calc.Setting{{Name: "peak", Value: "29.6 A"}, {Name: "hot-peak", Value: "217 A"}, {Name: "energy", Value: "11.64 J"}},
	},
	Plots: []calc.Plot{{Name: "current", Title: "Current after switching on at the worst instant",
		Says: "The current starts at its peak or within the first half wave; what follows are ever smaller pulses or the fall to the current in use.", Chart: chart}},
	Onward: []calc.Onward{
		{Calculator: "fuse", Says: "Does the fuse stand this inrush?", Takes: []calc.Take{{From: "i2t", To: "inrush"}, {From: "mains", To: "volts"}}},
		{Calculator: "discharge", Says: "How long does the capacitor stay dangerous?", Takes: []calc.Take{{From: "capacitor", To: "capacitor"}}},
	},
}

// lowVolts is below which two diodes take more than a twentieth off the crest, in V RMS.
const lowVolts = 30

// charging is an empty capacitor behind a bridge: crest volts, series ohms, farads,
// radians per second.
type charging struct{ crest, ohms, farads, omega float64 }

// pulse is one time of conduction, in radians of its half wave. With k = ωRC the volts
// over R are f·cos(x−δ), forced by the mains, less b·e^(−(x−from)/k), which dies away.
type pulse struct{ from, to, f, delta, b, k, ohms, omega float64 }

// pulse is the conduction that begins at an angle with v on the capacitor; its end is
// still open.
func (c charging) pulse(from, v float64) pulse {
	k := c.omega * c.ohms * c.farads
	a, delta := c.crest/math.Sqrt(1+k*k), math.Atan(k)
	return pulse{from: from, f: a * k, delta: delta, b: v - float64(a*math.Sin(from-delta)), k: k, ohms: c.ohms, omega: c.omega}
}

// current in amperes at an angle inside the pulse.
func (p pulse) current(x float64) float64 {
	return (float64(p.f*math.Cos(x-p.delta)) - float64(p.b*math.Exp(-(x-p.from)/p.k))) / p.ohms
}

// end is the angle at which the current stops.
func (p pulse) end() float64 {
	low := math.Max(p.from, math.Pi/2)
	return root.Between(low, math.Pi, func(x float64) float64 {
		return float64(p.f*math.Cos(x-p.delta)) - float64(p.b*math.Exp(-(x-p.from)/p.k))
	})
}

// integral is ∫i²dt of the pulse in A²s.
func (p pulse) integral() float64 {
	y0, y1, fall := p.from-p.delta, p.to-p.delta, math.Exp(-(p.to-p.from)/p.k)
	sin0, cos0 := math.Sincos(y0)
	sin1, cos1 := math.Sincos(y1)
	square := p.f * p.f / 2 * ((y1 - y0) + float64(sin1*cos1) - float64(sin0*cos0))
	mixed := (float64(fall*(sin1-cos1/p.k)) - (sin0 - cos0/p.k)) / (1 + 1/(p.k*p.k))
	rest := p.b * p.b * p.k / 2 * (1 - fall*fall)
	return math.Max(0, square-float64(2*p.f*p.b*mixed)+rest) / (p.ohms * p.ohms * p.omega)
}

// pulses are those after switching on at an angle of the first half wave, until they
// count for less than a millionth or there were most of them.
func (c charging) pulses(start float64, most int) (ps []pulse, i2t float64) {
	from, v := start, 0.0
	for half := range most {
		p := c.pulse(from, v)
		p.to = p.end()
		v = math.Max(v, c.crest*math.Sin(p.to))
		part := p.integral()
		ps, i2t = append(ps, p), i2t+part
		if half > 0 && part < 1e-6*i2t {
			break
		}
		from = math.Asin(math.Min(1, v/c.crest))
	}
	return ps, i2t
}

// worst is the largest melting integral in A²s over the instants of switching, and all
// of its pulses.
func (c charging) worst() float64 {
	const n = 12
	var at [n + 1]float64
	best := 0
	for j := range n + 1 {
		_, at[j] = c.pulses(math.Pi*float64(j)/n*0.999, 40)
		if at[j] > at[best] {
			best = j
		}
	}
	x := float64(best)
	if best > 0 && best < n {
		if bend := at[best-1] - 2*at[best] + at[best+1]; bend < 0 {
			x += (at[best-1] - at[best+1]) / (2 * bend)
		}
	}
	_, i2t := c.pulses(math.Pi*x/n*0.999, 500)
	return math.Max(i2t, at[best])
}

// fullFrom is the angle from zero volts at which the core is full; false if it never
// is: remanence r and crest b as shares of a full core.
func fullFrom(b, r float64) (float64, bool) {
	cos := 1 - (1-r)/b
	if cos < -1 {
		return math.Pi, false
	}
	return math.Acos(cos), true
}

// coreIntegral is ∫i²dt in A²s of √2·V·sin x/R from the angle until the volts pass zero.
func coreIntegral(crest, ohms, omega, from float64) float64 {
	return crest * crest / (ohms * ohms) / (2 * omega) * ((math.Pi - from) + float64(math.Sin(from)*math.Cos(from)))
}

func run(in calc.In, out *calc.Out) error {
	crest, omega := math.Sqrt2*in.Num("mains"), 2*math.Pi*in.Num("frequency")
	loop, limiter := in.Num("loop"), in.Num("limiter")
	if in.Num("power") <= 0 {
		return calc.Bad("power", "Power on the plate: it should be more than zero")
	}
	if in.Has("limiter-hot") && in.Has("limiter") && in.Num("limiter-hot") > limiter {
		return calc.Bad("limiter-hot", "Limiter, hot: an NTC has fewer ohms hot than cold; exchange the two")
	}
	steady := in.Num("power") / in.Num("mains")
	out.Set("steady", steady)
	drive, own := crest, 0.0 // volts at the peak, and ohms besides loop and limiter
	var i2t float64
	switch in.Word("load") {
	case "capacitor":
		c := charging{crest, loop + limiter, in.Num("capacitor"), omega}
		i2t = in.Once(func() any { return c.worst() }).(float64)
		out.Set("time-constant", c.ohms*c.farads)
		if in.Num("mains") < lowVolts {
			out.Note("The drop of the diodes is left out, so that the peak is an upper bound; at so few volts it counts: the page of rectifier takes it off.")
		}
		out.Set("energy", c.farads*crest*crest/2)
	case "transformer":
		own = in.Num("winding")
		from, full := fullFrom(in.Num("flux"), in.Num("remanence"))
		if !full {
			out.Note("This core is never full, so there is no inrush worth the name.")
			return nil
		}
		drive = crest * math.Sin(math.Max(from, math.Pi/2))
		i2t = coreIntegral(crest, loop+limiter+own, omega, from)
		out.Set("fills", from/omega)
		out.Note("The melting integral is that of the first half wave; smaller pulses follow each period. The winding's inductance in air makes both somewhat less.")
	case "filament":
		own = in.Num("mains") / steady / in.Num("cold-ratio")
		peak := crest / (loop + limiter + own)
		i2t = peak * peak * in.Num("warming") / 2
	}
	peak := drive / (loop + limiter + own)
	out.Set("peak", peak)
	out.Set("i2t", i2t)
	out.Set("times", peak/(math.Sqrt2*steady))
	if in.Word("load") != "capacitor" && in.Has("limiter") {
		out.Set("energy", i2t*limiter)
	}
	if in.Has("wanted") {
		out.Set("needed", math.Max(0, drive/in.Num("wanted")-loop-own))
	}
	if in.Has("limiter-hot") {
		out.Set("hot-peak", drive/(loop+in.Num("limiter-hot")+own))
		out.Note("A hot limiter needs a minute or more to cool before it limits again.")
	}
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	crest, omega := math.Sqrt2*in.Num("mains"), 2*math.Pi*in.Num("frequency")
	ohms := in.Num("loop") + in.Num("limiter")
	period := 2 * math.Pi / omega
	const n = 400
	s := draw.Series{}
	end := 2.5 * period
	var at func(t float64) float64
	switch in.Word("load") {
	case "capacitor":
		c := charging{crest, ohms, in.Num("capacitor"), omega}
		ps, _ := c.pulses(math.Pi/2, 8)
		// a spike much shorter than a half wave is drawn on its own
		end = math.Min(end, math.Max(8*c.ohms*c.farads, period/100))
		at = func(t float64) float64 {
			x := float64(omega*t) + math.Pi/2
			half := math.Floor(x / math.Pi)
			if int(half) >= len(ps) {
				return 0
			}
			p := ps[int(half)]
			if x -= half * math.Pi; x < p.from || x > p.to {
				return 0
			}
			return math.Max(0, p.current(x))
		}
	case "transformer":
		from, full := fullFrom(in.Num("flux"), in.Num("remanence"))
		end = period
		at = func(t float64) float64 {
			if x := omega * t; full && x >= from && x <= math.Pi {
				return crest * math.Sin(x) / (ohms + in.Num("winding"))
			}
			return 0
		}
	default:
		steady := in.Num("power") / in.Num("mains")
		cold := in.Num("mains") / steady / in.Num("cold-ratio")
		peak := crest / (ohms + cold)
		end = math.Min(math.Max(6*in.Num("warming"), period/10), 10*period)
		at = func(t float64) float64 {
			fall := math.Exp(-t / in.Num("warming"))
			return math.Cos(omega*t) * (float64(peak*fall) + float64(math.Sqrt2*steady*(1-fall)))
		}
	}
	for i := range n + 1 {
		t := end * float64(i) / n
		s.X, s.Y = append(s.X, t*1e3), append(s.Y, at(t))
	}
	return draw.Chart{X: draw.Axis{Label: "time", Unit: "ms"}, Y: draw.Axis{Label: "current", Unit: "A"}, Series: []draw.Series{s}}, nil
}
