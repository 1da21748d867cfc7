package resistance

import (
	_ "embed"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives the internal resistance of a battery by two loads.
var Calculator = &calc.Calculator{
	Name:    "internal-resistance",
	Title:   "Internal resistance of a battery",
	For:     "Tells a battery's internal resistance from two loads, and against the maker's figure or a new one what it means.",
	Shelf:   "battery",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "light-volts", Label: "Voltage at the light load", Kind: quantity.Voltage, Reading: true, Default: "12.60 V", Low: "0.1 V", High: "500 V", Help: "At the battery's own terminals."},
		{Name: "light-load", Label: "Light load", Kind: quantity.Current, Or: []quantity.Kind{quantity.Resistance}, Default: "0.5 A", Low: "0 A", High: "2000 A", Help: "In amperes or ohms; 0 A for none."},
		{Name: "heavy-volts", Label: "Voltage at the heavy load", Kind: quantity.Voltage, Reading: true, Default: "12.42 V", Low: "0 V", High: "500 V", Help: "Read after the same seconds each time."},
		{Name: "heavy-load", Label: "Heavy load", Kind: quantity.Current, Or: []quantity.Kind{quantity.Resistance}, Default: "10 A", Low: "1 mA", High: "2000 A"},
		{Name: "reference", Label: "To compare with", Kind: quantity.Resistance, Optional: true, Low: "1 µΩ", High: "10 kΩ", Help: "The maker's figure, or the same type new. Without it there is no verdict."},
		{Name: "reference-is", Label: "That figure is", Default: "same-way", Choices: []calc.Choice{{Name: "same-way", Label: "Measured this way (DC)"},
			{Name: "ac", Label: "From a data sheet or a tester (AC, 1 kHz)"}}},
	},
	Outputs: []calc.Output{
		{Name: "resistance", Label: "Internal resistance", Kind: quantity.Resistance, Main: true},
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "times", Label: "Times the figure to compare with", Kind: quantity.Ratio},
		{Name: "unloaded", Label: "Voltage without load, by the line", Kind: quantity.Voltage},
		{Name: "difference", Label: "Difference of the two readings", Kind: quantity.Voltage},
		{Name: "short-current", Label: "Current into a short, at most", Kind: quantity.Current, Help: "What a fuse at the terminal must be able to break."},
		{Name: "lost", Label: "Heat inside at the heavy load", Kind: quantity.Power},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>R</mi><mo>=</mo><mfrac><mrow><msub><mi>V</mi><mn>1</mn></msub><mo>−</mo><msub><mi>V</mi><mn>2</mn></msub></mrow>` +
		`<mrow><msub><mi>I</mi><mn>2</mn></msub><mo>−</mo><msub><mi>I</mi><mn>1</mn></msub></mrow></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "A battery drives hundreds of amperes into a slipped tool: no rings, fused leads, clip on with the load off. The load resistor gets hot. Load a lead-acid battery away from gas: the last clip sparks; a lithium one only behind its protection board, and not above its rated current. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A 12 V block of 14 Ah whose data sheet says 13.5 mΩ; it shows 12.60 V at 0.5 A and 12.42 V at 10 A.",
		Inputs: []calc.Setting{{Name: "reference", Value: "13.5 mΩ"}, {Name: "reference-is", Value: "ac"}},
		Prints: []calc.Setting{{Name: "resistance", Value: "18.95 mΩ"}, {Name: "times", Value: "1.404"}, {Name: "unloaded", Value: "12.61 V"}},
	},
	Plots: []calc.Plot{{Name: "line", Title: "Voltage against load",
		Says: "A line through the two readings, falling to the right; the steeper it falls, the higher the internal resistance.", Chart: chart}},
	Onward: []calc.Onward{{Calculator: "fuse", Says: "Can the fuse at its terminal break this short circuit?", Takes: []calc.Take{{From: "short-current", To: "prospective"}}}},
}

// Times the reference: users' rules for stationary batteries, from memory.
const inOrder, worn = 1.3, 1.5

// amperes of a load in A or Ω at v volts.
func amperes(load quantity.Value, v float64) float64 {
	if load.Kind == quantity.Resistance {
		return v / load.Num
	}
	return load.Num
}

