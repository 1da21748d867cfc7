package accuracy

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// measured lists what a meter shows, each with the word its outputs end in.
var measured = []struct {
	kind quantity.Kind
	name string
}{
	{quantity.Voltage, "volts"}, {quantity.Current, "amps"}, {quantity.Resistance, "ohms"},
	{quantity.Capacitance, "farads"}, {quantity.Frequency, "hertz"},
}

var others = []quantity.Kind{quantity.Current, quantity.Resistance, quantity.Capacitance, quantity.Frequency}

// Calculator gives the band around a reading and the verdict against limits.
var Calculator = &calc.Calculator{
	Name:  "meter-error",
	Title: "What a reading is worth",
	For:   "Tells how far off a reading may be by the meter's data, and whether it passes its limits, fails them, or cannot tell.",
	Shelf: "meter",
	Inputs: []calc.Input{
		{Name: "reading", Label: "Reading", Reading: true, Kind: quantity.Voltage, Or: others, Default: "11.85 V", Help: "In volts, amperes, ohms, farads or hertz."},
		{Name: "step", Label: "One step of the last figure", Kind: quantity.Voltage, Or: others, Default: "10 mV",
			Help: "For 11.85 V it is 0.01 V; for 4.702 kΩ it is 1 Ω."},
		{Name: "percent", Label: "Percent of the reading", Kind: quantity.Percent, Default: "0.5 %", Low: "0 %", High: "50 %", Help: "From the data sheet, for this function and range."},
		{Name: "counts", Label: "Counts (digits)", Kind: quantity.Count, Default: "3", Low: "0", High: "1000", Help: "The number after the plus."},
		{Name: "range", Label: "Range", Folded: true, Kind: quantity.Voltage, Or: others, Optional: true, Help: "Only where a percentage of the range is given."},
		{Name: "range-percent", Label: "Percent of the range", Folded: true, Kind: quantity.Percent, Default: "0 %", Low: "0 %", High: "50 %", Help: "For needle meters and bench meters."},
		{Name: "at-least", Label: "Must be at least", Kind: quantity.Voltage, Or: others, Optional: true},
		{Name: "at-most", Label: "Must be at most", Kind: quantity.Voltage, Or: others, Optional: true},
	},
	Outputs: outputs(),
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><mi>Δ</mi><mo>=</mo><mi>p</mi><mo>·</mo><mo>|</mo><mi>x</mi><mo>|</mo><mo>+</mo><mi>n</mi><mo>·</mo><mtext>step</mtext><mo>+</mo><msub><mi>p</mi><mtext>range</mtext></msub><mo>·</mo><mtext>range</mtext></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Before trusting 0 V as dead, prove the meter on a known source, test, and prove it again. A meter and leads below the category of the circuit can burst in the hand. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says: "A charger must give at least 11.8 V. The meter shows 11.85 V and is good for ±(0.5 % + 3) with a last figure of 10 mV.",
		Inputs: []calc.Setting{{Name: "reading", Value: "11.85 V"}, {Name: "step", Value: "10 mV"}, {Name: "percent", Value: "0.5 %"}, {Name: "counts", Value: "3"},
			{Name: "at-least", Value: "11.8 V"}},
		Prints: []calc.Setting{{Name: "error-volts", Value: "89.3 mV"}, {Name: "truth", Value: "The true value lies between 11.761 V and 11.939 V."},
			{Name: "verdict", Value: "Cannot tell: the limit lies inside the band of error. Take a better range or meter."}},
	},
	Plots: []calc.Plot{{Name: "share", Title: "Error as a share of the reading",
		Says: "The error is small near the top of the range and grows steeply towards the bottom, where the counts rule.", Chart: chart}},
}

func outputs() []calc.Output {
	out := []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true, Help: "Given when a limit is."},
		{Name: "truth", Label: "True value", Main: true},
		{Name: "share", Label: "Error as a share of the reading", Kind: quantity.Percent},
	}
	for _, m := range measured {
		out = append(out,
			calc.Output{Name: "error-" + m.name, Label: "Error, either way", Kind: m.kind},
			calc.Output{Name: "lowest-" + m.name, Label: "Lowest true value", Kind: m.kind, Digits: 5},
			calc.Output{Name: "highest-" + m.name, Label: "Highest true value", Kind: m.kind, Digits: 5})
	}
	return out
}

// limit is the largest error by the data sheet: a share of the reading, counts of one step
// each, and a share of the range; all amounts in the reading's base unit.
func limit(reading, percent, counts, step, rangePercent, fullScale float64) float64 {
	return float64(percent*math.Abs(reading)) + float64(counts*step) + float64(rangePercent*fullScale)
}

