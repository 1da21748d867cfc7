package bands

import (
	_ "embed"
	"math"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/passive"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator reads colour bands and writes them.
var Calculator = &calc.Calculator{
	Name:  "bands",
	Title: "Colour bands of a resistor",
	For:   "Reads a resistor's colour bands, from either end, and gives the bands for a value.",
	Shelf: "passive",
	Inputs: []calc.Input{
		{Name: "colours", Label: "Colours in a row", Default: "yellow violet red gold", Help: "Start at the end you believe is the first.",
			Text: []string{"yellow violet red gold", "brown black black red brown", "gold red violet yellow", "BN RD BK BK BN VT", "black"}},
		{Name: "wanted", Label: "Bands wanted for", Kind: quantity.Resistance, Optional: true, Low: "0.01 Ω", High: "99 GΩ",
			Help: "The other way round: the colours of this value."},
		{Name: "wanted-tolerance", Label: "with tolerance", Default: "5", Choices: []calc.Choice{{Name: "20", Label: "20 %"}, {Name: "10", Label: "10 %"}, {Name: "5", Label: "5 %"},
			{Name: "2", Label: "2 %"}, {Name: "1", Label: "1 %"}, {Name: "0.5", Label: "0.5 %"}, {Name: "0.25", Label: "0.25 %"}, {Name: "0.1", Label: "0.1 %"}}},
	},
	Outputs: []calc.Output{
		{Name: "resistance", Label: "Resistance", Kind: quantity.Resistance, Main: true},
		{Name: "tolerance", Label: "Tolerance, plus or minus", Kind: quantity.Percent, Main: true},
		{Name: "lowest", Label: "Lowest when good", Kind: quantity.Resistance, Limit: quantity.Lowest, Digits: 4},
		{Name: "highest", Label: "Highest when good", Kind: quantity.Resistance, Limit: quantity.Highest, Digits: 4},
		{Name: "coefficient", Label: "Temperature coefficient"},
		{Name: "in-series", Label: "Preferred value"},
		{Name: "other-end", Label: "From the other end"},
		{Name: "other-resistance", Label: "Resistance read from the other end", Kind: quantity.Resistance},
		{Name: "wanted-bands", Label: "Bands for the wanted value", Main: true},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>R</mi><mo>=</mo><mo>(</mo><mn>100</mn><msub><mi>d</mi><mn>1</mn></msub><mo>+</mo><mn>10</mn><msub><mi>d</mi><mn>2</mn></msub>` +
		`<mo>+</mo><msub><mi>d</mi><mn>3</mn></msub><mo>)</mo><mo>·</mo><msup><mn>10</mn><mi>m</mi></msup></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Unplug, let capacitors discharge and prove that they did before a resistor is measured. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Notice, Text: "A flameproof or fusible resistor protects: replace it by its like, never by a plain one of the same colours."},
	},
	Example: calc.Example{
		Says:   "Five bands, brown, red, black, black, brown, on a small blue body. Which end is first?",
		Inputs: []calc.Setting{{Name: "colours", Value: "brown red black black brown"}},
		Prints: []calc.Setting{{Name: "resistance", Value: "120.0 Ω"}, {Name: "tolerance", Value: "1.00 %"}, {Name: "other-resistance", Value: "10.00 kΩ"},
			{Name: "other-end", Value: "Reads well from both ends: 120.0 Ω as given, 10.00 kΩ from the other end; look for the gap before the tolerance band, then measure."}},
	},
}

// colour is one band. What it cannot be is none; the multiplier is a power of ten,
// the tolerance a fraction, the coefficient ppm/K.
type colour struct {
	name        string
	also        []string
	digit       int
	power       int
	tolerance   float64
	coefficient float64
}

const none = -99

// colours by IEC 60062:2016; the short names are those of IEC 60757 and of the bench.
var colours = []colour{
	{"black", []string{"bk", "blk"}, 0, 0, none, 250},
	{"brown", []string{"bn", "brn"}, 1, 1, 0.01, 100},
	{"red", []string{"rd"}, 2, 2, 0.02, 50},
	{"orange", []string{"og", "org"}, 3, 3, 0.0005, 15},
	{"yellow", []string{"ye", "yel"}, 4, 4, 0.0002, 25},
	{"green", []string{"gn", "grn"}, 5, 5, 0.005, 20},
	{"blue", []string{"bu", "blu"}, 6, 6, 0.0025, 10},
	{"violet", []string{"vt", "vio", "purple"}, 7, 7, 0.001, 5},
	{"grey", []string{"gy", "gray", "gry"}, 8, 8, 0.0001, 1},
	{"white", []string{"wh", "wht"}, 9, 9, none, none},
	{"gold", []string{"gd", "gld"}, none, -1, 0.05, none},
	{"silver", []string{"sr", "slv"}, none, -2, 0.1, none},
	{"pink", []string{"pk"}, none, -3, none, none},
}

