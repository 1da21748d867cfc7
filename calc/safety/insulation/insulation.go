package insulation

import (
	_ "embed"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
	"faultleaf/calc/safety"
)

//go:embed doc.go
var doc string

// Calculator judges insulation resistance.
var Calculator = &calc.Calculator{
	Name:    "insulation",
	Title:   "Insulation after a repair",
	For:     "Tells whether the insulation resistance is high enough, by each named rule side by side.",
	Shelf:   "safety",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "reading", Label: "Insulation resistance", Kind: quantity.Resistance, Reading: true, Meter: reading.Meter{Over: leastRange}, Measured: true, Like: "20 MΩ", Low: "0 Ω", High: "1000 GΩ",
			Help: "If the tester shows more than its range, write it so: > 200 MΩ, or OL."},
		{Name: "class", Label: "Kind of device", Default: "i", Choices: []calc.Choice{{Name: "i", Label: "Class I, earthed metal"}, {Name: "heating", Label: "Class I with heating element"},
			{Name: "ii", Label: "Class II, double insulated"}, {Name: "iii", Label: "Class III, safety extra-low voltage"}, {Name: "separation", Label: "Across a safety transformer or supply"}}},
		{Name: "power", Label: "Power of the heating", Kind: quantity.Power, Default: "2 kW", Low: "1 W", High: "100 kW"},
		{Name: "test-volts", Label: "Voltage of the test", Kind: quantity.Voltage, Default: "500 V", Low: "1 V", High: "5 kV"},
		{Name: "mains", Label: "Mains", Kind: quantity.Voltage, Default: "230 V", From: calc.Mains, Low: "1 V", High: "1000 V"},
		{Name: "rule", Label: "Rule that decides", Default: "strictest", From: calc.Rule, Choices: []calc.Choice{{Name: "strictest", Label: "The strictest"}, {Name: "en", Label: "EN 50678 and EN 50699"},
			{Name: "uk", Label: "UK code of practice"}, {Name: "as-nzs", Label: "AS/NZS 3760"}}},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "limit", Label: "Least value by the rule that decides", Kind: quantity.Resistance},
		{Name: "en", Label: "EN 50678 and EN 50699 (VDE 0701, VDE 0702)"},
		{Name: "uk", Label: "UK code of practice"},
		{Name: "as-nzs", Label: "AS/NZS 3760"},
		{Name: "limit-en", Label: "Least, EN 50678 and EN 50699", Kind: quantity.Resistance},
		{Name: "limit-uk", Label: "Least, UK", Kind: quantity.Resistance},
		{Name: "limit-as-nzs", Label: "Least, AS/NZS 3760", Kind: quantity.Resistance},
		{Name: "regions", Label: "Where these rules are in use"},
		{Name: "through", Label: "What the mains sends through this resistance", Kind: quantity.Current, Help: "Without the current through capacitance."},
	},
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><msub><mi>R</mi><mtext>reading</mtext></msub><mo>≥</mo><msub><mi>R</mi><mtext>least</mtext></msub></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "The tester puts 500 V on the device: plug out of the mains, nobody touches it, discharge before taking the leads off. Test the earth bond first."},
		{Signal: calc.Warning, Text: "These limits are guidance. A device that fails stays unplugged. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A double-insulated drill reads 1.5 MΩ from its plug's pins to its chuck.",
		Inputs: []calc.Setting{{Name: "reading", Value: "1.5 MΩ"}, {Name: "class", Value: "ii"}},
		Prints: []calc.Setting{{Name: "as-nzs", Value: "Passes: 1.500 MΩ; at least 1.000 MΩ is asked."},
			{Name: "verdict", Value: "Fails: 1.500 MΩ; at least 2.00 MΩ is asked by the strictest rule here, EN 50678 and EN 50699."}, {Name: "through", Value: "153.3 µA"}},
	},
	Onward: []calc.Onward{{Calculator: "leakage", Says: "What flows with the mains on?", Takes: []calc.Take{{From: "mains", To: "mains"}}}},
}

