package plug

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/passive"
	"faultleaf/calc/quantity"
	"faultleaf/calc/safety"
)

//go:embed doc.go
var doc string

// Calculator judges the volts left on a pulled plug.
var Calculator = &calc.Calculator{
	Name:    "plug-pins",
	Title:   "Voltage left on a pulled plug",
	For:     "Tells whether the pins of a pulled plug are safe to touch soon enough, by each named rule side by side.",
	Shelf:   "safety",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "capacitor", Label: "Capacitors between the pins", Kind: quantity.Capacitance, Measured: true, Like: "0.47 µF", Low: "1 pF", High: "1 mF", Help: "All X capacitors added up."},
		{Name: "resistor", Label: "Bleeder resistor", Kind: quantity.Resistance, Measured: true, Reading: true, Like: "1 MΩ", Low: "100 Ω", High: "100 GΩ", Help: "None, or open: OL."},
		{Name: "volts", Label: "Voltage at the start", Kind: quantity.Voltage, Default: "325 V", From: calc.Peak, Low: "1 V", High: "2 kV", Help: "The peak of the mains: 325 V for 230 V, 170 V for 120 V."},
		{Name: "rule", Label: "Rule that decides", Default: "strictest", From: calc.Rule, Choices: []calc.Choice{{Name: "strictest", Label: "The strictest"}, {Name: "household", Label: "Household, IEC 60335-1"},
			{Name: "it", Label: "IT, older, IEC 60950-1, withdrawn"}, {Name: "it-new", Label: "IT and audio, newer, IEC 62368-1"}, {Name: "machinery", Label: "Machinery, IEC 60204-1"},
			{Name: "laboratory", Label: "Laboratory, IEC 61010-1"}}},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "volts-1s", Label: "Voltage after 1 s", Kind: quantity.Voltage, Main: true},
		{Name: "volts-2s", Label: "Voltage after 2 s", Kind: quantity.Voltage},
		{Name: "volts-5s", Label: "Voltage after 5 s", Kind: quantity.Voltage},
		{Name: "household", Label: "Household (IEC 60335-1): 34 V after 1 s"},
		{Name: "japan", Label: "Household, Japan's own rule: 45 V after 1 s"},
		{Name: "it", Label: "IT, older (IEC 60950-1, withdrawn): 37 % after 1 s"},
		{Name: "it-new", Label: "IT and audio, newer (IEC 62368-1): 60 V after 2 s from 0.3 µF, more below it"},
		{Name: "machinery", Label: "Machinery (IEC 60204-1): 60 V after 1 s or 5 s"},
		{Name: "laboratory", Label: "Laboratory (IEC 61010-1): 60 V or 45 µC after 5 s"},
		{Name: "regions", Label: "Where these rules are in use"},
		{Name: "time-34v", Label: "Time to 34 V", Kind: quantity.Duration},
		{Name: "largest-bleeder", Label: "Bleeder for 34 V after 1 s, at most", Kind: quantity.Resistance},
		{Name: "bleeder-power", Label: "Power in the bleeder while plugged in", Kind: quantity.Power},
		{Name: "charge", Label: "Charge at the start", Kind: quantity.Charge, Unit: "µC"},
		{Name: "energy", Label: "Energy at the start", Kind: quantity.Energy},
	},
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><mi>V</mi><mo>=</mo><msub><mi>V</mi><mn>0</mn></msub><msup><mi>e</mi><mrow><mo>−</mo><mi>t</mi><mo>/</mo><mi>R</mi><mi>C</mi></mrow></msup></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Do not touch the pins of a plug just pulled. The bleeder may be open; measure with a meter that was just proved, then measure again."},
		{Signal: calc.Warning, Text: "These limits are guidance. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A filter of 0.47 µF with a bleeder of 1 MΩ is pulled from 230 V at the peak.",
		Inputs: []calc.Setting{{Name: "capacitor", Value: "0.47 µF"}, {Name: "resistor", Value: "1 MΩ"}, {Name: "volts", Value: "325 V"}},
		Prints: []calc.Setting{{Name: "volts-1s", Value: "38.7 V"}, {Name: "it", Value: "Passes: 38.7 V after 1 s; below 120.3 V is allowed."},
			{Name: "verdict", Value: "Fails by the strictest rule here, household: 38.7 V after 1 s; 34.0 V are allowed."}, {Name: "largest-bleeder", Value: "942 kΩ"}},
	},
	Plots: []calc.Plot{{Name: "volts", Title: "Voltage on the pins after the plug is pulled",
		Says: "The voltage falls steeply at first and ever more slowly; the levels are the limits that rules set at 1, 2 and 5 s.", Chart: chart}},
	Onward: []calc.Onward{{Calculator: "discharge", Says: "How long until another voltage, and what does the resistor stand?",
		Takes: []calc.Take{{From: "capacitor", To: "capacitor"}, {From: "resistor", To: "resistor"}, {From: "volts", To: "volts"}}}},
}