func of(in calc.In, reading float64) float64 {
	return limit(reading, in.Num("percent"), in.Num("counts"), in.Num("step"), in.Num("range-percent"), in.Num("range"))
}

func run(in calc.In, out *calc.Out) error {
	x := in.Value("reading")
	for _, name := range []string{"step", "range", "at-least", "at-most"} {
		if in.Has(name) && in.Value(name).Kind != x.Kind {
			return calc.Bad(name, "the reading is a "+string(x.Kind)+"; write this in the same unit")
		}
	}
	if in.Num("step") <= 0 {
		return calc.Bad("step", "One step of the last figure: it must be more than nothing, for instance 0.01 V where the meter shows 11.85 V")
	}
	if in.Num("range-percent") > 0 && !in.Has("range") {
		return calc.Bad("range", "Range: it is needed for a percentage of the range, for instance 20 V")
	}
	if in.Has("range") && in.Num("range") <= 0 {
		return calc.Bad("range", "Range: it must be more than nothing, for instance 20 V")
	}
	if in.Has("at-least") && in.Has("at-most") && in.Num("at-least") > in.Num("at-most") {
		return calc.Bad("at-least", "Must be at least: it lies above “must be at most”; exchange the two")
	}
	off := of(in, x.Num)
	low, high := x.Num-off, x.Num+off
	for _, m := range measured {
		if m.kind == x.Kind {
			out.Set("error-"+m.name, off)
			out.Set("lowest-"+m.name, low)
			out.Set("highest-"+m.name, high)
		}
	}
	if x.Num != 0 {
		out.Set("share", off/math.Abs(x.Num))
	}
	out.Say("truth", "between", "The true value lies between "+show(x, in.Num("step"), low)+" and "+show(x, in.Num("step"), high)+".")
	if word, says := judge(in, low, high); word != "" {
		out.Say("verdict", word, says)
	}
	if fixed := off - float64(in.Num("percent")*math.Abs(x.Num)); fixed > 3*in.Num("percent")*math.Abs(x.Num) && fixed > 0 {
		out.Note("Most of the error is counts or range, not percent: a lower range would tell more.")
	}
	if off >= math.Abs(x.Num) && x.Num != 0 {
		out.Note("The error is as large as the reading: it cannot be told from nothing.")
	}
	return nil
}

// show prints an amount in the unit of the reading with one figure more than the meter has.
func show(x quantity.Value, step, amount float64) string {
	v := quantity.Of(x.Kind, amount)
	one, err := quantity.Parse(x.Kind, "1 "+x.Unit)
	if err != nil || x.Unit == "" {
		return v.Text()
	}
	decimals := math.Ceil(-math.Log10(step/one.Num)-1e-9) + 1
	return v.In(x.Unit, int(math.Min(math.Max(decimals, 0), 9)))
}

// judge compares the whole band with the limits; "" without one.
func judge(in calc.In, low, high float64) (word, says string) {
	bottom, top := math.Inf(-1), math.Inf(1)
	if in.Has("at-least") {
		bottom = in.Num("at-least")
	}
	if in.Has("at-most") {
		top = in.Num("at-most")
	}
	switch {
	case !in.Has("at-least") && !in.Has("at-most"):
		return "", ""
	case low >= bottom && high <= top:
		return "passes", "Passes: the whole band of error lies inside the limits."
	case high < bottom || low > top:
		return "fails", "Fails: the whole band of error lies outside the limits."
	case low < bottom && high > top:
		return calc.CannotTell, "Cannot tell: the band of error is wider than the limits. This meter or range is no use here."
	}
	return calc.CannotTell, "Cannot tell: the limit lies inside the band of error. Take a better range or meter."
}

func chart(in calc.In) (draw.Chart, error) {
	step := in.Num("step")
	here := math.Abs(in.Num("reading")) / step
	end := math.Max(2000, 1.2*here)
	if in.Has("range") {
		end = math.Max(in.Num("range")/step, 1.05*here)
	}
	share := func(n float64) float64 { return 100 * of(in, n*step) / (n * step) }
	s := draw.Series{}
	for i := 2; i <= 100; i++ {
		n := end * float64(i) / 100
		s.X, s.Y = append(s.X, n), append(s.Y, share(n))
	}
	c := draw.Chart{X: draw.Axis{Label: "reading", Unit: "counts"}, Y: draw.Axis{Label: "error", Unit: "%"}, Series: []draw.Series{s}}
	if here >= end/50 {
		c.Marks = append(c.Marks, draw.Mark{X: here, Y: share(here), Name: "this reading"})
	}
	return c, nil
}