// heatingFrom is the power above which both readings of the EN rule allow 0.3 MΩ.
const heatingFrom = 3500

func rules(class string, power float64) []safety.Rule {
	const uk = "the UK code"
	en := func(limit, lenient float64) safety.Rule {
		return safety.Span("en", "EN 50678 and EN 50699", limit, lenient)
	}
	as := safety.One("as-nzs", "AS/NZS 3760", 1e6)
	switch class {
	case "heating":
		if power > heatingFrom {
			return []safety.Rule{en(0.3e6, 0.3e6)}
		}
		return []safety.Rule{en(1e6, 0.3e6)}
	case "ii":
		return []safety.Rule{en(2e6, 2e6), safety.One("uk", uk, 2e6), as}
	case "iii":
		return []safety.Rule{en(0.25e6, 0.25e6)}
	case "separation":
		return []safety.Rule{en(2e6, 2e6)}
	}
	return []safety.Rule{en(1e6, 1e6), safety.One("uk", uk, 1e6), as}
}

// leastRange is where the lowest full scale of insulation testers for 500 V ends;
// from memory.
const leastRange = 20e6

func ohms(x float64) string { return quantity.Of(quantity.Resistance, x).Text() }

func judge(r safety.Rule, reading float64, text, by string) (word, says string) {
	switch {
	case reading >= r.Limit:
		return "passes", "Passes: " + text + "; at least " + ohms(r.Limit) + " is asked" + by + "."
	case reading >= r.Lenient:
		return "sources-differ", "Sources differ: " + text + " is enough for a heating element in one, not at or below 3.5 kW in another, which asks " + ohms(r.Limit) + ". Dry it at heat and test again, and measure the leakage."
	}
	return "fails", "Fails: " + text + "; at least " + ohms(r.Lenient) + " is asked" + by + "."
}

func run(in calc.In, out *calc.Out) error {
	var hold safety.Judge
	if in.Has("reading") {
		shown := in.Reading("reading")
		hold = func(r safety.Rule, by string) (string, string) {
			word, says := in.Judge("reading", func(x float64) (string, string) {
				text := ohms(x)
				if !shown.Bounded() {
					text = shown.Says()
				}
				return judge(r, x, text, by)
			})
			if word == calc.CannotTell && !shown.Bounded() {
				says = "Cannot tell: " + shown.Ask() + " At least " + ohms(r.Limit) + " is asked" + by + "."
			}
			return word, says
		}
		least := shown.Limit() // of what it may be
		if shown.Bounded() {
			least = in.Num("reading")
		} else if shown.IsBelow() {
			least = 0
		}
		if least > 0 && in.Word("class") != "iii" {
			out.Set("through", in.Num("mains")/least)
		}
		if least == 0 && shown.Bounded() {
			out.Note("0 Ω is a short from the mains to metal, or the leads touch: do not plug it in.")
		}
	}
	list := rules(in.Word("class"), in.Num("power"))
	if err := safety.Decide(in, out, list, safety.Higher, hold, "for this kind of device only EN 50678 and EN 50699 are held here; take that rule or the strictest"); err != nil {
		return err
	}
	if in.Word("class") == "heating" && in.Num("power") > heatingFrom {
		out.Note("With heating above 3.5 kW the leakage must be measured as well where less than 1 MΩ is read.")
	}
	if in.Num("test-volts") < 500 && in.Word("class") != "iii" {
		out.Note("Below 500 V the test proves less; 250 V is meant for devices with surge parts. Measure the leakage too.")
	}
	if in.Num("test-volts") > 1000 {
		out.Note("Above 1000 V is no test for a device with a plug: it may break what was sound.")
	}
	out.Note("A switch that is off, or a relay, keeps the test from what lies behind it.")
	return nil
}
