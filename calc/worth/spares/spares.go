package spares

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator says how many of a part to keep.
var Calculator = &calc.Calculator{
	Name:  "spares",
	Title: "Spares to keep",
	For:   "Says how many of a part to keep on the shelf, from its uses in a year, the delivery time and the chance of being without.",
	Shelf: "worth",
	Inputs: []calc.Input{
		{Name: "uses", Label: "Used in a year", Kind: quantity.Count, Default: "6", Low: "0", High: "100000", Help: "From the job sheets; with none seen in two years write 1.5 at most."},
		{Name: "delivery", Label: "Delivery takes", Kind: quantity.Duration, Default: "14 d", Low: "1 h", High: "730 d"},
		{Name: "without", Label: "Chance of being without, allowed", Kind: quantity.Percent, Default: "5 %", Low: "0.01 %", High: "50 %", Help: "Each time one is wanted."},
		{Name: "price", Label: "Price of one", Kind: quantity.Money, Optional: true, Low: "0"},
	},
	Outputs: []calc.Output{
		{Name: "keep", Label: "Keep", Kind: quantity.Count, Main: true},
		{Name: "without-then", Label: "Chance of being without then", Kind: quantity.Percent},
		{Name: "one-less", Label: "With one less", Kind: quantity.Percent},
		{Name: "during", Label: "Wanted during a delivery, on average", Kind: quantity.Count},
		{Name: "lasts", Label: "What is kept lasts", Kind: quantity.Years, Help: "Parts that age should not lie longer than two years."},
		{Name: "money", Label: "Money on the shelf", Kind: quantity.Money},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>P</mi><mo>(</mo><mi>N</mi><mo>≥</mo><mi>s</mi><mo>)</mo><mo>=</mo><mn>1</mn><mo>−</mo><munderover><mo>∑</mo><mrow><mi>k</mi><mo>=</mo><mn>0</mn></mrow>` +
		`<mrow><mi>s</mi><mo>−</mo><mn>1</mn></mrow></munderover><mfrac><mrow><msup><mi>λ</mi><mi>k</mi></msup><msup><mi>e</mi><mrow><mo>−</mo><mi>λ</mi></mrow></msup></mrow><mrow><mi>k</mi><mo>!</mo></mrow></mfrac></math>`,
	Cautions: []calc.Caution{{Signal: calc.Notice, Text: "Protective parts are kept by their exact rating and kind: one that nearly fits is no spare."}},
	Example: calc.Example{
		Says:   "Six thermal links a year, a fortnight's delivery, one time in twenty without.",
		Inputs: []calc.Setting{{Name: "uses", Value: "6"}},
		Prints: []calc.Setting{{Name: "keep", Value: "2"}},
	},
	Plots: []calc.Plot{{Name: "stock", Title: "Chance of being without, by how many are kept", Says: "Each part more lowers the chance of being without; the level is what is allowed.", Chart: chart}},
}

const year = 365.25 * 24 * 3600

// tail is the Poisson chance of s or more with mean m. The terms are summed from
// the largest down, so that it does not run out of digits for large means.
func tail(m float64, s int) float64 {
	if s <= 0 {
		return 1
	}
	if m == 0 {
		return 0
	}
	below := 0.0
	for k := s - 1; k >= 0; k-- {
		lg, _ := math.Lgamma(float64(k) + 1)
		term := math.Exp(float64(float64(k)*math.Log(m)) - m - lg)
		below += term
		if term < 1e-18*below && float64(k) < m {
			break
		}
	}
	return math.Max(0, 1-below)
}

// keep is the least stock that is empty no more often than allowed when one is
// wanted: with s kept and s or more on order, the shelf is empty.
func keep(m, without float64) int {
	low, high := 0, int(m+20*math.Sqrt(m+1)+20) // far beyond any allowed chance
	for low < high {
		middle := (low + high) / 2
		if tail(m, middle) <= without {
			high = middle
		} else {
			low = middle + 1
		}
	}
	return low
}

func run(in calc.In, out *calc.Out) error {
	uses := in.Num("uses")
	m := uses * in.Num("delivery") / year
	s := 0
	if uses > 0 {
		s = keep(m, in.Num("without"))
	}
	out.Set("keep", float64(s))
	out.Set("during", m)
	if uses > 0 {
		out.Set("without-then", tail(m, s))
		if s > 0 {
			out.Set("one-less", tail(m, s-1))
		}
		out.Set("lasts", float64(s)/uses)
		if float64(s)/uses > 2 {
			out.Note("What is kept lasts more than two years; capacitors, batteries and rubber age meanwhile.")
		}
	}
	if in.Has("price") {
		out.Set("money", float64(s)*in.Num("price"))
	}
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	m := in.Num("uses") * in.Num("delivery") / year
	s := keep(m, in.Num("without"))
	line := draw.Series{}
	for k := max(0, s-8); k <= s+4; k++ {
		line.X, line.Y = append(line.X, float64(k)), append(line.Y, 100*tail(m, k))
	}
	return draw.Chart{X: draw.Axis{Label: "kept"}, Y: draw.Axis{Label: "without", Unit: "%"}, Series: []draw.Series{line},
		Marks: []draw.Mark{{Y: 100 * in.Num("without"), Name: "allowed", Level: true}, {X: float64(s), Y: 100 * tail(m, s)}}}, nil
}
