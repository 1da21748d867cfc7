package ntc

import (
	_ "embed"
	"math"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
	"faultleaf/calc/root"
)

//go:embed doc.go
var doc string

// Calculator turns the ohms of a thermistor into its temperature and back.
var Calculator = &calc.Calculator{
	Name:    "ntc",
	Title:   "NTC thermistor: ohms and temperature",
	For:     "Gives the temperature of an NTC thermistor from its ohms, and the ohms it should read at a temperature.",
	Shelf:   "sensor",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "law", Label: "Known by", Default: "b-value", Choices: []calc.Choice{{Name: "b-value", Label: "B value"}, {Name: "steinhart-hart", Label: "Steinhart-Hart"}}},
		{Name: "reading", Label: "Reading", Reading: true, Kind: quantity.Resistance, Or: []quantity.Kind{quantity.Temperature}, Default: "5 kΩ", Low: "1 mΩ", High: "1 GΩ",
			Help: "Ohms as measured, or a temperature to see what it should read."},
		{Name: "ohms-25", Label: "Ohms at 25 °C", Kind: quantity.Resistance, Default: "10 kΩ", Low: "0.1 Ω", High: "10 MΩ", Help: "As marked. The curve of type 3 scales with it; coefficients of your own hold as they are."},
		{Name: "b", Label: "B value in kelvin", Kind: quantity.Rise, Default: "3950 K", Low: "1500 K", High: "7000 K", Help: "From the data sheet, often B25/85."},
		{Name: "coefficients", Label: "Steinhart-Hart A, B and C", Folded: true, Text: []string{"1.129241e-3 2.341077e-4 8.775468e-8", "1.009249522e-3; 2.378405444e-4; 2.019202697e-7"}, Optional: true,
			Help: "Of the part in hand, for ohms. Leave empty for the curve of a 10 kΩ type 3."},
		{Name: "current", Label: "Measuring current", Folded: true, Kind: quantity.Current, Default: "0.1 mA", Low: "0 A", High: "1 A", Help: "To see how far the part warms itself."},
	},
	Outputs: []calc.Output{
		{Name: "temperature", Label: "Temperature", Kind: quantity.Temperature, Unit: "°C", Main: true},
		{Name: "resistance", Label: "Ohms", Kind: quantity.Resistance, Main: true},
		{Name: "verdict", Label: "The part"},
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
	coldest       = -55.0 // of the places such a part works in, and hottest: data sheets, from memory
	hottest       = 300.0
	highest       = 400.0
)

// law gives ohms at °C, and back.
type law struct {
	steinhart bool
	r25, b    float64
	own       *[3]float64 // Steinhart-Hart coefficients of the part in hand, for ohms; nil for type 3
}

// curve gives the coefficients and the ohms by which they are scaled.
func (l law) curve() (a, b, c, scale float64) {
	if l.own != nil {
		return l.own[0], l.own[1], l.own[2], 1
	}
	return shA, shB, shC, l.r25 / 1e4
}

func (l law) temperature(ohms float64) float64 {
	if l.steinhart {
		a, b, c, scale := l.curve()
		x := math.Log(ohms / scale)
		return 1/(a+float64(b*x)+float64(c*x*x*x)) - zero
	}
	return 1/(1/room+float64(math.Log(ohms/l.r25)/l.b)) - zero
}

func (l law) ohms(t float64) float64 {
	if l.steinhart {
		// sought in the logarithm, in which the cubic only rises
		a, b, c, scale := l.curve()
		x := root.Between(-10, 40, func(x float64) float64 {
			return a + float64(b*x) + float64(c*x*x*x) - 1/(t+zero)
		})
		return math.Exp(x) * scale
	}
	return l.r25 * math.Exp(l.b*(1/(t+zero)-1/room))
}

func of(in calc.In) (law, error) {
	l := law{steinhart: in.Word("law") == "steinhart-hart", r25: in.Num("ohms-25"), b: in.Num("b")}
	var err error
	if in.Has("coefficients") {
		l.own, err = coefficients(in.Word("coefficients"))
	}
	return l, err
}

// coefficients reads A, B and C, parted by blanks, semicolons or commas with a
// blank behind.
func coefficients(text string) (*[3]float64, error) {
	const wrong = "Steinhart-Hart A, B and C: write three numbers such as 1.129241e-3 2.341077e-4 8.775468e-8, the second above 0 and the third not below"
	fields := strings.Fields(strings.NewReplacer(", ", " ", ";", " ").Replace(text))
	if len(fields) != 3 {
		return nil, calc.Bad("coefficients", wrong)
	}
	var abc [3]float64
	for i, f := range fields {
		v, err := quantity.Parse(quantity.Count, f)
		if err != nil || math.Abs(v.Num) > 0.1 {
			return nil, calc.Bad("coefficients", wrong)
		}
		abc[i] = v.Num
	}
	if abc[1] < 1e-6 || abc[2] < 0 {
		return nil, calc.Bad("coefficients", wrong)
	}
	return &abc, nil
}

func run(in calc.In, out *calc.Out) error {
	l, err := of(in)
	if err != nil {
		return err
	}
	if r := in.Reading("reading"); !r.Bounded() {
		word, says := in.Judge("reading", func(ohms float64) (string, string) {
			switch {
			case ohms > l.ohms(coldest):
				return "open", "Open, or colder than any place it is used in: a cracked bead, a broken lead, a plug off. Warm it while you watch."
			case ohms < l.ohms(hottest):
				return "shorted", "Shorted, or hotter than it stands: look for a bare lead or moisture."
			}
			return "reads", "It reads; take a range that shows the figure."
		})
		out.Say("verdict", word, says)
		return nil
	}
	v := in.Value("reading")
	t, r := v.Num, v.Num
	if v.Kind == quantity.Temperature {
		if t < lowest || t > highest {
			return calc.Bad("reading", "Reading: a thermistor works between −100 and 400 °C at most")
		}
		if r = l.ohms(t); !(r > 1e-6 && r < 1e12) {
			return calc.Bad("reading", "Reading: by these coefficients the part would have no ordinary ohms at "+v.Text()+"; look for a slip in them")
		}
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
	if !in.Reading("reading").Bounded() {
		return draw.Chart{}, calc.Bad("reading", "Reading: a curve needs ohms or a temperature")
	}
	l, err := of(in)
	if err != nil {
		return draw.Chart{}, err
	}
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
