package drop

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/diode"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives a junction's forward volts from current and temperature.
var Calculator = &calc.Calculator{
	Name:    "diode-drop",
	Title:   "Voltage across a conducting diode",
	For:     "Tells the forward volts of a diode or a transistor's base from current and temperature, and how they move with heat.",
	Shelf:   "semiconductor",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "kind", Label: "Kind", Default: "rectifier", Choices: []calc.Choice{
			{Name: "rectifier", Label: "Silicon rectifier, 1 A"}, {Name: "small-signal", Label: "Silicon, small signal"},
			{Name: "transistor", Label: "Base of a small transistor"}, {Name: "schottky", Label: "Schottky, 1 A"},
			{Name: "germanium", Label: "Germanium, point contact"}}},
		{Name: "current", Label: "Current", Kind: quantity.Current, Default: "100 mA", Low: "1 nA", High: "10 A", Help: "About 1 mA in a meter's diode range."},
		{Name: "temperature", Label: "Temperature of the junction", Kind: quantity.Temperature, Default: "25 °C", Low: "-55 °C", High: "175 °C"},
		{Name: "other-temperature", Label: "And at", Kind: quantity.Temperature, Default: "100 °C", Low: "-55 °C", High: "175 °C"},
	},
	Outputs: []calc.Output{
		{Name: "drop", Label: "Forward voltage", Kind: quantity.Voltage, Main: true},
		{Name: "other-drop", Label: "At the other temperature", Kind: quantity.Voltage, Main: true},
		{Name: "slope", Label: "Change per kelvin", Kind: quantity.TempCo, Unit: "mV/K", Help: "The mean between the two temperatures."},
		{Name: "rule-off", Label: "The rule of −2 mV/K is too steep by", Kind: quantity.Percent, Help: "Below zero it is not steep enough."},
		{Name: "power", Label: "Heat in the junction", Kind: quantity.Power},
		{Name: "differential", Label: "Ohms to a small change", Kind: quantity.Resistance},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>V</mi><mo>=</mo><mi>n</mi><mfrac><mrow><mi>k</mi><mi>T</mi></mrow><mi>q</mi></mfrac><mi>ln</mi><mo>(</mo><mn>1</mn><mo>+</mo>` +
		`<mfrac><mi>I</mi><mrow><msub><mi>I</mi><mi>s</mi></msub><mo>(</mo><mi>T</mi><mo>)</mo></mrow></mfrac><mo>)</mo><mo>+</mo><mi>I</mi><msub><mi>R</mi><mi>s</mi></msub></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Volts across a diode in use are read with the circuit live: clip on dead, hands out, read. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Care, Text: "A rectifier in use may be hot enough to burn."},
	},
	Example: calc.Example{
		Says:   "A rectifier diode carries 1 A. At switching on it is at 25 °C, after an hour at 100 °C.",
		Inputs: []calc.Setting{{Name: "kind", Value: "rectifier"}, {Name: "current", Value: "1 A"}},
		Prints: []calc.Setting{{Name: "drop", Value: "963 mV"}, {Name: "other-drop", Value: "896 mV"}, {Name: "slope", Value: "-0.895 mV/K"}},
	},
	Onward: []calc.Onward{{Calculator: "heat-path", Says: "How hot does that heat make it?", Takes: []calc.Take{{From: "power", To: "power"}}}},
	Plots: []calc.Plot{
		{Name: "temperature", Title: "Forward voltage against temperature",
			Says: "At constant current the volts fall nearly in a straight line as the junction warms.", Chart: overTemperature},
		{Name: "current", Title: "Forward voltage against current",
			Says: "The volts rise steeply at first and then slowly; the dashed curve is the other temperature.", Chart: overCurrent},
	},
}

// part is a kind of diode with what it usually carries (A) and what its junction usually stands (°C).
type part struct {
	diode.Model
	most, hottest float64
}

// parts by kind; their models have one home, which the rectifiers use too.
var parts = map[string]part{
	"rectifier":    {diode.Models["rectifier"], 1, 175},
	"small-signal": {diode.Models["small-signal"], 0.2, 175},
	"transistor":   {diode.Models["transistor"], 0.02, 150},
	"schottky":     {diode.Models["schottky"], 1, 125},
	"germanium":    {diode.Models["germanium"], 0.03, 85},
}

// rule of thumb in V/K.
const rule = -2e-3

func run(in calc.In, out *calc.Out) error {
	m := parts[in.Word("kind")]
	i, t1, t2 := in.Num("current"), in.Num("temperature"), in.Num("other-temperature")
	v1, v2 := m.Volts(i, t1), m.Volts(i, t2)
	out.Set("drop", v1)
	out.Set("other-drop", v2)
	slope := m.Slope(i, t1)
	if math.Abs(t2-t1) > 1e-3 {
		slope = (v2 - v1) / (t2 - t1)
	}
	out.Set("slope", slope)
	if slope < -1e-5 {
		out.Set("rule-off", rule/slope-1)
	}
	out.Set("power", v1*i)
	out.Set("differential", m.Differential(i, t1))
	if i > m.most*(1+1e-9) {
		out.Note("More than the " + quantity.Of(quantity.Current, m.most).Text() + " that such a part usually carries; a larger one drops less than computed here.")
	}
	if math.Max(t1, t2) > m.hottest {
		out.Note("Hotter than the " + quantity.Of(quantity.Temperature, m.hottest).Text() + " that such a junction usually stands.")
	}
	return nil
}

func overTemperature(in calc.In) (draw.Chart, error) {
	m, i := parts[in.Word("kind")], in.Num("current")
	s := draw.Series{}
	for c := -55.0; c <= m.hottest; c += 5 {
		s.X, s.Y = append(s.X, c), append(s.Y, m.Volts(i, c))
	}
	c := draw.Chart{X: draw.Axis{Label: "junction", Unit: "°C"}, Y: draw.Axis{Label: "forward", Unit: "V"}, Series: []draw.Series{s}}
	for _, t := range []float64{in.Num("temperature"), in.Num("other-temperature")} {
		c.Marks = append(c.Marks, draw.Mark{X: t, Y: m.Volts(i, t)})
	}
	return c, nil
}

func overCurrent(in calc.In) (draw.Chart, error) {
	m, end := parts[in.Word("kind")], 2*in.Num("current")
	unit, factor := "A", 1.0
	switch {
	case end < 2e-6:
		unit, factor = "nA", 1e-9
	case end < 2e-3:
		unit, factor = "µA", 1e-6
	case end < 2:
		unit, factor = "mA", 1e-3
	}
	one, other := draw.Series{Name: "this temperature"}, draw.Series{Name: "the other", Dashed: true}
	for k := 0; k <= 80; k++ {
		x := float64(k) / 80
		i := end * x * x // closer at the steep start
		one.X, one.Y = append(one.X, i/factor), append(one.Y, m.Volts(i, in.Num("temperature")))
		other.X, other.Y = append(other.X, i/factor), append(other.Y, m.Volts(i, in.Num("other-temperature")))
	}
	i := in.Num("current")
	return draw.Chart{X: draw.Axis{Label: "current", Unit: unit}, Y: draw.Axis{Label: "forward", Unit: "V"}, Series: []draw.Series{one, other},
		Marks: []draw.Mark{{X: i / factor, Y: m.Volts(i, in.Num("temperature"))}}}, nil
}
