package mend

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator weighs a mend against a new device.
var Calculator = &calc.Calculator{
	Name:  "mend-or-replace",
	Title: "Mend or replace",
	For:   "Tells whether a mend costs less than a new device, per year of use, and how much it may cost at most.",
	Shelf: "worth",
	Inputs: []calc.Input{
		{Name: "price", Label: "Price of a new one", Kind: quantity.Money, Default: "40", Low: "0.01", High: "1000000"},
		{Name: "parts", Label: "Parts", Kind: quantity.Money, Default: "6", Low: "0", High: "1000000"},
		{Name: "minutes", Label: "Time still to be spent", Kind: quantity.Duration, Default: "25 min", Low: "0 s", High: "1000 h"},
		{Name: "rate", Label: "Rate", Kind: quantity.MoneyPerHour, Default: "20/h", From: calc.Rate, Low: "0", High: "10000", Help: "0 where nobody counts the time."},
		{Name: "chance", Label: "Chance that the mend succeeds", Kind: quantity.Percent, Default: "85 %", Low: "1 %", High: "100 %"},
		{Name: "undo", Label: "Time lost if it fails", Kind: quantity.Duration, Default: "10 min", Low: "0 s", High: "1000 h", Help: "To put it back together as it came."},
		{Name: "age", Label: "Age", Kind: quantity.Years, Default: "3 years", Low: "0 years", High: "200 years"},
		{Name: "life", Label: "Life of a new one", Kind: quantity.Years, Default: "8 years", Low: "0.1 years", High: "200 years"},
		{Name: "left", Label: "Years the mended one should last", Kind: quantity.Years, Optional: true, Low: "0.1 years", High: "200 years",
			Help: "Leave empty for the rest of its life."},
		{Name: "warranty", Label: "Warranty that still runs", Kind: quantity.Years, Optional: true, Low: "0 months", High: "50 years", Help: "For instance 5 months."},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "worth-at-most", Label: "The mend may cost at most", Kind: quantity.Money, Main: true},
		{Name: "mend-cost", Label: "The mend costs on average", Kind: quantity.Money, Help: "With the work lost when it fails."},
		{Name: "cost-per-year-mended", Label: "A year of use, mended", Kind: quantity.Money},
		{Name: "cost-per-year-new", Label: "A year of use, new", Kind: quantity.Money},
		{Name: "break-even-minutes", Label: "Time it may take at most", Kind: quantity.Duration},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mtext>parts</mtext><mo>+</mo><mtext>rate</mtext><mo>·</mo><mo>(</mo><mtext>minutes</mtext><mo>+</mo><mo>(</mo><mn>1</mn><mo>−</mo><mi>p</mi><mo>)</mo><mo>·</mo><mtext>undo</mtext><mo>)</mo>` +
		`<mo>≤</mo><mi>p</mi><mo>·</mo><mtext>left</mtext><mo>·</mo><mfrac><mtext>price</mtext><mtext>life</mtext></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Notice, Text: "Only money is compared. A device that cannot be left as safe as it was made is not mended, whatever the figures say."},
	},
	Example: calc.Example{
		Says: "A fan heater of 40 € new, 3 of its 8 years old, needs a cut-out for 6 € and 25 minutes at 20 € an hour; 85 of 100 such mends succeed, and a failed one costs 10 minutes more.",
		Inputs: []calc.Setting{{Name: "price", Value: "40 €"}, {Name: "parts", Value: "6 €"}, {Name: "minutes", Value: "25 min"}, {Name: "rate", Value: "20 €/h"},
			{Name: "chance", Value: "85 %"}, {Name: "undo", Value: "10 min"}, {Name: "age", Value: "3 years"}, {Name: "life", Value: "8 years"}},
		Prints: []calc.Setting{{Name: "mend-cost", Value: "14.83 €"}, {Name: "worth-at-most", Value: "21.25 €"}, {Name: "cost-per-year-new", Value: "5.00 €"},
			{Name: "cost-per-year-mended", Value: "3.49 €"}, {Name: "break-even-minutes", Value: "44 min"}},
	},
	Plots: []calc.Plot{{Name: "minutes", Title: "Cost of a year of use against time",
		Says: "The mended year grows dearer with every minute; the level is a year of a new one, and where they cross the mend stops to pay.", Chart: chart}},
}

