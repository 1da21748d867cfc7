package serieslamp

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/heat"
	"faultleaf/calc/quantity"
	"faultleaf/calc/root"
)

//go:embed doc.go
var doc string

// Calculator is the series lamp.
var Calculator = &calc.Calculator{
	Name:    "series-lamp",
	Title:   "Filament lamp in series with a suspect",
	For:     "Tells how bright a filament lamp in series burns with a healthy load and with a shorted one, and which lamp to take.",
	Shelf:   "supply",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "lamp", Label: "Rated power of the lamp", Kind: quantity.Power, Default: "100 W", Low: "1 W", High: "10 kW", Help: "A filament lamp, no LED. Lamps in parallel add up."},
		{Name: "rated", Label: "Rated voltage of the lamp", Kind: quantity.Voltage, Default: "230 V", From: calc.Lamp, Low: "12 V", High: "500 V"},
		{Name: "supply", Label: "Mains", Kind: quantity.Voltage, Default: "230 V", From: calc.Mains, Low: "12 V", High: "500 V"},
		{Name: "load", Label: "Device under test", Default: "rectifier", Choices: []calc.Choice{
			{Name: "resistor", Label: "Heater or resistor"}, {Name: "rectifier", Label: "Rectifier and capacitor (amplifier, radio)"},
			{Name: "switch-mode", Label: "Switch-mode supply"}, {Name: "motor", Label: "Motor"}, {Name: "lamp", Label: "Another filament lamp"},
			{Name: "short", Label: "A dead short"}, {Name: "open", Label: "Nothing, an open circuit"}}},
		{Name: "size", Label: "It takes", Kind: quantity.Power, Or: []quantity.Kind{quantity.Resistance}, Default: "20 W", Low: "1 mW", High: "20 kW",
			Help: "What it draws from full mains when healthy, as it stands on the bench (idle); or ohms."},
		{Name: "power-factor", Label: "Power factor of the motor", Kind: quantity.Ratio, Default: "0.6", Low: "0.1", High: "1"},
	},
	Outputs: []calc.Output{
		{Name: "brightness", Label: "The lamp", Main: true},
		{Name: "lamp-volts", Label: "Voltage across the lamp", Kind: quantity.Voltage, Main: true},
		{Name: "load-volts", Label: "Voltage that the device gets", Kind: quantity.Voltage, Main: true, Help: "RMS; behind a rectifier as if its DC had come from so many volts."},
		{Name: "verdict", Label: "What this lamp can tell", Main: true},
		{Name: "bus", Label: "DC on the capacitor", Kind: quantity.Voltage},
		{Name: "current", Label: "Current", Kind: quantity.Current},
		{Name: "lamp-power", Label: "Power in the lamp", Kind: quantity.Power},
		{Name: "load-power", Label: "Power in the device", Kind: quantity.Power},
		{Name: "still-lamp-volts", Label: "Voltage across the lamp, motor standing still", Kind: quantity.Voltage},
		{Name: "most-power", Label: "Most that passes behind a rectifier", Kind: quantity.Power, Limit: quantity.Highest, Help: "A switch-mode supply that wants more cannot run on this lamp."},
		{Name: "short-current", Label: "Current into a short", Kind: quantity.Current, Help: "To this the lamp limits."},
		{Name: "first-current", Label: "Most at the first instant", Kind: quantity.Current, Help: "The filament is cold then."},
		{Name: "lamp-wanted", Label: "Lamp that leaves a healthy device half the mains", Kind: quantity.Power},
		{Name: "if-bright", Label: "If it stays bright"},
		{Name: "if-dim", Label: "If it is dim"},
		{Name: "if-dark", Label: "If it is dark"},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><msub><mi>I</mi><mi>n</mi></msub><msup><mrow><mo>(</mo><mfrac><msub><mi>V</mi><mtext>lamp</mtext></msub><msub><mi>V</mi><mi>n</mi></msub></mfrac><mo>)</mo></mrow><mn>0.55</mn></msup>` +
		`<mo>=</mo><mfrac><mrow><mi>V</mi><mo>−</mo><msub><mi>V</mi><mtext>lamp</mtext></msub></mrow><mi>R</mi></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "A series lamp limits, it never isolates: everything inside stays at mains, with the lamp dark or bright. Clip on dead, hands out, read live. Behind an RCD, in the line conductor, and one hand is no protection."},
		{Signal: calc.Warning, Text: "Capacitors charge up through the lamp all the same: discharge through a rated resistor, measure, wait, measure again. Microwave ovens stay unopened. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A lamp of 60 W stands in series with a load of 500 Ω on 230 V.",
		Inputs: []calc.Setting{{Name: "lamp", Value: "60 W"}, {Name: "load", Value: "resistor"}, {Name: "size", Value: "500 Ω"}},
		Prints: []calc.Setting{{Name: "lamp-volts", Value: "133.4 V"}, {Name: "load-volts", Value: "96.6 V"}, {Name: "current", Value: "193.3 mA"}},
	},
	Plots: []calc.Plot{{Name: "share", Title: "Voltage across the lamp against what the device takes",
		Says: "With a small load the lamp takes next to nothing, with a large one nearly all; the bend in between is where the lamp tells most.", Chart: chart}},
	Onward: []calc.Onward{{Calculator: "lamp-law", Says: "What does this lamp do at these volts, and what should it read cold?",
		Takes: []calc.Take{{From: "lamp", To: "power"}, {From: "rated", To: "rated"}, {From: "lamp-volts", To: "volts"}}}},
}

