package bus

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

// Calculator gives the DC bus of a mains supply.
var Calculator = &calc.Calculator{
	Name:    "dc-bus",
	Title:   "DC bus of a mains supply",
	For:     "Tells which DC volts the main capacitor of a mains supply should show, idle and loaded, and what a reading means.",
	Shelf:   "supply",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "mains", Label: "Mains, RMS", Kind: quantity.Voltage, Default: "230 V", From: calc.Mains, Low: "20 V", High: "500 V"},
		{Name: "below", Label: "Mains may be low by", Folded: true, Kind: quantity.Percent, Default: "10 %", Low: "0 %", High: "40 %"},
		{Name: "above", Label: "Mains may be high by", Folded: true, Kind: quantity.Percent, Default: "10 %", Low: "0 %", High: "40 %"},
		{Name: "frequency", Label: "Mains frequency", Folded: true, Kind: quantity.Frequency, Default: "50 Hz", From: calc.Hertz, Low: "10 Hz", High: "1000 Hz"},
		{Name: "circuit", Label: "Circuit", Default: "bridge", Choices: []calc.Choice{{Name: "bridge", Label: "Bridge"}, {Name: "doubler", Label: "Doubler"},
			{Name: "half-wave", Label: "One diode"}, {Name: "pfc", Label: "Power factor corrector"}}},
		{Name: "boost", Label: "Bus set by the corrector", Folded: true, Kind: quantity.Voltage, Default: "390 V", Low: "30 V", High: "1000 V", Help: "Mostly 380 to 400 V; used only with a corrector."},
		{Name: "power", Label: "Power drawn from the bus", Kind: quantity.Power, Default: "50 W", Low: "0 W", High: "20 kW"},
		{Name: "capacitor", Label: "Main capacitor", Kind: quantity.Capacitance, Default: "100 µF", Low: "10 nF", High: "1 F", Help: "Each of the two for a doubler."},
		{Name: "stops-at", Label: "Bus at which the supply stops", Kind: quantity.Voltage, Optional: true, Low: "1 V", High: "1000 V", Folded: true, Help: "To learn how long it holds up without mains."},
		{Name: "reading", Label: "DC voltage read", Reading: true, Kind: quantity.Voltage, Optional: true, Low: "0 V", High: "2000 V"},
	},
	Outputs: []calc.Output{
		{Name: "idle", Label: "Bus off load", Kind: quantity.Voltage, Main: true},
		{Name: "idle-range", Label: "Over the mains' tolerance", Kind: quantity.Voltage, Main: true},
		{Name: "verdict", Label: "The reading", Main: true},
		{Name: "valley", Label: "Valley under load", Kind: quantity.Voltage},
		{Name: "ripple", Label: "Ripple under load, peak to peak", Kind: quantity.Voltage},
		{Name: "lowest", Label: "Valley at low mains", Kind: quantity.Voltage, Limit: quantity.Highest, Help: "What the supply must still run on."},
		{Name: "worn", Label: "Valley with half the capacitance", Kind: quantity.Voltage, Help: "A capacitor that dried out."},
		{Name: "each", Label: "Each capacitor at high mains", Kind: quantity.Voltage, Limit: quantity.Lowest, Help: "Its rating must be above."},
		{Name: "energy", Label: "Energy in it", Kind: quantity.Energy},
		{Name: "hold-up", Label: "Holds up without mains", Kind: quantity.Duration, Limit: quantity.Highest, Help: "From the valley, the worst instant."},
		{Name: "hold-up-peak", Label: "The same from the full bus", Kind: quantity.Duration, Help: "As makers state it."},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mfrac><mi>C</mi><mn>2</mn></mfrac><mo>(</mo><msubsup><mi>V</mi><mn>1</mn><mn>2</mn></msubsup><mo>−</mo><msup><mi>V</mi><mn>2</mn></msup><mo>)</mo>` +
		`<mo>=</mo><mi>P</mi><mi>t</mi></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "The bus is at mains and holds enough to kill, also with the plug out. Clip on dead, hands out, read live; RCD on the bench. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Warning, Text: "Before touching: discharge through a rated resistor, measure, wait, measure again. A supply that does not start keeps its charge longest. Microwave ovens stay unopened."},
	},
	Example: calc.Example{
		Says:   "A supply of 50 W on 230 V, 50 Hz, with a bridge and 100 µF.",
		Inputs: []calc.Setting{{Name: "mains", Value: "230 V"}, {Name: "power", Value: "50 W"}, {Name: "capacitor", Value: "100 µF"}},
		Prints: []calc.Setting{{Name: "idle", Value: "325 V"}, {Name: "idle-range", Value: "293–358 V"}, {Name: "valley", Value: "311 V"}},
	},
	Plots: []calc.Plot{{Name: "valley", Title: "Valley of the bus against power",
		Says: "The valley falls ever more steeply as more power is drawn; with half the capacitance it falls twice as early.", Chart: chart},
		{Name: "waveform", Title: "Bus over one mains period, as a scope shows it",
			Says: "The bus is lifted to each crest of the rectified mains and drained between; with half the capacitance the valleys are deeper, and where they cross the level at which the supply stops it lets go and starts again.", Chart: waveform}},
	Onward: []calc.Onward{
		{Calculator: "discharge", Says: "How long until this capacitor is safe, and through which resistor?",
			Takes: []calc.Take{{From: "idle", To: "volts"}, {From: "capacitor", To: "capacitor"}}},
		{Calculator: "inrush", Says: "What does it draw at the first instant?",
			Takes: []calc.Take{{From: "mains", To: "mains"}, {From: "frequency", To: "frequency"}, {From: "capacitor", To: "capacitor"}, {From: "power", To: "power"}}},
	},
}

