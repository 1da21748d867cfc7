package discharge

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/passive"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives the time to a safe voltage and what the resistor stands.
var Calculator = &calc.Calculator{
	Name:    "discharge",
	Title:   "Discharging a capacitor",
	For:     "Tells how long a capacitor takes to fall to a safe voltage through a resistor, and what the resistor must stand.",
	Shelf:   "passive",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "capacitor", Label: "Capacitor", Kind: quantity.Capacitance, Default: "470 µF", Low: "1 pF", High: "100 F"},
		{Name: "volts", Label: "Voltage at the start", Kind: quantity.Voltage, Default: "325 V", From: calc.Peak, Low: "0.1 V", High: "50 kV",
			Help: "As measured, or the peak of the AC: 325 V for 230 V mains."},
		{Name: "resistor", Label: "Resistor", Kind: quantity.Resistance, Default: "10 kΩ", Low: "0.1 Ω", High: "1 GΩ"},
		{Name: "safe", Label: "Safe voltage", Kind: quantity.Voltage, Default: "34 V", Low: "0.1 V", High: "50 kV",
			Help: "34 V is the strictest of the rules for the pins of a plug."},
		{Name: "within", Label: "Wanted: safe within", Kind: quantity.Duration, Optional: true, Low: "1 µs", High: "30 d", Help: "To learn the resistor for it."},
		{Name: "after", Label: "State the voltage after", Folded: true, Kind: quantity.Duration, Default: "1 s", Low: "1 µs", High: "3650 d"},
		{Name: "left", Label: "Voltage measured after that time", Folded: true, Reading: true, Kind: quantity.Voltage, Optional: true, Low: "0.1 mV", High: "50 kV",
			Help: "With nothing across it but the meter: to learn what it leaks through."},
		{Name: "mains", Label: "RMS voltage that stays across the resistor", Folded: true, Kind: quantity.Voltage, Optional: true, Low: "0.1 V", High: "50 kV",
			Help: "For a bleeder across the mains. Leave empty to take the volts at the start."},
	},
	Outputs: []calc.Output{
		{Name: "time", Label: "Time to the safe voltage", Kind: quantity.Duration, Limit: quantity.Lowest, Main: true},
		{Name: "volts-after", Label: "Voltage after the stated time", Kind: quantity.Voltage, Main: true},
		{Name: "resistor-for", Label: "Resistor for the wanted time, at most", Kind: quantity.Resistance, Limit: quantity.Highest, Main: true},
		{Name: "resistor-peak-power", Label: "It takes at the first instant", Kind: quantity.Power, Help: "Its pulse rating must be above."},
		{Name: "resistor-steady-power", Label: "It takes if it stays across the supply", Kind: quantity.Power, Help: "Its rated watts, at twice this."},
		{Name: "leak", Label: "It leaks as through", Kind: quantity.Resistance, Main: true, Help: "Capacitor, board and meter together."},
		{Name: "leak-current", Label: "Leakage current at the start", Kind: quantity.Current},
		{Name: "leak-time", Label: "By itself it is safe after", Kind: quantity.Duration, Limit: quantity.Lowest},
		{Name: "time-constant", Label: "Time constant", Kind: quantity.Duration, Help: "After each the voltage is down to 37 %."},
		{Name: "energy", Label: "Energy at the start", Kind: quantity.Energy},
		{Name: "peak-power", Label: "Power at the first instant", Kind: quantity.Power},
		{Name: "peak-current", Label: "Current at the first instant", Kind: quantity.Current},
		{Name: "steady-power", Label: "Power if the voltage stays across it", Kind: quantity.Power},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>t</mi><mo>=</mo><mi>R</mi><mi>C</mi><mi>ln</mi><mfrac><msub><mi>V</mi><mn>0</mn></msub>` +
		`<msub><mi>V</mi><mtext>safe</mtext></msub></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "A charged capacitor kills, also with the plug out. Discharge through a resistor rated for its voltage, on insulated leads, never with a screwdriver. Measure, wait a minute, measure again."},
		{Signal: calc.Warning, Text: "Prove the meter, test, prove the meter. Microwave ovens stay unopened. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says: "The bulk capacitor of a supply, 470 µF at 400 V, is emptied through 10 kΩ until 50 V are left.",
		Inputs: []calc.Setting{{Name: "capacitor", Value: "470 µF"}, {Name: "volts", Value: "400 V"}, {Name: "resistor", Value: "10 kΩ"},
			{Name: "safe", Value: "50 V"}},
		Prints: []calc.Setting{{Name: "time", Value: "9.78 s"}, {Name: "energy", Value: "37.6 J"}, {Name: "peak-power", Value: "16.00 W"}},
	},
	Plots: []calc.Plot{{Name: "volts", Title: "Voltage over time",
		Says: "The voltage falls steeply at first and ever more slowly; the level is the safe voltage, the point where the curve meets it the time to wait.", Chart: chart}},
	Onward: []calc.Onward{{Calculator: "plug-pins", Says: "Are the pins of the plug safe soon enough?",
		Takes: []calc.Take{{From: "capacitor", To: "capacitor"}, {From: "resistor", To: "resistor"}, {From: "volts", To: "volts"}}}},
}