// openOhms stands for a bleeder that is open or missing, in Ω.
const openOhms = 100e9

// Limits; sources in the package comment.
const (
	householdVolts   = 34.0
	japanVolts       = 45.0
	exemptFarads     = 0.1e-6
	itFraction       = 0.37
	touchVolts       = 60.0
	machineryCharge  = 60e-6
	laboratoryCharge = 45e-6
)

// smallCharge is the highest volts that a capacitor of so many farads may keep by
// IEC 62368-1, table 5, from memory: the less it holds, the more volts. Between two
// rows the lower volts count.
func smallCharge(c float64) float64 {
	for _, row := range []struct{ farads, volts float64 }{{4e-9, 1000}, {8e-9, 500}, {12e-9, 350}, {18e-9, 250}, {28e-9, 200}, {41e-9, 150}, {61e-9, 125}, {91e-9, 100}, {170e-9, 75}} {
		if c <= row.farads*(1+1e-9) {
			return row.volts
		}
	}
	return touchVolts
}

// A finding is one rule's verdict; rank orders them from passes to fails.
type finding struct {
	name, label, word string
	start, reason     string // the sentence in two parts: "Fails: " and what is left
	rank              int
}

var ranks = map[string]int{"passes": 0, "exempt": 1, "editions-differ": 2, "passes-behind-covers": 3, "fails": 4}

// largestBleeder empties c from v0 to v in t; there is none to ask for if v0 is not above v.
func largestBleeder(c, v0, v, t float64) (float64, bool) {
	if v0 <= v {
		return 0, false
	}
	return t / (c * math.Log(v0/v)), true
}

func run(in calc.In, out *calc.Out) error {
	v0 := in.Num("volts")
	if in.Has("capacitor") {
		c := in.Num("capacitor")
		if most, ok := largestBleeder(c, v0, householdVolts, 1); ok {
			out.Set("largest-bleeder", most)
		}
		out.Set("charge", c*v0)
		out.Set("energy", c*v0*v0/2)
	}
	ohms := 0.0
	if in.Has("resistor") {
		switch is := in.Reading("resistor"); {
		case is.IsAbove(): // whatever it is above, an open one is the worst
			ohms = openOhms
			out.Note("Above what the meter shows the bleeder is taken as open.")
		default:
			ohms = in.Num("resistor")
			out.Set("bleeder-power", v0*v0/2/ohms)
		}
	}
	out.Note("The bleeder may be open: measure before touching.")
	if !in.Has("capacitor") || !in.Has("resistor") {
		return nil
	}
	c := in.Num("capacitor")
	tau := ohms * c
	out.Set("volts-1s", passive.Remaining(v0, tau, 1))
	out.Set("volts-2s", passive.Remaining(v0, tau, 2))
	out.Set("volts-5s", passive.Remaining(v0, tau, 5))
	out.Set("time-34v", math.Max(0, tau*math.Log(v0/householdVolts)))
	list := findings(c, v0, tau)
	chosen := in.Word("rule")
	worst := list[0]
	for _, f := range list {
		out.Say(f.name, f.word, f.start+f.reason)
		if f.name == "japan" || f.name == "it" && chosen != "it" {
			continue // a national variant, no rule to choose; a withdrawn standard decides only where it is chosen
		}
		if f.name == chosen || chosen == "strictest" && f.rank > worst.rank {
			worst = f
		}
	}
	sum(out, worst, chosen == "strictest")
	out.Say("regions", "regions", safety.Where("household", "it-new", "machinery", "laboratory"))
	return nil
}