// resistor is what a row of bands says.
type resistor struct {
	ohms        float64
	digits      int // three digits, 100 to 999; 0 for the link of one black band
	decade      int
	tolerance   float64 // as fraction
	coefficient float64 // ppm/K, none where there is no band
	toleranceBy string  // the colour
}

// readColours finds the colours in a text; wrong is the first word that is none.
func readColours(text string) (row []colour, wrong string) {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" \t,;/-–+|", r) })
words:
	for _, w := range words {
		for _, c := range colours {
			if w == c.name {
				row = append(row, c)
				continue words
			}
			for _, a := range c.also {
				if w == a {
					row = append(row, c)
					continue words
				}
			}
		}
		return nil, w
	}
	return row, ""
}

// decode reads a row from its first band; why says in a few words what is impossible.
func decode(row []colour) (r resistor, why string) {
	if len(row) == 1 && row[0].name == "black" {
		return resistor{coefficient: none}, ""
	}
	count := 2
	if len(row) >= 5 {
		count = 3
	}
	value := 0
	for i, c := range row[:count] {
		if c.digit == none {
			return r, c.name + " is no digit"
		}
		if i == 0 && c.digit == 0 {
			return r, "black is no first digit"
		}
		value = 10*value + c.digit
	}
	power := row[count].power
	r.digits, r.decade = value, power+2
	if count == 2 {
		r.digits, r.decade = 10*value, power+1
	}
	r.ohms = passive.Amount(r.digits, r.decade)
	r.tolerance, r.coefficient = 0.2, none
	if len(row) > 3 {
		c := row[count+1]
		if c.tolerance == none {
			return r, c.name + " is no tolerance"
		}
		r.tolerance, r.toleranceBy = c.tolerance, c.name
	}
	if len(row) > 5 {
		c := row[5]
		if c.coefficient == none {
			return r, c.name + " is no temperature coefficient"
		}
		r.coefficient = c.coefficient
	}
	return r, ""
}

// encode gives the bands of a value; ok is false where no multiplier reaches it. It
// rounds to two digits from 5 % on, to three below.
func encode(ohms, tolerance float64) (row []colour, rounded float64, ok bool) {
	digits, decade, _ := passive.Apart(ohms)
	power := decade - 2
	if tolerance >= 0.05 {
		digits, power = int(math.Round(float64(digits)/10)), decade-1
		if digits == 100 {
			digits, power = 10, power+1
		}
		row = append(row, colours[digits/10], colours[digits%10])
		rounded = passive.Amount(10*digits, power+1)
	} else {
		row = append(row, colours[digits/100], colours[digits/10%10], colours[digits%10])
		rounded = passive.Amount(digits, power+2)
	}
	for _, c := range colours {
		if c.power == power {
			row, ok = append(row, c), true
		}
	}
	for _, c := range colours {
		if c.tolerance == tolerance {
			row = append(row, c)
		}
	}
	return row, rounded, ok
}

func names(row []colour) string {
	var n []string
	for _, c := range row {
		n = append(n, c.name)
	}
	return strings.Join(n, " ")
}

func ohms(x float64) string { return quantity.Of(quantity.Resistance, x).Text() }

// preferred says which series holds the value.
func preferred(r resistor) (word, sentence string) {
	n := passive.Coarsest(r.digits)
	switch {
	case r.digits == 0:
		return "link", "A link of 0 Ω."
	case n == 0:
		return "none", "In no series of IEC 60063: read the colours again."
	}
	e := "E" + quantity.Number(float64(n))
	return e, "Yes, in " + e + "."
}

