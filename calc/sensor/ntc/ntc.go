package ntc

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator turns the ohms of a thermistor into its temperature and back.
var Calculator = &calc.Calculator{
	Name:  "ntc",
	Title: "NTC thermistor: ohms and temperature",
	For:   "Gives the temperature of an NTC thermistor from its ohms, and the ohms it should read at a temperature.",
	Shelf: "sensor",
	Inputs: []calc.Input{
		{Name: "law", Label: "Known by", Default: "b-value", Choices: []calc.Choice{{Name: "b-value", Label: "B value"}, {Name: "steinhart-hart", Label: "Steinhart-Hart, 10 kΩ type 3"}}},
		{Name: "reading", Label: "Reading", Kind: quantity.Resistance, Or: []quantity.Kind{quantity.Temperature}, Default: "5 kΩ", Low: "1 mΩ", High: "1 GΩ",
			Help: "Ohms as measured, or a temperature to see what it should read."},
		{Name: "ohms-25", Label: "Ohms at 25 °C", Kind: quantity.Resistance, Default: "10 kΩ", Low: "0.1 Ω", High: "10 MΩ", Help: "As marked. Steinhart-Hart scales with it."},
		{Name: "b", Label: "B value in kelvin", Kind: quantity.Rise, Default: "3950 K", Low: "1500 K", High: "7000 K", Help: "From the data sheet, often B25/85."},
		{Name: "current", Label: "Measuring current", Kind: quantity.Current, Default: "0.1 mA", Low: "0 A", High: "1 A", Help: "To see how far the part warms itself."},
	},
	Outputs: []calc.Output{
		{Name: "temperature", Label: "Temperature", Kind: quantity.Temperature, Unit: "°C", Main: true},
		{Name: "resistance", Label: "Ohms", Kind: quantity.Resistance, Main: true},
		{Name: "per-kelvin", Label: "Change for each kelvin", Kind: quantity.Percent},
		{Name: "self-heating", Label: "Warms itself by about", Kind: quantity.Rise, Help: "In still air at 1 mW for each kelvin."},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>R</mi><mo>=</mo><msub><mi>R</mi><mn>25</mn></msub><msup><mi>e</mi><mrow><mi>B</mi><mo>(</mo><mfrac><mn>1</mn><mi>T</mi></mfrac><mo>−</mo>` +
		`<mfrac><mn>1</mn><mrow><mn>298.15</mn><mtext> K</mtext></mrow></mfrac><mo>)</mo></mrow></msup></math>`,
	Cautions: []calc.Caution{{Signal: calc.Care, Text: "Measure it out of circuit and unpowered; an inrush limiter stays hot enough to burn for a minute. Follow your local code; licensed people where the law says so."}},
	Example: calc.Example{
		Says:   "A 10 kΩ thermistor with B 3950 reads 5 kΩ.",
		Inputs: []calc.Setting{{Name: "reading", Value: "5 kΩ"}},
		Prints: []calc.Setting{{Name: "temperature", Value: "41.5 °C"}},
	},
	Plots: []calc.Plot{{Name: "curve", Title: "Ohms over temperature, in tenfold steps", Says: "The ohms fall steeply, by about four per cent for each kelvin at room temperature; the dot is this reading.", Chart: chart}},
}

const (
	zero = 273.15
	room = 298.15
	// Steinhart-Hart coefficients of the 10 kΩ type 3 curve; source in the
	// package comment.
	shA, shB, shC = 1.129241e-3, 2.341077e-4, 8.775468e-8
	perKelvin     = 1e-3 // watts that warm a bead in still air by a kelvin; from memory
	lowest        = -100.0
	highest       = 400.0
)

// law gives ohms at °C, and back.
type law struct {
	steinhart bool
	r25, b    float64
}

func (l law) temperature(ohms float64) float64 {
	if l.steinhart {
		x := math.Log(ohms / l.r25 * 1e4)
		return 1/(shA+float64(shB*x)+float64(shC*x*x*x)) - zero
	}
	return 1/(1/room+float64(math.Log(ohms/l.r25)/l.b)) - zero
}

func (l law) ohms(t float64) float64 {
	if l.steinhart {
		// the cubic falls as the ohms rise: halve in the logarithm
		low, high := -10.0, 40.0
		for range 200 {
			middle := (low + high) / 2
			if shA+float64(shB*middle)+float64(shC*middle*middle*middle) < 1/(t+zero) {
				low = middle
			} else {
				high = middle
			}
		}
		return math.Exp((low+high)/2) / 1e4 * l.r25
	}
	return l.r25 * math.Exp(l.b*(1/(t+zero)-1/room))
}

func of(in calc.In) law {
	return law{in.Word("law") == "steinhart-hart", in.Num("ohms-25"), in.Num("b")}
}

func run(in calc.In, out *calc.Out) error {
	l := of(in)
	v := in.Value("reading")
	t, r := v.Num, v.Num
	if v.Kind == quantity.Temperature {
		if t < lowest || t > highest {
			return calc.Bad("reading", "Reading: a thermistor works between −100 and 400 °C at most")
		}
		r = l.ohms(t)
	} else {
		t = l.temperature(r)
		if !(t >= lowest && t <= highest) {
			return calc.Bad("reading", "Reading: "+v.Text()+" is outside what such a thermistor reads between −100 and 400 °C; it is open or shorted, or another type")
		}
	}
	out.Set("temperature", t)
	out.Set("resistance", r)
	out.Set("per-kelvin", l.ohms(t+.5)/r-l.ohms(t-.5)/r)
	i := in.Num("current")
	out.Set("self-heating", i*i*r/perKelvin)
	if i*i*r/perKelvin > 1 {
		out.Note("The measuring current warms the part by more than a kelvin: measure with less.")
	}
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	l := of(in)
	v := in.Value("reading")
	t := v.Num
	if v.Kind != quantity.Temperature {
		t = l.temperature(v.Num)
	}
	from, to := math.Max(math.Min(-20, t-10), lowest), math.Min(math.Max(100, t+10), highest)
	s := draw.Series{}
	for i := range 101 {
		x := from + (to-from)*float64(i)/100
		s.X, s.Y = append(s.X, x), append(s.Y, math.Log10(l.ohms(x)))
	}
	return draw.Chart{X: draw.Axis{Label: "temperature", Unit: "°C"}, Y: draw.Axis{Label: "ohms, power of ten"}, Series: []draw.Series{s}, Marks: []draw.Mark{{X: t, Y: math.Log10(l.ohms(t))}}}, nil
}