// aboutEqual is how near the two costs must lie to be called equal; our choice.
const aboutEqual = 0.10

// yearsLeft is the rest of the life, at least a quarter of it; our choice.
func yearsLeft(age, life float64) float64 { return math.Max(life-age, life/4) }

// averageCost of trying a mend, with the time lost when it fails; seconds and money
// per hour.
func averageCost(parts, rate, seconds, undo, chance float64) float64 {
	return parts + float64(rate/3600*(seconds+float64((1-chance)*undo)))
}

// worthAtMost is the price of the years that a mend gains on average.
func worthAtMost(price, life, left, chance float64) float64 { return chance * left * price / life }

func left(in calc.In) float64 {
	if in.Has("left") {
		return in.Num("left")
	}
	return yearsLeft(in.Num("age"), in.Num("life"))
}

func run(in calc.In, out *calc.Out) error {
	chance, rate := in.Num("chance"), in.Num("rate")
	years := left(in)
	cost := averageCost(in.Num("parts"), rate, in.Num("minutes"), in.Num("undo"), chance)
	worth := worthAtMost(in.Num("price"), in.Num("life"), years, chance)
	out.Set("mend-cost", cost)
	out.Set("worth-at-most", worth)
	out.Set("cost-per-year-mended", cost/(chance*years))
	out.Set("cost-per-year-new", in.Num("price")/in.Num("life"))
	if rate > 0 {
		time := (worth-in.Num("parts"))/rate*3600 - float64((1-chance)*in.Num("undo"))
		if time < 0 {
			time = 0
			out.Note("Parts and the risk of failure alone cost more than the years gained are worth; no time pays.")
		}
		out.Set("break-even-minutes", time)
	}
	switch {
	case math.Abs(cost-worth) <= aboutEqual*worth:
		out.Say("verdict", "about-equal", "About equal: the mend costs what the years it gains are worth, within a tenth. Let the owner choose.")
	case cost < worth:
		out.Say("verdict", "mend", "Mend: a year of the mended one costs less than a year of a new one.")
	default:
		out.Say("verdict", "replace", "By money alone, replace: a year of a new one costs less.")
	}
	if in.Has("warranty") && in.Num("warranty") > 0 {
		out.Note("A warranty still runs: ask the seller first, since opening the device may end it.")
	}
	if in.Has("left") && in.Num("left") > in.Num("life") {
		out.Note("The mended one is expected to outlast a new one; be sure of that.")
	}
	if !in.Has("left") && in.Num("age") > 0.75*in.Num("life") {
		out.Note("It is near or past its expected life; a quarter of that life is taken as what is left.")
	}
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	years, chance := left(in), in.Num("chance")
	end := math.Max(3600, 2*in.Num("minutes"))
	s := draw.Series{Name: "mended"}
	at := func(seconds float64) float64 {
		return averageCost(in.Num("parts"), in.Num("rate"), seconds, in.Num("undo"), chance) / (chance * years)
	}
	for i := 0; i <= 20; i++ {
		t := end * float64(i) / 20
		s.X, s.Y = append(s.X, t/60), append(s.Y, at(t))
	}
	return draw.Chart{X: draw.Axis{Label: "time still to be spent", Unit: "min"}, Y: draw.Axis{Label: "a year of use", Unit: "money"},
		Series: []draw.Series{s}, Marks: []draw.Mark{{Y: in.Num("price") / in.Num("life"), Name: "new", Level: true},
			{X: in.Num("minutes") / 60, Y: at(in.Num("minutes")), Name: "this one"}}}, nil
}