// timeTo is the time in which v0 falls to v; 0 if it is there already.
func timeTo(v0, v, tau float64) float64 { return math.Max(0, tau*math.Log(v0/v)) }

// resistorFor is the resistance through which v0 falls to v in t: t/(C·ln(v0/v)).
func resistorFor(c, v0, v, t float64) float64 { return t / (c * math.Log(v0/v)) }

// leakOf is the resistance that explains a fall from v0 to v in t: the same law.
func leakOf(c, v0, v, t float64) float64 { return resistorFor(c, v0, v, t) }

// energy is CV²/2.
func energy(c, v float64) float64 { return c * v * v / 2 }

func run(in calc.In, out *calc.Out) error {
	c, v0, r := in.Num("capacitor"), in.Num("volts"), in.Num("resistor")
	if in.Has("within") && !in.Given("resistor") && v0 > in.Num("safe") {
		r = resistorFor(c, v0, in.Num("safe"), in.Num("within")) // the one asked for is the one used
	}
	tau := r * c
	out.Set("time-constant", tau)
	out.Set("time", timeTo(v0, in.Num("safe"), tau))
	out.Set("volts-after", passive.Remaining(v0, tau, in.Num("after")))
	out.Set("energy", energy(c, v0))
	out.Set("peak-power", v0*v0/r)
	out.Set("peak-current", v0/r)
	stays := v0
	if in.Has("mains") {
		stays = in.Num("mains")
	}
	out.Set("steady-power", stays*stays/r)
	if in.Has("within") {
		if v0 <= in.Num("safe") {
			return calc.Bad("within", "Wanted: the capacitor starts at or below the safe volts, so no resistor is needed; enter the volts that it is charged to")
		}
		want := resistorFor(c, v0, in.Num("safe"), in.Num("within"))
		out.Set("resistor-for", want)
		out.Set("resistor-peak-power", v0*v0/want)
		out.Set("resistor-steady-power", stays*stays/want)
	}
	if in.Has("left") {
		left := in.Num("left")
		if left >= v0 {
			return calc.Bad("left", "Volts measured after that time: they should be below those at the start, "+quantity.Of(quantity.Voltage, v0).Text()+"; exchange the two, or wait longer")
		}
		leak := leakOf(c, v0, left, in.Num("after"))
		out.Set("leak", leak)
		out.Set("leak-current", v0/leak)
		out.Set("leak-time", timeTo(v0, in.Num("safe"), leak*c))
		out.Note("A meter of 10 MΩ left connected leaks too: for a better capacitor take it off and touch it to the pins only at the end.")
	}
	if v0 <= in.Num("safe") {
		out.Note("It starts below the safe volts already, so there is no time to wait; measure all the same.")
	}
	out.Note("The bleeder may be open: measure before touching.")
	out.Note("The resistor takes " + quantity.Of(quantity.Energy, energy(c, v0)).Text() + " at once: its pulse rating and its highest volts count, not only its watts.")
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	v0, safe := in.Num("volts"), in.Num("safe")
	tau := in.Num("resistor") * in.Num("capacitor")
	end := math.Max(3*tau, 1.3*timeTo(v0, safe, tau))
	unit, factor := "s", 1.0
	switch {
	case end < 1e-3:
		unit, factor = "µs", 1e-6
	case end < 1:
		unit, factor = "ms", 1e-3
	case end > 7200:
		unit, factor = "h", 3600
	case end > 300:
		unit, factor = "min", 60
	}
	s := draw.Series{}
	for i := 0; i <= 120; i++ {
		t := end * float64(i) / 120
		s.X, s.Y = append(s.X, t/factor), append(s.Y, passive.Remaining(v0, tau, t))
	}
	c := draw.Chart{X: draw.Axis{Label: "time", Unit: unit}, Y: draw.Axis{Label: "capacitor", Unit: "V"}, Series: []draw.Series{s},
		Marks: []draw.Mark{{Y: safe, Name: "safe", Level: true}}}
	if t := timeTo(v0, safe, tau); t > 0 {
		c.Marks = append(c.Marks, draw.Mark{X: t / factor, Y: safe})
	}
	return c, nil
}