// A corrector holds its bus within so much: from memory.
const correctorTolerance = 0.03

// A DC meter reads the mean; an unknown load may take it so far below the idle volts: our choice.
const loadSag = 0.90

// valley is the lowest volts of a capacitor charged to each peak, once in every rest of seconds, by ideal diodes, and drained by constant
// watts; false if it runs empty before the next peak. The capacitor leaves the sine where the load
// takes more than the sine falls, sin 2θ = 2P/(ωCV̂²), and meets it again on its rise.
func valley(peak, hertz, rest, farads, watts float64) (float64, bool) {
	omega := 2 * math.Pi * hertz
	leave := 2 * watts / (omega * farads * peak * peak)
	if leave >= 1 {
		return 0, false
	}
	angle := math.Asin(leave) / 2
	start := peak * math.Cos(angle)
	// balance is energy given less energy taken when the rising sine meets the volts v
	balance := func(v float64) float64 {
		t := rest - (angle+math.Acos(v/peak))/omega
		return float64(farads*(start-v)*(start+v)/2) - float64(watts*t)
	}
	if balance(0) <= 0 {
		return 0, false
	}
	return root.Between(0, start, balance), true
}

// doubler is the lowest volts of two capacitors in series, each charged by an ideal diode once a period, half a period apart, and drained
// together by constant watts; false if one runs empty. It follows them by half periods, from crest to crest: the sine holds the one a little past
// its crest, until it falls faster than the load takes; then both rest and lose as much, so that the square of their sum falls evenly,
// d(s²)/dt = -4P/C; then the sine lifts the other while the one goes on losing.
func doubler(peak, hertz, farads, watts float64) (float64, bool) {
	const (
		lifts = 24   // steps of the midpoint rule while the sine lifts one
		most  = 40   // half periods; a few forget the start
		near  = 1e-9 // of the peak
	)
	omega := 2 * math.Pi * hertz
	half := math.Pi / omega
	other := peak // volts of the one that is not at its crest
	for range most {
		// past the crest, held by the sine
		high, low, held := peak, other, 0.0
		for range 4 { // where it lets go depends a little on what is left there
			leave := watts / (farads * omega * peak * (high + low))
			if leave >= 1 {
				return 0, false
			}
			held = math.Asin(leave) / omega
			high = peak * math.Cos(omega*held)
			low = other - float64(held*watts)/(farads*(peak+other+high+low)/2)
		}
		// at rest, until the sine of the other meets what is left of it
		sum := high + low
		square := func(t float64) float64 { return sum*sum - float64(4*watts*(t-held))/farads }
		to := root.Between(held, half, func(t float64) float64 {
			return -float64(peak*math.Cos(omega*t)) - low + (sum-math.Sqrt(math.Max(0, square(t))))/2
		})
		if square(to) <= 0 {
			return 0, false
		}
		lowest := math.Sqrt(square(to))
		high, low = high-(sum-lowest)/2, low-(sum-lowest)/2
		if high <= 0 || low <= 0 {
			return 0, false
		}
		// lifted by the sine
		step := (half - to) / lifts
		for n := range lifts {
			at := to + float64(step*float64(n))
			middle := high - float64(step/2*watts)/(farads*(high-float64(peak*math.Cos(omega*at))))
			high -= float64(step*watts) / (farads * (middle - float64(peak*math.Cos(omega*(at+step/2)))))
			if middle <= 0 || high <= 0 {
				return 0, false
			}
			lowest = math.Min(lowest, high-float64(peak*math.Cos(omega*(at+step))))
		}
		if math.Abs(high-other) < near*peak {
			return lowest, true
		}
		other = high
	}
	return 0, false
}

