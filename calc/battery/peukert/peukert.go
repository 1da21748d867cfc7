package peukert

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives the time a battery runs a load.
var Calculator = &calc.Calculator{
	Name:    "run-time",
	Title:   "How long a battery lasts",
	For:     "Tells how long a battery runs a load in amperes or watts, with the time its capacity was rated at.",
	Shelf:   "battery",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "capacity", Label: "Rated capacity", Kind: quantity.Charge, Default: "100 Ah", Low: "10 mAh", High: "5000 Ah"},
		{Name: "rating", Label: "Rated over", Kind: quantity.Duration, Default: "20 h", Low: "3 min", High: "240 h", Help: "20 h for most lead-acid, 5 h for NiMH and lithium; printed as C20, C5."},
		{Name: "load", Label: "Load", Kind: quantity.Current, Or: []quantity.Kind{quantity.Power}, Default: "25 A", Low: "1 mA", High: "5000 A",
			Help: "In amperes, or in watts for a load that takes constant power, such as an inverter."},
		{Name: "volts", Label: "Mean voltage under load", Kind: quantity.Voltage, Default: "12 V", Low: "0.8 V", High: "120 V", Help: "For a load in watts, and for the energy."},
		{Name: "efficiency", Label: "Efficiency of the inverter or converter", Kind: quantity.Percent, Default: "100 %", Low: "20 %", High: "100 %", Help: "For a load in watts: what of the battery's power reaches it."},
		{Name: "exponent", Label: "Peukert's exponent", Kind: quantity.Ratio, Default: "1.2", Low: "1", High: "2", Help: "Taken from the second rating instead where that is given."},
		{Name: "second-capacity", Label: "A second rated capacity", Kind: quantity.Charge, Optional: true, Low: "10 mAh", High: "5000 Ah", Help: "From the same data sheet."},
		{Name: "second-rating", Label: "Rated over", Kind: quantity.Duration, Optional: true, Low: "1 min", High: "240 h"},
		{Name: "usable", Label: "Share that may be used", Kind: quantity.Percent, Default: "100 %", Low: "5 %", High: "100 %", Help: "Half for a long life of lead-acid; less for age and cold."},
	},
	Outputs: []calc.Output{
		{Name: "time", Label: "Lasts", Kind: quantity.Duration, Main: true},
		{Name: "delivered", Label: "Charge it delivers", Kind: quantity.Charge, Main: true},
		{Name: "current", Label: "Current", Kind: quantity.Current},
		{Name: "energy", Label: "Energy it delivers", Kind: quantity.Energy, Unit: "Wh"},
		{Name: "used-exponent", Label: "Exponent used", Kind: quantity.Ratio},
		{Name: "plain", Label: "Capacity over current, without the rule", Kind: quantity.Duration, Help: "Too long above the rated current."},
		{Name: "short-form", Label: "By the short form C/I^k, which misleads", Kind: quantity.Duration, Help: "Printed here and there; right only for a capacity rated at 1 A."},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>t</mi><mo>=</mo><mi>H</mi><msup><mrow><mo>(</mo><mfrac><mi>C</mi><mrow><mi>I</mi><mi>H</mi></mrow></mfrac><mo>)</mo></mrow>` +
		`<mi>k</mi></msup></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "A battery drives hundreds of amperes into a short: fuse at its terminal, no rings, tools insulated. Stop at the lowest volts: a cell driven into reverse may burst. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A 100 Ah lead-acid battery, rated over 20 h, with k = 1.2 and a load of 25 A.",
		Inputs: []calc.Setting{{Name: "load", Value: "25 A"}},
		Prints: []calc.Setting{{Name: "time", Value: "2 h 54 min"}, {Name: "delivered", Value: "72.5 Ah"}, {Name: "plain", Value: "4 h"}},
	},
	Plots: []calc.Plot{{Name: "delivered", Title: "Charge delivered against current",
		Says: "The charge a battery delivers falls as the current rises, steeply at first; the dot is this load, the level the rated capacity.", Chart: chart}},
	Onward: []calc.Onward{{Calculator: "charge-time", Says: "How long does it take to charge again?", Takes: []calc.Take{{From: "capacity", To: "capacity"}}}},
}

const hour = 3600.0

