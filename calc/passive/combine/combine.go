package combine

import (
	_ "embed"
	"math"
	"sort"

	"faultleaf/calc"
	"faultleaf/calc/passive"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

var kinds = []quantity.Kind{quantity.Resistance, quantity.Capacitance, quantity.Inductance}

// parts are the inputs that may be combined.
var parts = []string{"first", "second", "third", "fourth", "fifth", "sixth"}

// Calculator combines parts and finds pairs.
var Calculator = &calc.Calculator{
	Name:    "combine",
	Title:   "Parts in series and parallel",
	For:     "Adds up to six resistors, capacitors or inductors, and finds the best two for a value you lack.",
	Shelf:   "passive",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "first", Label: "First part", Kind: kinds[0], Or: kinds[1:], Default: "4.7 kΩ", Low: "1 mΩ", High: "100 GΩ", Help: "With its unit: Ω, F or H."},
		{Name: "second", Label: "Second", Kind: kinds[0], Or: kinds[1:], Default: "10 kΩ", Low: "1 mΩ", High: "100 GΩ"},
		{Name: "third", Label: "Third", Folded: true, Kind: kinds[0], Or: kinds[1:], Optional: true, Low: "1 mΩ", High: "100 GΩ"},
		{Name: "fourth", Label: "Fourth", Folded: true, Kind: kinds[0], Or: kinds[1:], Optional: true, Low: "1 mΩ", High: "100 GΩ"},
		{Name: "fifth", Label: "Fifth", Folded: true, Kind: kinds[0], Or: kinds[1:], Optional: true, Low: "1 mΩ", High: "100 GΩ"},
		{Name: "sixth", Label: "Sixth", Folded: true, Kind: kinds[0], Or: kinds[1:], Optional: true, Low: "1 mΩ", High: "100 GΩ"},
		{Name: "how", Label: "Connected", Default: "parallel", Choices: []calc.Choice{{Name: "series", Label: "In series"}, {Name: "parallel", Label: "In parallel"}}},
		{Name: "wanted", Label: "Best pair wanted for", Kind: kinds[0], Or: kinds[1:], Optional: true, Low: "1 mΩ", High: "100 GΩ"},
		{Name: "series", Label: "from the series", Default: "E12", Choices: []calc.Choice{{Name: "E3", Label: "E3"}, {Name: "E6", Label: "E6"}, {Name: "E12", Label: "E12"},
			{Name: "E24", Label: "E24"}, {Name: "E48", Label: "E48"}, {Name: "E96", Label: "E96"}, {Name: "E192", Label: "E192"}}},
	},
	Outputs: []calc.Output{
		{Name: "resistance", Label: "Together", Kind: quantity.Resistance, Main: true},
		{Name: "capacitance", Label: "Together", Kind: quantity.Capacitance, Main: true},
		{Name: "inductance", Label: "Together", Kind: quantity.Inductance, Main: true},
		{Name: "largest-share", Label: "Share of the most loaded part", Kind: quantity.Percent, Help: "Of volts in series, of current in parallel; with resistors also of the watts."},
		{Name: "pair", Label: "Best pair"},
		{Name: "pair-resistance", Label: "The pair makes", Kind: quantity.Resistance},
		{Name: "pair-capacitance", Label: "The pair makes", Kind: quantity.Capacitance},
		{Name: "pair-inductance", Label: "The pair makes", Kind: quantity.Inductance},
		{Name: "pair-error", Label: "Off by", Kind: quantity.Percent},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><msub><mi>R</mi><mtext>series</mtext></msub><mo>=</mo><msub><mi>R</mi><mn>1</mn></msub><mo>+</mo><msub><mi>R</mi><mn>2</mn></msub><mo>,</mo>` +
		`<mfrac><mn>1</mn><msub><mi>R</mi><mtext>parallel</mtext></msub></mfrac><mo>=</mo><mfrac><mn>1</mn><msub><mi>R</mi><mn>1</mn></msub></mfrac><mo>+</mo>` +
		`<mfrac><mn>1</mn><msub><mi>R</mi><mn>2</mn></msub></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Capacitors keep their charge, each of a row by itself. Discharge every one through a resistor and measure before touching."},
		{Signal: calc.Warning, Text: "Never make up an X or Y capacitor, a fuse or a fusible resistor from two. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "3.2 kΩ is wanted and the drawer holds E12. What do 4.7 kΩ and 10 kΩ in parallel make, and is there a better pair?",
		Inputs: []calc.Setting{{Name: "first", Value: "4.7 kΩ"}, {Name: "second", Value: "10 kΩ"}, {Name: "wanted", Value: "3.2 kΩ"}},
		Prints: []calc.Setting{{Name: "resistance", Value: "3.20 kΩ"}, {Name: "largest-share", Value: "68 %"}, {Name: "pair-resistance", Value: "3.20 kΩ"}},
	},
	Onward: []calc.Onward{{Calculator: "preferred", Says: "Is there one part of that value?", Takes: []calc.Take{{From: "resistance", To: "value"}}}},
}

// sum adds values.
func sum(values []float64) (total float64) {
	for _, v := range values {
		total += v
	}
	return total
}

// reciprocal is the reciprocal of the sum of reciprocals.
func reciprocal(values []float64) float64 {
	total := 0.0
	for _, v := range values {
		total += 1 / v
	}
	return 1 / total
}