// sum says the verdict in the words of the rule that decides; a plug's pins can be touched, so
// what passes behind covers only does not pass here.
func sum(out *calc.Out, f finding, strictest bool) {
	word := f.word
	if word == "passes-behind-covers" {
		word = "fails"
	}
	by := " by the rule chosen, "
	if strictest {
		by = " by the strictest rule here, "
	}
	switch word {
	case "fails":
		out.Say("verdict", word, "Fails"+by+f.label+": "+f.reason)
	case "passes", "exempt":
		if strictest {
			out.Say("verdict", "passes", "Passes by every rule in force here or is exempt.")
			return
		}
		out.Say("verdict", word, f.start+f.reason)
	default:
		out.Say("verdict", word, f.start+f.reason)
	}
}

func volts(v float64) string { return quantity.Of(quantity.Voltage, v).Text() }

func findings(c, v0, tau float64) []finding {
	one, two, five := passive.Remaining(v0, tau, 1), passive.Remaining(v0, tau, 2), passive.Remaining(v0, tau, 5)
	var list []finding
	add := func(name, label, word, start, reason string) {
		list = append(list, finding{name, label, word, start, reason, ranks[word]})
	}
	plain := func(name, label string, left, limit float64, after string) {
		word, start := "fails", "Fails: "
		if left <= limit {
			word, start = "passes", "Passes: "
		}
		add(name, label, word, start, volts(left)+" after "+after+"; "+volts(limit)+" are allowed.")
	}
	switch atExempt := math.Abs(c-exemptFarads) <= 1e-9*exemptFarads; {
	case one > householdVolts && atExempt:
		add("household", "household", "editions-differ", "Editions differ: ", volts(one)+" after 1 s is above 34 V; a capacitor of just 0.1 µF is exempt in some editions, not in the amended fifth.")
	case one > householdVolts && c < exemptFarads:
		add("household", "household", "exempt", "Exempt below 0.1 µF, though ", volts(one)+" are left after 1 s.")
	default:
		plain("household", "household", one, householdVolts, "1 s")
	}
	plain("japan", "Japan", one, japanVolts, "1 s")
	switch {
	case one < itFraction*v0:
		add("it", "older IT", "passes", "Passes: ", volts(one)+" after 1 s; below "+volts(itFraction*v0)+" is allowed.")
	case c <= exemptFarads*(1+1e-9):
		add("it", "older IT", "exempt", "Exempt up to 0.1 µF, though ", volts(one)+" are left after 1 s.")
	default:
		add("it", "older IT", "fails", "Fails: ", volts(one)+" after 1 s; below "+volts(itFraction*v0)+" is allowed.")
	}
	plain("it-new", "newer IT", two, smallCharge(c), "2 s")
	switch {
	case one <= touchVolts:
		add("machinery", "machinery", "passes", "Passes: ", volts(one)+" after 1 s; 60 V are allowed.")
	case c*v0 <= machineryCharge:
		add("machinery", "machinery", "exempt", "Exempt up to 60 µC, though ", volts(one)+" are left after 1 s.")
	case five <= touchVolts:
		add("machinery", "machinery", "passes-behind-covers", "Fails for pins that can be touched: ", volts(one)+" after 1 s; 60 V are allowed. Passes behind covers: "+volts(five)+" after 5 s.")
	default:
		plain("machinery", "machinery", five, touchVolts, "5 s")
	}
	switch {
	case five > touchVolts && c*five <= laboratoryCharge:
		add("laboratory", "laboratory", "exempt", "Exempt up to 45 µC, though ", volts(five)+" are left after 5 s.")
	default:
		plain("laboratory", "laboratory", five, touchVolts, "5 s")
	}
	return list
}

func chart(in calc.In) (draw.Chart, error) {
	v0, tau := in.Num("volts"), in.Num("capacitor")*openOhms
	if is := in.Reading("resistor"); !is.IsAbove() {
		tau = in.Num("capacitor") * in.Num("resistor")
	}
	s := draw.Series{}
	for i := 0; i <= 120; i++ {
		t := 5 * float64(i) / 120
		s.X, s.Y = append(s.X, t), append(s.Y, passive.Remaining(v0, tau, t))
	}
	return draw.Chart{X: draw.Axis{Label: "time", Unit: "s"}, Y: draw.Axis{Label: "pins", Unit: "V"}, Series: []draw.Series{s},
		Marks: []draw.Mark{{Y: householdVolts, Name: "34 V", Level: true}, {Y: touchVolts, Name: "60 V", Level: true}, {Y: itFraction * v0, Name: "37 %", Level: true}}}, nil
}
