package pt100

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

// Calculator turns the ohms of a platinum sensor into its temperature and back.
var Calculator = &calc.Calculator{
	Name:    "pt100",
	Title:   "Platinum sensor: ohms and temperature",
	For:     "Gives the temperature of a Pt100 or Pt1000 from its ohms, and the ohms it should read at a temperature.",
	Shelf:   "sensor",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "sensor", Label: "Sensor", Default: "pt100", Choices: []calc.Choice{{Name: "pt100", Label: "Pt100"}, {Name: "pt500", Label: "Pt500"}, {Name: "pt1000", Label: "Pt1000"}}},
		{Name: "reading", Label: "Reading", Reading: true, Kind: quantity.Resistance, Or: []quantity.Kind{quantity.Temperature}, Default: "109.7 Ω", Low: "0 Ω", High: "1 MΩ",
			Help: "Ohms as measured, or a temperature to see what it should read."},
		{Name: "leads", Label: "Ohms of the leads", Kind: quantity.Resistance, Default: "0 Ω", Low: "0 Ω", High: "100 Ω", Help: "Both wires shorted together at the sensor; 0 for three or four wires."},
	},
	Outputs: []calc.Output{
		{Name: "temperature", Label: "Temperature", Kind: quantity.Temperature, Unit: "°C", Main: true},
		{Name: "resistance", Label: "Ohms of the sensor", Kind: quantity.Resistance, Digits: 5, Main: true},
		{Name: "at-meter", Label: "Ohms at the meter, leads included", Kind: quantity.Resistance, Digits: 5},
		{Name: "class-a", Label: "Class A may be off by", Kind: quantity.Rise, Digits: 4},
		{Name: "class-b", Label: "Class B may be off by", Kind: quantity.Rise, Digits: 4},
		{Name: "verdict", Label: "The sensor"},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>R</mi><mo>=</mo><msub><mi>R</mi><mn>0</mn></msub><mo>(</mo><mn>1</mn><mo>+</mo><mi>A</mi><mi>t</mi><mo>+</mo><mi>B</mi>` +
		`<msup><mi>t</mi><mn>2</mn></msup><mo>)</mo></math>`,
	Cautions: []calc.Caution{{Signal: calc.Care, Text: "Take the sensor off its device before measuring: a meter on a live input reads nonsense, and hot parts burn. Follow your local code; licensed people where the law says so."}},
	Example: calc.Example{
		Says:   "A Pt100 reads 93 Ω: it is at −17.9 °C, or its lead has a shunt.",
		Inputs: []calc.Setting{{Name: "reading", Value: "93.00 Ω"}},
		Prints: []calc.Setting{{Name: "temperature", Value: "-17.9 °C"}},
	},
	Plots: []calc.Plot{{Name: "curve", Title: "Ohms over temperature", Says: "The ohms rise nearly straight, 0.385 Ω per kelvin at first and less further up; the dot is this reading.", Chart: chart}},
}

// Coefficients of IEC 60751.
const (
	a, b, c = 3.9083e-3, -5.775e-7, -4.183e-12
	lowest  = -200.0
	highest = 850.0
)

var sizes = map[string]float64{"pt100": 100, "pt500": 500, "pt1000": 1000}

// ratio is R/R₀ at t.
func ratio(t float64) float64 {
	r := 1 + float64(a*t) + float64(b*t*t)
	if t < 0 {
		r += float64(c * (t - 100) * t * t * t)
	}
	return r
}

// temperature inverts ratio: the curve only rises.
func temperature(r float64) float64 {
	return root.Between(lowest-60, highest+100, func(t float64) float64 { return ratio(t) - r })
}

// judge says what a resistance over R₀ means.
func judge(x float64) (word, says string) {
	switch {
	case x < ratio(lowest):
		return "shorted", "Shorted, or wet: no temperature of its range reads so low."
	case x > ratio(highest):
		return "open", "Open: no temperature of its range reads so high."
	}
	return "plausible", "Plausible for a sensor at this temperature; compare with a thermometer you trust before you believe it."
}

func run(in calc.In, out *calc.Out) error {
	r0 := sizes[in.Word("sensor")]
	leads := in.Num("leads")
	if r := in.Reading("reading"); !r.Bounded() {
		word, says := in.Judge("reading", func(ohms float64) (string, string) { return judge((ohms - leads) / r0) })
		out.Say("verdict", word, says)
		return nil
	}
	v := in.Value("reading")
	var t, r float64
	if v.Kind == quantity.Temperature {
		if t = v.Num; t < lowest || t > highest {
			return calc.Bad("reading", "Reading: the standard covers −200 to 850 °C")
		}
		r = r0 * ratio(t)
	} else {
		r = v.Num - leads
		if r <= 0 {
			return calc.Bad("reading", "Reading: it is not above the ohms of the leads, so nothing is left for the sensor; that is a short")
		}
		if word, says := judge(r / r0); word != "plausible" {
			out.Set("resistance", r)
			out.Set("at-meter", v.Num)
			out.Say("verdict", word, says)
			return nil
		}
		t = temperature(r / r0)
	}
	out.Set("temperature", t)
	out.Set("resistance", r)
	out.Set("at-meter", r+leads)
	out.Set("class-a", .15+float64(.002*math.Abs(t)))
	out.Set("class-b", .3+float64(.005*math.Abs(t)))
	word, says := judge(r / r0)
	out.Say("verdict", word, says)
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	r0 := sizes[in.Word("sensor")]
	s := draw.Series{}
	for t := lowest; t <= highest; t += 10 {
		s.X, s.Y = append(s.X, t), append(s.Y, r0*ratio(t))
	}
	ch := draw.Chart{X: draw.Axis{Label: "temperature", Unit: "°C"}, Y: draw.Axis{Label: "sensor", Unit: "Ω"}, Series: []draw.Series{s}}
	v := in.Value("reading")
	t := v.Num
	if v.Kind != quantity.Temperature {
		x := (v.Num - in.Num("leads")) / r0
		if x < ratio(lowest) || x > ratio(highest) {
			return ch, nil
		}
		t = temperature(x)
	}
	ch.Marks = []draw.Mark{{X: t, Y: r0 * ratio(t)}}
	return ch, nil
}