// adds tells whether values add in this connection.
func adds(kind quantity.Kind, how string) bool {
	return (how == "series") != (kind == quantity.Capacitance)
}

// largestShare of the part that is loaded most.
func largestShare(values []float64, adding bool) (share float64) {
	for _, v := range values {
		if adding {
			share = math.Max(share, v/sum(values))
		} else {
			share = math.Max(share, reciprocal(values)/v)
		}
	}
	return share
}

// pair is one or two preferred values; second is 0 where one does.
type pair struct {
	first, second, value float64
	adding               bool
}

// best finds the pair of the series for a wanted value.
func best(wanted float64, size int) (found pair) {
	_, middle, _ := passive.Apart(wanted)
	one := passive.Series(size)
	values := make([]float64, 0, 9*size)
	for decade := middle - 4; decade <= middle+4; decade++ {
		for _, digits := range one {
			values = append(values, passive.Amount(digits, decade))
		}
	}
	lowest := math.Inf(1)
	try := func(p pair) {
		// the order of trying is the tie rule, but for pairs closer together
		off := math.Abs(p.value-wanted) / wanted
		closer := p.adding == found.adding && p.second > 0 && found.second > 0 && ratio(p) < ratio(found)
		if off < lowest-1e-12 || off < lowest+1e-12 && closer {
			found, lowest = p, math.Min(off, lowest)
		}
	}
	partners := func(x float64) []float64 {
		i := sort.SearchFloat64s(values, x)
		return values[max(i-1, 0):min(i+1, len(values))]
	}
	for _, v := range partners(wanted) {
		try(pair{first: v, value: v, adding: true})
	}
	for _, a := range values {
		if a < wanted && a > 0.3*wanted { // the larger of the two
			for _, b := range partners(wanted - a) {
				try(pair{math.Max(a, b), math.Min(a, b), a + b, true})
			}
		}
	}
	for _, a := range values {
		if a > wanted && a < 4*wanted { // the smaller of the two
			for _, b := range partners(a * wanted / (a - wanted)) {
				try(pair{math.Min(a, b), math.Max(a, b), reciprocal([]float64{a, b}), false})
			}
		}
	}
	return found
}

func ratio(p pair) float64 { return math.Max(p.first/p.second, p.second/p.first) }

// limits of what is made, in base units, for the kinds that have no bounds of their own.
func possible(kind quantity.Kind, x float64) bool {
	switch kind {
	case quantity.Capacitance:
		return x >= 1e-14 && x <= 1000
	case quantity.Inductance:
		return x >= 1e-10 && x <= 1e5
	}
	return true
}

func run(in calc.In, out *calc.Out) error {
	if in.Has("wanted") && !in.Given("first") && !in.Given("second") {
		if v := in.Value("wanted"); !possible(v.Kind, v.Num) {
			return calc.Bad("wanted", v.Text()+" is out of reach for a "+string(v.Kind)+"; check the prefix")
		}
		thePair(in, out) // only a pair was asked for
		return nil
	}
	kind := in.Value("first").Kind
	var values []float64
	for _, name := range append(parts, "wanted") {
		if !in.Has(name) {
			continue
		}
		v := in.Value(name)
		if name != "first" && name != "wanted" && v.Kind != kind {
			return calc.Bad(name, "the "+name+" part is a "+string(v.Kind)+" and the first a "+string(kind)+"; write all with the same unit")
		}
		if !possible(v.Kind, v.Num) {
			return calc.Bad(name, v.Text()+" is out of reach for a "+string(v.Kind)+"; check the prefix")
		}
		if name != "wanted" {
			values = append(values, v.Num)
		}
	}
	adding := adds(kind, in.Word("how"))
	total := reciprocal(values)
	if adding {
		total = sum(values)
	}
	out.Set(outputOf(kind), total)
	out.Set("largest-share", largestShare(values, adding))
	if kind == quantity.Capacitance && in.Word("how") == "series" {
		out.Note("The smallest takes the largest share of AC volts; on DC leakage decides, and electrolytics need a resistor across each.")
	}
	if kind == quantity.Inductance {
		out.Note("Only where the coils do not couple.")
	}
	if in.Has("wanted") {
		thePair(in, out)
	}
	return nil
}

func outputOf(kind quantity.Kind) string {
	switch kind {
	case quantity.Capacitance:
		return "capacitance"
	case quantity.Inductance:
		return "inductance"
	}
	return "resistance"
}

// thePair sets the outputs of the best pair.
func thePair(in calc.In, out *calc.Out) {
	kind, wanted := in.Value("wanted").Kind, in.Num("wanted")
	p := best(wanted, map[string]int{"E3": 3, "E6": 6, "E12": 12, "E24": 24, "E48": 48, "E96": 96, "E192": 192}[in.Word("series")])
	text := func(x float64) string { return quantity.Of(kind, x).Text() }
	how := "series"
	if adds(kind, how) != p.adding {
		how = "parallel"
	}
	off := (p.value - wanted) / wanted
	if math.Abs(off) < 1e-12 {
		off = 0
	}
	out.Set("pair-"+outputOf(kind), p.value)
	out.Set("pair-error", off)
	if p.second == 0 {
		out.Say("pair", "one", "One part of "+text(p.first)+" is as near as any two.")
		return
	}
	out.Say("pair", how, text(p.first)+" and "+text(p.second)+" in "+how+".")
}