func run(in calc.In, out *calc.Out) error {
	if in.Has("wanted") && !in.Given("colours") {
		return wanted(in, out) // only the other way round was asked
	}
	row, wrong := readColours(in.Word("colours"))
	switch {
	case wrong != "":
		return calc.Bad("colours", "“"+wrong+"” is no colour of a band; write black, brown, red, orange, yellow, green, blue, violet, grey, white, gold, silver or pink")
	case len(row) == 0:
		return calc.Bad("colours", "there is no colour in it; write them in a row, such as yellow violet red gold")
	case len(row) > 6:
		return calc.Bad("colours", "a resistor has at most six bands")
	case len(row) == 2 || len(row) == 1 && row[0].name != "black":
		return calc.Bad("colours", "a value needs three to six bands; only one black band stands alone, for a link")
	}
	back := make([]colour, len(row))
	for i, c := range row {
		back[len(row)-1-i] = c
	}
	r, why := decode(row)
	other, whyBack := decode(back)
	switch same := names(row) == names(back); {
	case why != "" && whyBack != "":
		return calc.Bad("colours", "these bands make no value from either end: "+why+", and from the other end "+whyBack)
	case why != "":
		out.Say("other-end", "turned", "Read from the other end, as "+why+".")
		r, row = other, back
	case same:
		out.Say("other-end", "same", "The same from both ends.")
	case whyBack != "":
		out.Say("other-end", "impossible", "Makes sense from this end only: from the other "+whyBack+".")
	default:
		out.Set("other-resistance", other.ohms)
		here, there := passive.Coarsest(r.digits), passive.Coarsest(other.digits)
		switch {
		case here > 0 && there == 0:
			out.Say("other-end", "less-likely", "From the other end it would be "+ohms(other.ohms)+", a value in no series.")
		case here == 0 && there > 0:
			out.Say("other-end", "likelier", "Likelier from the other end: "+ohms(other.ohms)+" is a preferred value, "+ohms(r.ohms)+" is in no series.")
		case here == 0:
			out.Say("other-end", "neither", "From the other end it would be "+ohms(other.ohms)+"; neither is a preferred value, so a colour is misread.")
		default:
			out.Say("other-end", "both", "Reads well from both ends: "+ohms(r.ohms)+" as given, "+ohms(other.ohms)+" from the other end; look for the gap before the tolerance band, then measure.")
		}
	}
	out.Set("resistance", r.ohms)
	word, sentence := preferred(r)
	out.Say("in-series", word, sentence)
	if r.digits > 0 {
		out.Set("tolerance", r.tolerance)
		out.Set("lowest", r.ohms*(1-r.tolerance))
		out.Set("highest", r.ohms*(1+r.tolerance))
	}
	if r.coefficient != none {
		out.Say("coefficient", quantity.Number(r.coefficient), quantity.Number(r.coefficient)+" ppm/K")
	}
	remarks(out, row, r)
	return wanted(in, out)
}

// remarks says where a row of bands is known to mislead.
func remarks(out *calc.Out, row []colour, r resistor) {
	switch r.toleranceBy {
	case "grey":
		out.Note("Grey as tolerance is 0.01 % in IEC 60062 since 2016 and 0.05 % in older tables.")
	case "orange":
		out.Note("Orange as tolerance is 0.05 % in IEC 60062 since 2016; an old part may mean 3 %.")
	case "yellow":
		out.Note("Yellow as tolerance is 0.02 % in IEC 60062 since 2016; an old part may mean 4 %.")
	}
	if len(row) == 5 && (row[3].name == "gold" || row[3].name == "silver") && row[2].power > 0 {
		old, why := decode(row[:4])
		if why == "" {
			out.Note("If the fifth band is a failure rate or marks a fusible part, the four before it are " + ohms(old.ohms) + " with " + row[3].name + " tolerance.")
		}
	}
	if r.digits == 0 {
		out.Note("A body with one black band may also be a fusible resistor; measure before it is bridged.")
	}
}

// wanted gives the bands for the wanted value.
func wanted(in calc.In, out *calc.Out) error {
	if !in.Has("wanted") {
		return nil
	}
	tolerance, err := quantity.Parse(quantity.Percent, in.Word("wanted-tolerance"))
	if err != nil {
		return err
	}
	row, rounded, ok := encode(in.Num("wanted"), tolerance.Num)
	if !ok {
		return calc.Bad("wanted", ohms(in.Num("wanted"))+" has no multiplier band with this tolerance: three digits reach from 0.1 Ω, two from 0.01 Ω")
	}
	says := names(row) + ": " + ohms(rounded)
	if math.Abs(rounded-in.Num("wanted")) > 1e-9*rounded {
		says += ", as near as the digits come"
	}
	if digits, _, _ := passive.Apart(rounded); passive.Coarsest(digits) == 0 {
		says += "; in no series, so hardly to be bought"
	}
	out.Say("wanted-bands", strings.ReplaceAll(names(row), " ", "-"), says+".")
	return nil
}