// Motors standing still draw so many times their running current: from memory.
const leastStart, mostStart = 2.0, 7.0

// Words by the fraction of the lamp's rated volts: our choice.
const darkBelow, glowBelow, dimBelow, brightBelow = 0.10, 0.30, 0.65, 0.90

// Verdict by the light of a healthy load over that of a short: our choice.
const clearLight, closeLight = 0.25, 0.60

// bench is lamp and mains.
type bench struct{ supply, rated, amps float64 } // V, V, A

// lampCurrent in A at volts across the lamp.
func (b bench) lampCurrent(volts float64) float64 { return b.amps * heat.Current(volts/b.rated) }

// point is where lamp and load settle: RMS volts across the lamp and current, DC on the
// capacitor where there is one, and watts of the load.
type point struct{ lamp, amps, bus, watts float64 }

// impedance settles the lamp with a load of so many ohms at a power factor.
func (b bench) impedance(ohms, factor float64) point {
	across := math.Sqrt(math.Max(0, 1-float64(factor*factor)))
	lamp := root.Between(0, b.supply, func(v float64) float64 {
		i := b.lampCurrent(v)
		along := v + float64(i*ohms*factor)
		return math.Hypot(along, i*ohms*across) - b.supply
	})
	i := b.lampCurrent(lamp)
	return point{lamp: lamp, amps: i, watts: i * i * ohms * factor}
}

// second settles it with another filament lamp of the same rated volts.
func (b bench) second(watts float64) point {
	other := bench{b.supply, b.rated, watts / b.rated}
	lamp := root.Between(0, b.supply, func(v float64) float64 { return b.lampCurrent(v) - other.lampCurrent(b.supply-v) })
	i := b.lampCurrent(lamp)
	return point{lamp: lamp, amps: i, watts: i * (b.supply - lamp)}
}

// pulse is θ(1+2cos²θ) − 3 sin θ cos θ, as a series where it would cancel.
func pulse(angle float64) float64 {
	if u := 2 * angle; u < 0.2 {
		u5 := u * u * u * u * u
		return u5/120 - float64(u5*u*u/2520) + float64(u5*u*u*u*u/120960)
	}
	s, c := math.Sincos(angle)
	return float64(angle*(1+2*c*c)) - 3*s*c
}

// gap is sin θ − θ cos θ, as a series where it would cancel.
func gap(angle float64) float64 {
	if angle < 0.05 {
		a3 := angle * angle * angle
		return a3/3 - float64(a3*angle*angle/30) + float64(a3*angle*angle*angle*angle/840)
	}
	s, c := math.Sincos(angle)
	return s - float64(angle*c)
}

// rectified is the point at half conduction angle θ of a bridge with an endless capacitor behind the lamp,
// with its load in ohms: tan θ − θ = πR/(2R_load), V = V̂ cos θ, and the lamp's RMS volts
// are V̂·√(pulse/π) whatever its resistance, which follows from them.
func (b bench) rectified(angle float64) (p point, load float64) {
	peak := math.Sqrt2 * b.supply
	p.lamp = peak * math.Sqrt(pulse(angle)/math.Pi)
	p.amps = b.lampCurrent(p.lamp)
	p.bus = peak * math.Cos(angle)
	lamp := b.rated / b.amps * heat.Ohms(p.lamp/b.rated)
	load = math.Pi * lamp * math.Cos(angle) / (2 * gap(angle))
	p.watts = p.bus * p.bus / load
	return p, load
}

const smallestAngle, widestAngle = 1e-3, math.Pi/2 - 1e-9

// rectifier settles it with a bridge, an endless capacitor and so many ohms of DC load.
func (b bench) rectifier(ohms float64) point {
	angle := root.Between(smallestAngle, widestAngle, func(a float64) float64 {
		_, load := b.rectified(a)
		return ohms - load
	})
	p, _ := b.rectified(angle)
	return p
}

// mostRectified is the point of most power behind a rectifier: watts rise with the angle up to it and fall
// beyond.
func (b bench) mostRectified() (angle float64, p point) {
	angle = root.Highest(smallestAngle, widestAngle, func(a float64) float64 {
		q, _ := b.rectified(a)
		return q.watts
	})
	p, _ = b.rectified(angle)
	return angle, p
}

