package thermocouple

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

// Calculator turns a thermocouple's millivolts into its temperature and back.
var Calculator = &calc.Calculator{
	Name:    "thermocouple",
	Title:   "Thermocouple: millivolts and temperature",
	For:     "Gives the temperature of a thermocouple from its millivolts with the terminals' temperature, and the millivolts it should give.",
	Shelf:   "sensor",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "type", Label: "Type", Default: "K", Choices: []calc.Choice{{Name: "K", Label: "K, nickel-chromium and nickel-aluminium"}, {Name: "J", Label: "J, iron and copper-nickel"}, {Name: "T", Label: "T, copper and copper-nickel"},
			{Name: "E", Label: "E, nickel-chromium and copper-nickel"}, {Name: "N", Label: "N, nicrosil and nisil"}}},
		{Name: "reading", Label: "Reading", Reading: true, Kind: quantity.Voltage, Or: []quantity.Kind{quantity.Temperature}, Default: "10.000 mV", Low: "-10 mV", High: "80 mV",
			Help: "Millivolts as measured at the terminals, or a temperature to see what it should give."},
		{Name: "terminals", Label: "Temperature of the terminals", Kind: quantity.Temperature, Default: "25 °C", Low: "-40 °C", High: "120 °C", Help: "Where the couple's wire ends in copper."},
	},
	Outputs: []calc.Output{
		{Name: "temperature", Label: "Temperature", Kind: quantity.Temperature, Unit: "°C", Main: true},
		{Name: "millivolts", Label: "At the terminals", Kind: quantity.Voltage, Unit: "mV", Digits: 5, Main: true},
		{Name: "reference", Label: "With the terminals at 0 °C", Kind: quantity.Voltage, Unit: "mV", Digits: 5},
		{Name: "added", Label: "If the temperatures were just added", Kind: quantity.Temperature, Unit: "°C", Help: "A common mistake."},
		{Name: "class-1", Label: "Class 1 may be off by", Kind: quantity.Rise, Digits: 4},
		{Name: "class-2", Label: "Class 2 may be off by", Kind: quantity.Rise, Digits: 4},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>E</mi><mo>(</mo><mi>t</mi><mo>)</mo><mo>=</mo><msub><mi>E</mi><mtext>measured</mtext></msub><mo>+</mo><mi>E</mi><mo>(</mo>` +
		`<msub><mi>t</mi><mtext>terminals</mtext></msub><mo>)</mo></math>`,
	Cautions: []calc.Caution{{Signal: calc.Warning, Text: "A couple's tip may touch a live heater: unplug, and measure to the housing before the meter's lead goes on. Follow your local code; licensed people where the law says so."}},
	Example: calc.Example{
		Says:   "A type K reads 10.000 mV, its terminals are at 25 °C.",
		Inputs: []calc.Setting{{Name: "reading", Value: "10.000 mV"}, {Name: "terminals", Value: "25 °C"}},
		Prints: []calc.Setting{{Name: "temperature", Value: "270.7 °C"}, {Name: "added", Value: "271.2 °C"}},
	},
	Plots: []calc.Plot{{Name: "curve", Title: "Millivolts over temperature", Says: "The millivolts rise a little faster than straight; the dot is this reading.", Chart: chart}},
}

// millivolts of a couple at t with its other end at 0 °C.
func millivolts(kind string, t float64) float64 {
	pieces := tables[kind]
	p := pieces[0]
	for _, q := range pieces {
		if t >= q.from {
			p = q
		}
	}
	sum := 0.0
	for i := len(p.c) - 1; i >= 0; i-- {
		sum = float64(sum*t) + p.c[i]
	}
	if p.gauss {
		d := t - gauss2
		sum += float64(gauss0 * math.Exp(gauss1*d*d))
	}
	return sum
}

// bounds of a type's reference functions.
func bounds(kind string) (low, high float64) {
	pieces := tables[kind]
	return pieces[0].from, pieces[len(pieces)-1].to
}

// temperature inverts millivolts; ok is false outside the type's
// range.
func temperature(kind string, mv float64) (t float64, ok bool) {
	low, high := bounds(kind)
	if mv < millivolts(kind, low) || mv > millivolts(kind, high) {
		return 0, false
	}
	return root.Between(low, high, func(t float64) float64 { return millivolts(kind, t) - mv }), true
}

func run(in calc.In, out *calc.Out) error {
	kind := in.Word("type")
	v := in.Value("reading")
	end := millivolts(kind, in.Num("terminals"))
	low, high := bounds(kind)
	t := v.Num
	if v.Kind == quantity.Temperature {
		if t < low || t > high {
			return calc.Bad("reading", "Reading: type "+kind+" is defined between "+quantity.Of(quantity.Temperature, low).Text()+" and "+quantity.Of(quantity.Temperature, high).Text())
		}
	} else {
		var ok bool
		if t, ok = temperature(kind, v.Num*1e3+end); !ok {
			return calc.Bad("reading", "Reading: no temperature of type "+kind+" gives this; look for another type, a break or reversed wires")
		}
		if alone, ok := temperature(kind, v.Num*1e3); ok {
			out.Set("added", alone+in.Num("terminals"))
		}
	}
	e := millivolts(kind, t)
	out.Set("temperature", t)
	out.Set("millivolts", (e-end)/1e3)
	out.Set("reference", e/1e3)
	for i, name := range []string{"class-1", "class-2"} {
		if c := classes[kind][i]; t >= c.from && t <= c.to {
			out.Set(name, math.Max(c.fixed, c.share*math.Abs(t)))
		}
	}
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	kind := in.Word("type")
	low, high := bounds(kind)
	s := draw.Series{}
	for i := range 121 {
		t := low + (high-low)*float64(i)/120
		s.X, s.Y = append(s.X, t), append(s.Y, millivolts(kind, t))
	}
	c := draw.Chart{X: draw.Axis{Label: "temperature", Unit: "°C"}, Y: draw.Axis{Label: "terminals at 0 °C", Unit: "mV"}, Series: []draw.Series{s}}
	v := in.Value("reading")
	t := v.Num
	if v.Kind != quantity.Temperature {
		var ok bool
		if t, ok = temperature(kind, v.Num*1e3+millivolts(kind, in.Num("terminals"))); !ok {
			return c, nil
		}
	}
	c.Marks = []draw.Mark{{X: t, Y: millivolts(kind, t)}}
	return c, nil
}