// twoLoads is the resistance in Ω and the volts without load.
func twoLoads(v1, i1, v2, i2 float64) (r, v0 float64) {
	r = (v1 - v2) / (i2 - i1)
	return r, v1 + float64(r*i1)
}

// readings are the volts and amperes of both loads, checked.
func readings(in calc.In) (v1, i1, v2, i2 float64, err error) {
	v1, v2 = in.Num("light-volts"), in.Num("heavy-volts")
	for _, name := range []string{"light-load", "heavy-load"} {
		if load := in.Value(name); load.Kind == quantity.Resistance && !(load.Num > 0) {
			return 0, 0, 0, 0, calc.Bad(name, "A load in ohms must be above zero; for no load at all write 0 A")
		}
	}
	i1, i2 = amperes(in.Value("light-load"), v1), amperes(in.Value("heavy-load"), v2)
	switch {
	case !(i2 > i1):
		return 0, 0, 0, 0, calc.Bad("heavy-load", "Heavy load: it draws "+show(quantity.Current, i2)+", which is not more than the "+show(quantity.Current, i1)+" of the light load; take a heavier one or change the two")
	case !(v1 > v2):
		return 0, 0, 0, 0, calc.Bad("heavy-volts", "Volts at the heavy load: they must lie below those at the light load, and "+show(quantity.Voltage, v2)+" do not; take a heavier load or a meter with more digits, and let the battery rest first")
	}
	return v1, i1, v2, i2, nil
}

func run(in calc.In, out *calc.Out) error {
	v1, i1, v2, i2, err := readings(in)
	if err != nil {
		return err
	}
	r, v0 := twoLoads(v1, i1, v2, i2)
	out.Set("resistance", r)
	out.Set("unloaded", v0)
	out.Set("difference", v1-v2)
	out.Set("short-current", v0/r)
	out.Set("lost", i2*i2*r)
	if v1-v2 < 0.01*v1 {
		out.Note("The readings differ by less than 1 %: one digit of the meter shifts the result much. Write the readings with their tolerance, or load it more.")
	}
	if v2 < v1/2 {
		out.Note("Under half of the volts are left at the heavy load: empty, frozen, worn out, or a bad clamp. Measure again at the posts themselves.")
	}
	if !in.Has("reference") {
		out.Say("verdict", "nothing-to-compare", "No verdict: it needs the maker's figure or the same type new, measured alike.")
		return nil
	}
	times := r / in.Num("reference")
	out.Set("times", times)
	word, sentence := judge(times, in.Word("reference-is") == "ac")
	out.Say("verdict", word, sentence)
	return nil
}

func judge(times float64, ac bool) (word, sentence string) {
	switch {
	case times < 0.4:
		return "does-not-fit", "Does not fit: far lower than the figure to compare with. Another type or size, or a slip of a prefix."
	case ac && times > inOrder && times <= 2*worn:
		return "cannot-compare", "Cannot tell: a figure taken at 1 kHz is lower by nature, by up to half. Compare with the same type new, measured this way."
	case ac && times > 2*worn:
		return "worn", "Worn, empty or cold, or a bad clamp: even allowing for the figure at 1 kHz it is too much."
	case times <= inOrder:
		return "in-order", "In order. That says nothing of its capacity."
	case times <= worn:
		return "doubtful", "Doubtful: charge it fully, warm it to the room, measure again; then measure its capacity."
	}
	return "worn", "Worn, empty or cold, or a bad clamp. Charge it, measure at the posts; if it stays so, replace it."
}

func show(k quantity.Kind, v float64) string { return quantity.Of(k, v).Text() }

func chart(in calc.In) (draw.Chart, error) {
	v1, i1, v2, i2, err := readings(in)
	if err != nil {
		return draw.Chart{}, err
	}
	r, v0 := twoLoads(v1, i1, v2, i2)
	end := 1.2 * i2
	s := draw.Series{X: []float64{0, end}, Y: []float64{v0, v0 - float64(r*end)}}
	return draw.Chart{X: draw.Axis{Label: "load", Unit: "A"}, Y: draw.Axis{Label: "terminals", Unit: "V"}, Series: []draw.Series{s},
		Marks: []draw.Mark{{X: i1, Y: v1, Name: "light"}, {X: i2, Y: v2, Name: "heavy"}}}, nil
}