// constantPower settles it with a load that takes watts at any volts; false if the lamp cannot pass
// so many.
func (b bench) constantPower(watts float64) (point, bool) {
	widest, most := b.mostRectified()
	if watts > most.watts {
		return point{}, false
	}
	p, _ := b.rectified(root.Between(smallestAngle, widest, func(a float64) float64 {
		q, _ := b.rectified(a)
		return q.watts - watts
	}))
	return p, true
}

// brightness names the light of the lamp at a fraction of its rated volts.
func brightness(out *calc.Out, fraction float64) {
	percent := func(low, high float64) string { return quantity.Between(quantity.Percent, low, high).Text() }
	switch {
	case fraction < darkBelow:
		out.Say("brightness", "dark", "Dark.")
	case fraction < glowBelow:
		out.Say("brightness", "glow", "A red glow at most, best seen in the shade.")
	case fraction < dimBelow:
		out.Say("brightness", "dim", "Dim: "+percent(heat.Light(fraction))+" of its light.")
	case fraction < brightBelow:
		out.Say("brightness", "bright", "Bright: "+percent(heat.Light(fraction))+" of its light.")
	default:
		out.Say("brightness", "full", "Full light, or nearly.")
	}
}

// settle finds the point for the chosen load; false for a supply that cannot run.
func settle(in calc.In) (b bench, p point, runs bool, err error) {
	b = bench{in.Num("supply"), in.Num("rated"), in.Num("lamp") / in.Num("rated")}
	if b.supply > 1.15*b.rated {
		return b, p, false, calc.Bad("rated", "Rated volts of the lamp: on a short it would get "+quantity.Of(quantity.Voltage, b.supply).Text()+
			" and burn out; take one for this mains, or two equal ones in series and enter their volts and watts together")
	}
	size := in.Value("size")
	ohms, watts := size.Num, size.Num
	if size.Kind == quantity.Resistance {
		if size.Low <= 0 {
			return b, p, false, calc.Bad("size", "It takes: ohms should be above zero; choose a dead short instead")
		}
		watts = b.supply * b.supply / ohms
	} else {
		ohms = b.supply * b.supply / watts
	}
	load := in.Word("load")
	if size.Kind == quantity.Resistance && (load == "motor" || load == "lamp" || load == "switch-mode") {
		return b, p, false, calc.Bad("size", "It takes: the ohms of a motor, lamp or switch-mode supply say little of what it draws; enter its watts")
	}
	switch load {
	case "resistor":
		p = b.impedance(ohms, 1)
	case "motor":
		p = b.impedance(ohms*in.Num("power-factor"), in.Num("power-factor"))
	case "lamp":
		p = b.second(watts)
	case "rectifier":
		if size.Kind != quantity.Resistance {
			ohms = 2 * b.supply * b.supply / watts // fed by the peak when healthy
		}
		p = b.rectifier(ohms)
	case "switch-mode":
		p, runs = b.constantPower(watts)
		return b, p, runs, nil
	case "short":
		p = point{lamp: b.supply, amps: b.lampCurrent(b.supply)}
	}
	return b, p, true, nil
}

func run(in calc.In, out *calc.Out) error {
	b, p, runs, err := settle(in)
	if err != nil {
		return err
	}
	load := in.Word("load")
	short := b.lampCurrent(b.supply)
	out.Set("short-current", short)
	hot := b.rated / b.amps
	cold, warm := heat.Cold(hot)
	out.SetRange("first-current", math.Sqrt2*b.supply/warm, math.Sqrt2*b.supply/cold)
	meanings(out, load)
	if load == "switch-mode" {
		_, most := b.mostRectified()
		out.Set("most-power", most.watts)
	}
	if !runs {
		out.Say("brightness", "pulses", "Pulses, or glows without the supply starting.")
		out.Say("verdict", "cannot-run", "This lamp cannot pass what the supply wants: it tries and tries again, or hangs, also when healthy. Take a larger lamp, or unload the supply.")
		return nil
	}
	fraction := p.lamp / b.rated
	brightness(out, fraction)
	out.Set("lamp-volts", p.lamp)
	out.Set("current", p.amps)
	out.Set("lamp-power", p.lamp*p.amps)
	out.Set("load-power", p.watts)
	across := b.supply - p.lamp
	switch load {
	case "rectifier", "switch-mode":
		out.Set("bus", p.bus)
		across = p.bus / math.Sqrt2
	case "motor":
		across = p.amps * b.supply * b.supply / in.Num("size") * in.Num("power-factor")
		still := b.supply * b.supply / in.Num("size") * in.Num("power-factor")
		out.SetRange("still-lamp-volts", b.impedance(still/leastStart, in.Num("power-factor")).lamp, b.impedance(still/mostStart, in.Num("power-factor")).lamp)
	case "open":
		across = b.supply
	}
	out.Set("load-volts", across)
	if load == "resistor" {
		// the lamp's resistance at half the mains equals the load's
		share := b.supply / 2 / b.rated
		if in.Value("size").Kind == quantity.Resistance {
			out.Set("lamp-wanted", b.rated*b.rated*heat.Ohms(share)/in.Num("size"))
		} else {
			out.Set("lamp-wanted", in.Num("size")*b.rated*b.rated/(b.supply*b.supply)*heat.Ohms(share))
		}
	}
	judge(out, load, p.lamp/b.supply, across/b.supply)
	return nil
}