// lasts is the time in s at i amperes of a battery of c coulombs rated over h seconds.
func lasts(c, h, i, k float64) float64 { return h * math.Pow(c/(i*h), k) }

// exponentOf is k from two ratings (coulombs and seconds each).
func exponentOf(c1, h1, c2, h2 float64) float64 {
	return math.Log(h1/h2) / math.Log((c2/h2)/(c1/h1))
}

// shortForm is C/I^k with C in ampere-hours and I in amperes; the result in s.
func shortForm(c, i, k float64) float64 { return c / math.Pow(i, k) }

// exponent finds the exponent to use.
func exponent(in calc.In) (float64, error) {
	if !in.Has("second-capacity") && !in.Has("second-rating") {
		return in.Num("exponent"), nil
	}
	if !in.Has("second-capacity") || !in.Has("second-rating") {
		name := "second-capacity"
		if in.Has(name) {
			name = "second-rating"
		}
		return 0, calc.Bad(name, "A second rating needs both its capacity and its time; give the other one too, or leave both empty")
	}
	c1, h1, c2, h2 := in.Num("capacity"), in.Num("rating"), in.Num("second-capacity"), in.Num("second-rating")
	if math.Abs(h1-h2) < 1e-6*h1 {
		return 0, calc.Bad("second-rating", "A second rating over the same time says nothing new; take one over a much longer or shorter time")
	}
	k := exponentOf(c1, h1, c2, h2)
	if !(k >= 1-1e-9 && k <= 2) {
		return 0, calc.Bad("second-capacity", "These two ratings do not belong to one battery: the longer time must have the larger capacity, and not by so much that k passes 2")
	}
	return math.Max(k, 1), nil
}

// current is what the load draws from the battery, in A.
func current(in calc.In) float64 {
	if load := in.Value("load"); load.Kind == quantity.Power {
		return load.Num / (in.Num("efficiency") * in.Num("volts"))
	}
	return in.Num("load")
}

func run(in calc.In, out *calc.Out) error {
	k, err := exponent(in)
	if err != nil {
		return err
	}
	i := current(in)
	c, h := in.Num("capacity"), in.Num("rating")
	if !(i > 0) {
		return calc.Bad("load", "Load: it must be above zero, like 5 A or 60 W")
	}
	if i*hour/c > 50 {
		return calc.Bad("load", "Load: "+quantity.Of(quantity.Current, i).Text()+" would empty "+quantity.Of(quantity.Charge, c).Text()+" within a minute; no rule holds there")
	}
	share := in.Num("usable")
	t := share * lasts(c, h, i, k)
	out.Set("time", t)
	out.Set("delivered", t*i)
	out.Set("current", i)
	out.Set("energy", t*i*in.Num("volts"))
	out.Set("used-exponent", k)
	out.Set("plain", share*c/i)
	out.Set("short-form", share*shortForm(c, i, k))
	switch rated := c / h; {
	case i < rated*(1-1e-9):
		out.Note("Below the rated current of " + quantity.Of(quantity.Current, rated).Text() + " the rule promises more than the mark; count on " + quantity.Of(quantity.Duration, share*c/i).Text() + ".")
	case i > 20*rated:
		out.Note("More than twenty times the rated current: the rule is far from where it was fitted; look for the maker's table.")
	}
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	k, err := exponent(in)
	if err != nil {
		return draw.Chart{}, err
	}
	c, h, i := in.Num("capacity"), in.Num("rating"), current(in)
	if !(i > 0) {
		return draw.Chart{}, calc.Bad("load", "Load: it must be above zero, like 5 A or 60 W")
	}
	share := in.Num("usable")
	end := math.Max(1.5*i, 10*c/h)
	s := draw.Series{}
	for n := 0; n <= 100; n++ {
		x := c/h + float64((end-c/h)*float64(n)/100)
		s.X, s.Y = append(s.X, x), append(s.Y, share*lasts(c, h, x, k)*x/hour)
	}
	return draw.Chart{X: draw.Axis{Label: "current", Unit: "A"}, Y: draw.Axis{Label: "delivered", Unit: "Ah"}, Series: []draw.Series{s},
		Marks: []draw.Mark{{Y: share * c / hour, Name: "rated", Level: true}, {X: i, Y: share * lasts(c, h, i, k) * i / hour}}}, nil
}