// under is the valley for the chosen circuit at so many volts of mains, farads and watts.
func under(circuit string, mains, hertz, boost, farads, watts float64) (float64, bool) {
	peak := math.Sqrt2 * mains
	switch circuit {
	case "doubler":
		return doubler(peak, hertz, farads, watts)
	case "half-wave":
		return valley(peak, hertz, 1/hertz, farads, watts)
	case "pfc":
		swing := watts / (2 * math.Pi * hertz * farads * boost)
		return boost - swing/2, swing < boost
	}
	return valley(peak, hertz, 1/(2*hertz), farads, watts)
}

// idle is the bus off load.
func idle(circuit string, mains, boost float64) float64 {
	switch circuit {
	case "doubler":
		return 2 * math.Sqrt2 * mains
	case "pfc":
		return boost
	}
	return math.Sqrt2 * mains
}

func volts(x float64) string { return quantity.Of(quantity.Voltage, x).Text() }

// holdUp is the time in s in which watts draw farads down from one voltage to another: C(V₁² − V₂²)/(2P).
func holdUp(farads, from, to, watts float64) float64 {
	return farads * (from - to) * (from + to) / (2 * watts)
}

func run(in calc.In, out *calc.Out) error {
	circuit, mains, hertz, boost := in.Word("circuit"), in.Num("mains"), in.Num("frequency"), in.Num("boost")
	farads, watts := in.Num("capacitor"), in.Num("power")
	least, most := mains*(1-in.Num("below")), mains*(1+in.Num("above"))
	if circuit == "pfc" && boost < math.Sqrt2*most {
		return calc.Bad("boost", "Bus set by the corrector: a corrector only boosts, so it must be above the peak of the mains at its highest, "+volts(math.Sqrt2*most))
	}
	none := idle(circuit, mains, boost)
	low, high := idle(circuit, least, boost), idle(circuit, most, boost)
	if circuit == "pfc" {
		low, high = boost*(1-correctorTolerance), boost*(1+correctorTolerance)
	}
	valleyAt, ok := under(circuit, mains, hertz, boost, farads, watts)
	if !ok {
		return calc.Bad("capacitor", "Main capacitor: with this power it is empty before the next peak; a healthy supply has 1 µF for each watt at 230 V and 2 to 3 µF at 100 V")
	}
	out.Set("idle", none)
	out.SetRange("idle-range", low, high)
	out.Set("valley", valleyAt)
	top := none
	if circuit == "pfc" {
		top = boost + (boost - valleyAt)
	}
	if circuit != "doubler" { // the two halves peak in turn, so the doubler's top is not its idle volts
		out.Set("ripple", top-valleyAt)
	}
	if v, ok := under(circuit, least, hertz, boost, farads, watts); ok {
		out.Set("lowest", v)
	} else {
		out.Note("At low mains the capacitor would run empty: the supply stops there.")
	}
	if v, ok := under(circuit, mains, hertz, boost, farads/2, watts); ok {
		out.Set("worn", v)
	} else {
		out.Note("With half its capacitance it would run empty between the peaks.")
	}
	if in.Has("stops-at") {
		stop := in.Num("stops-at")
		if stop >= valleyAt {
			return calc.Bad("stops-at", "Bus at which the supply stops: it is not below the valley under load, "+volts(valleyAt)+", so the supply would stop at every half wave")
		}
		total := farads
		if circuit == "doubler" {
			total /= 2 // two in series
		}
		if watts > 0 {
			out.Set("hold-up", holdUp(total, valleyAt, stop, watts))
			out.Set("hold-up-peak", holdUp(total, none, stop, watts))
		}
	}
	each, energy := high, farads*none*none/2
	if circuit == "doubler" {
		each, energy = high/2, farads*none*none/4
	}
	out.Set("each", each)
	out.Set("energy", energy)
	if in.Has("reading") {
		judge(out, circuit, in.Num("reading"), mains, least, most, none, low, high, valleyAt)
	}
	return nil
}

// judge says what a DC reading of the bus means.
func judge(out *calc.Out, circuit string, read, mains, least, most, none, low, high, valley float64) {
	bottom := math.Min(low*loadSag, (valley+none)/2*low/none)
	peakLow, peakHigh := math.Sqrt2*least*loadSag, math.Sqrt2*most
	switch {
	case read < none/20:
		out.Say("verdict", "none", "Nothing there: fuse, inrush part, rectifier or switch is open. Prove the meter before you believe it.")
	case read >= bottom && read <= high:
		out.Say("verdict", "as-expected", "As expected. Rectifier and capacitor pass the mains on; if the supply is dead the fault is behind them.")
	case circuit == "pfc" && read >= peakLow && read <= peakHigh:
		out.Say("verdict", "corrector-off", "At the peak of the mains: the corrector does not run, or has not been told to; many wait for a load or a signal.")
	case circuit == "doubler" && read >= bottom/2 && read <= high/2:
		out.Say("verdict", "half", "Half: the selector is at bridge on low mains, or one half of the doubler is dead.")
	case (circuit == "bridge" || circuit == "half-wave") && read >= 2*bottom && read <= 2*high:
		out.Say("verdict", "doubled", "Doubled: the selector is at the low mains on a high one. Pull the plug now; the capacitors are beyond their rating.")
	case read < bottom:
		out.Say("verdict", "low", "Low: a dried-out capacitor, an open diode, more load than entered, or low mains.")
	default:
		out.Say("verdict", "high", "High: the mains is above its tolerance, the corrector runs away, or the selector is wrong.")
	}
}