// judge says what this lamp can tell, from the lamp's and the load's share of the mains.
func judge(out *calc.Out, load string, lamp, device float64) {
	switch load {
	case "short":
		out.Say("verdict", "short", "The lamp takes the mains and limits the current to its own. So bright it looks with any short.")
		return
	case "open":
		out.Say("verdict", "open", "No current, no light: an open fuse, switch or link looks like this, and so does a device in standby.")
		return
	}
	low, high := heat.Light(lamp)
	switch light := (low + high) / 2; {
	case load == "switch-mode" && device < 0.75:
		out.Say("verdict", "may-hang", "May hang or not start: the supply gets under three quarters of its volts, where many a one switches off. A larger lamp decides.")
	case load == "motor" && device < 0.75:
		out.Say("verdict", "may-not-start", "With so few volts it may never start, and standing still it lights the lamp much as a short does. A larger lamp, and the ohms across its pins, tell more.")
	case light <= clearLight:
		out.Say("verdict", "clear", "Clear: a healthy one leaves the lamp far darker than a short does.")
	case light <= closeLight:
		out.Say("verdict", "compare", "Only by comparing: a healthy one lights the lamp to half or so of what a short does. A larger lamp tells more.")
	default:
		out.Say("verdict", "too-small", "This lamp is too small: a healthy one lights it nearly as a short does, so full light proves nothing.")
	}
}

// meanings says what the light tells for each kind of load.
func meanings(out *calc.Out, load string) {
	bright, dim, dark := "A short, or a load far above what it should take.", "Some load; compare with what is computed here.", "Little or no current: light load, or something open. Measure the volts across the device."
	switch load {
	case "rectifier":
		bright = "After a flash it should go down within a second or two. If not: shorted rectifier, capacitor, transformer or output stage."
		dim = "Normal for an idle amplifier or radio; more than computed here points to leaky capacitors or too much quiescent current."
	case "switch-mode":
		bright = "Shorted rectifier, capacitor, switching transistor or surge part."
		dim = "It runs, or it glows without starting: measure the output."
		dark = "It idles, or it never starts; after the first flash both look alike. Measure its capacitor and its output."
	case "motor":
		bright = "Shorted, or it stands still: a motor that cannot start draws much more. Switch off soon, it gets hot."
		dim = "It turns with fewer volts, slower than usual."
	case "resistor":
		bright = "Right for a heater of more watts than the lamp; a short looks the same. Use ohms for heaters."
	}
	out.Say("if-bright", "bright", bright)
	out.Say("if-dim", "dim", dim)
	out.Say("if-dark", "dark", dark)
}

func chart(in calc.In) (draw.Chart, error) {
	b, p, runs, err := settle(in)
	if err != nil {
		return draw.Chart{}, err
	}
	resistor := draw.Series{Name: "heater or resistor"}
	rectifier := draw.Series{Name: "rectifier and capacitor", Dashed: true}
	lamp := b.amps * b.rated
	for i := 0; i <= 60; i++ {
		watts := 4 * lamp * float64(i) / 60
		if i == 0 {
			watts = 4 * lamp / 600
		}
		ohms := b.supply * b.supply / watts
		resistor.X, resistor.Y = append(resistor.X, watts), append(resistor.Y, b.impedance(ohms, 1).lamp)
		rectifier.X, rectifier.Y = append(rectifier.X, watts), append(rectifier.Y, b.rectifier(2*ohms).lamp)
	}
	c := draw.Chart{X: draw.Axis{Label: "device takes at full mains", Unit: "W"}, Y: draw.Axis{Label: "across the lamp", Unit: "V"}, Series: []draw.Series{resistor, rectifier}}
	if size := in.Value("size"); runs && in.Word("load") != "short" && in.Word("load") != "open" {
		watts := size.Num
		if size.Kind == quantity.Resistance {
			watts = b.supply * b.supply / size.Num
		}
		if watts <= 4*lamp {
			c.Marks = []draw.Mark{{X: watts, Y: p.lamp, Name: "this one"}}
		}
	}
	return c, nil
}