func chart(in calc.In) (draw.Chart, error) {
	circuit, mains, hertz, boost := in.Word("circuit"), in.Num("mains"), in.Num("frequency"), in.Num("boost")
	farads, watts := in.Num("capacitor"), in.Num("power")
	top := 2 * watts
	if top == 0 {
		top = 1
	}
	const points = 25
	good, worn := draw.Series{Name: "as entered"}, draw.Series{Name: "half the capacitance", Dashed: true}
	for i := 0; i <= points; i++ {
		p := top * float64(i) / points
		if v, ok := under(circuit, mains, hertz, boost, farads, p); ok {
			good.X, good.Y = append(good.X, p), append(good.Y, v)
		}
		if v, ok := under(circuit, mains, hertz, boost, farads/2, p); ok {
			worn.X, worn.Y = append(worn.X, p), append(worn.Y, v)
		}
	}
	c := draw.Chart{X: draw.Axis{Label: "power", Unit: "W"}, Y: draw.Axis{Label: "valley", Unit: "V"}, Series: []draw.Series{good, worn}}
	if v, ok := under(circuit, mains, hertz, boost, farads, watts); ok {
		c.Marks = []draw.Mark{{X: watts, Y: v, Name: "here"}}
	}
	return c, nil
}

// waveform is the bus over one mains period, with the mains as it is rectified. A
// doubler is not drawn: its halves are lifted in turn.
func waveform(in calc.In) (draw.Chart, error) {
	circuit, mains, hertz, boost := in.Word("circuit"), in.Num("mains"), in.Num("frequency"), in.Num("boost")
	farads, watts := in.Num("capacitor"), in.Num("power")
	if circuit == "doubler" {
		return draw.Chart{}, calc.Bad("circuit", "Circuit: the waveform of a doubler is not drawn")
	}
	const points = 240
	peak, omega := math.Sqrt2*mains, 2*math.Pi*hertz
	source := draw.Series{Name: "mains, rectified", Dashed: true}
	good, worn := draw.Series{Name: "as entered"}, draw.Series{Name: "half the capacitance"}
	for i := range points + 1 {
		t := float64(i) / points / hertz
		at := func(s *draw.Series, v float64) { s.X, s.Y = append(s.X, 1000*t), append(s.Y, v) }
		at(&source, rectified(circuit, peak, omega, t))
		for k, s := range []*draw.Series{&good, &worn} {
			c := farads / float64(1+k)
			if circuit == "pfc" { // fed at twice the mains' frequency with sin², drained evenly
				if swing := watts / (omega * c * boost); swing < boost {
					at(s, boost-float64(swing/2*math.Sin(2*omega*t)))
				}
			} else if v, ok := held(circuit, peak, hertz, c, watts, t); ok {
				at(s, v)
			}
		}
	}
	c := draw.Chart{X: draw.Axis{Label: "time", Unit: "ms"}, Y: draw.Axis{Label: "bus", Unit: "V"}, Series: []draw.Series{good, source, worn}}
	if in.Has("stops-at") {
		c.Marks = []draw.Mark{{Y: in.Num("stops-at"), Level: true, Name: "stops"}}
	}
	return c, nil
}

// rectified is the mains behind ideal diodes in V, t seconds after a crest.
func rectified(circuit string, peak, omega, t float64) float64 {
	v := peak * math.Cos(omega*t)
	if circuit == "half-wave" {
		return math.Max(0, v)
	}
	return math.Abs(v)
}

// held is the bus in V, t seconds after a crest: the mains itself, or what the load
// has left since the capacitor let go of it; false where it runs empty.
func held(circuit string, peak, hertz, farads, watts, t float64) (float64, bool) {
	if _, ok := under(circuit, peak/math.Sqrt2, hertz, 0, farads, watts); !ok {
		return 0, false
	}
	omega, rest := 2*math.Pi*hertz, 1/(2*hertz)
	if circuit == "half-wave" {
		rest = 1 / hertz
	}
	t = math.Mod(t, rest)
	source := rectified(circuit, peak, omega, t)
	angle := math.Asin(2*watts/(omega*farads*peak*peak)) / 2
	if t < angle/omega {
		return source, true
	}
	start := peak * math.Cos(angle)
	left := float64(start*start) - float64(2*watts*(t-angle/omega))/farads
	return math.Max(source, math.Sqrt(math.Max(0, left))), true
}
