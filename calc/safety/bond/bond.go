package bond

import (
	_ "embed"
	"math"
	"slices"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
	"faultleaf/calc/safety"
	"faultleaf/calc/wire"
)

//go:embed doc.go
var doc string

// Calculator judges the earth path of a class I device.
var Calculator = &calc.Calculator{
	Name:    "earth-bond",
	Title:   "Earth bond after a repair",
	For:     "Tells whether the earth path from plug to metal is good enough, by each named rule side by side.",
	Shelf:   "safety",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "reading", Label: "Reading from earth pin to metal", Kind: quantity.Resistance, Reading: true, Measured: true, Like: "0.12 Ω", Low: "0 Ω", High: "1 MΩ", Help: "Test leads taken off, cord flexed, highest value."},
		{Name: "reversed", Label: "The same with the polarity reversed", Kind: quantity.Resistance, Reading: true, Optional: true, Low: "0 Ω", High: "1 MΩ", Help: "For a test with direct current; the higher one counts."},
		{Name: "part", Label: "What is tested", Default: "attached", Choices: []calc.Choice{{Name: "attached", Label: "Device with its fixed cord"}, {Name: "together", Label: "Device with its detachable cord plugged in"},
			{Name: "device", Label: "Device alone, from its inlet"}, {Name: "lead", Label: "Cord or extension lead alone"}}},
		{Name: "length", Label: "Length of the cord", Kind: quantity.Length, Default: "2 m", Low: "0 m", High: "100 m"},
		{Name: "area", Label: "Earth wire", Kind: quantity.Area, Default: "0.75 mm²", Low: "0.5 mm²", High: "10 mm²"},
		{Name: "rule", Label: "Rule that decides", Default: "strictest", From: calc.Rule, Choices: []calc.Choice{{Name: "strictest", Label: "The strictest of those here for ordinary devices"},
			{Name: "en", Label: "EN 50678 and EN 50699"}, {Name: "uk", Label: "UK code of practice"}, {Name: "maker", Label: "Makers' routine test, EN 50106"},
			{Name: "as-nzs", Label: "AS/NZS 3760"}, {Name: "medical", Label: "IEC 62353, medical"}}},
		{Name: "current", Label: "Current of the test", Kind: quantity.Current, Optional: true, Low: "1 µA", High: "50 A"},
		{Name: "open-volts", Label: "Voltage of the tester with its leads open", Kind: quantity.Voltage, Optional: true, Low: "0 V", High: "1000 V"},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "limit", Label: "Limit of the rule that decides", Kind: quantity.Resistance},
		{Name: "en", Label: "EN 50678 and EN 50699 (VDE 0701, VDE 0702)"},
		{Name: "uk", Label: "UK code of practice"},
		{Name: "maker", Label: "Makers' routine test, EN 50106"},
		{Name: "as-nzs", Label: "AS/NZS 3760"},
		{Name: "medical", Label: "IEC 62353, medical devices only"},
		{Name: "limit-en", Label: "Limit, EN 50678 and EN 50699", Kind: quantity.Resistance},
		{Name: "limit-uk", Label: "Limit, UK", Kind: quantity.Resistance},
		{Name: "limit-maker", Label: "Limit, EN 50106", Kind: quantity.Resistance},
		{Name: "limit-as-nzs", Label: "Limit, AS/NZS 3760", Kind: quantity.Resistance},
		{Name: "limit-medical", Label: "Limit, IEC 62353", Kind: quantity.Resistance},
		{Name: "regions", Label: "Where these rules are in use"},
		{Name: "cord", Label: "Earth wire of the cord by its size", Kind: quantity.Resistance},
		{Name: "longest", Label: "Extension lead at most, without RCD (UK)", Kind: quantity.Length},
		{Name: "test", Label: "The test itself"},
	},
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><mi>R</mi><mo>≤</mo><mn>0.1</mn><mi>Ω</mi><mo>+</mo><mi>l</mi><mo>·</mo><msub><mi>r</mi><mi>A</mi></msub></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Plug out for this test. A class I device whose earth fails goes to nobody: its metal can carry the mains. Test earth first, then insulation, then leakage."},
		{Signal: calc.Warning, Text: "These limits are guidance. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A kettle with 2 m of 0.75 mm² reads 0.12 Ω from its earth pin to its metal.",
		Inputs: []calc.Setting{{Name: "reading", Value: "0.12 Ω"}, {Name: "length", Value: "2 m"}, {Name: "area", Value: "0.75 mm²"}},
		Prints: []calc.Setting{{Name: "limit-uk", Value: "152.0 mΩ"}, {Name: "limit-en", Value: "300 mΩ"}, {Name: "verdict", Value: "Passes: 120.0 mΩ; 152.0 mΩ are allowed by the strictest rule here, the UK code."}},
	},
}

// longestLead is the recommended greatest length in m of an extension lead, by area in mm²; the
// UK code, section 10.10, as quoted.
var longestLead = map[float64]float64{1.25: 12, 1.5: 15, 2.5: 25}

// cordOhms is the resistance of one wire of a cord; metres and mm².
func cordOhms(length, area float64) float64 { return length * wire.Cord(area, false) }

// stepped is the EN rule for up to 1.5 mm²: 0.3 Ω to 5 m, 0.1 Ω for each further 7.5 m, at
// most 1 Ω, by full steps and by steps begun.
func stepped(length float64) (full, begun float64) {
	steps := math.Max(0, quantity.Round((length-5)/7.5, 9))
	return math.Min(1, 0.3+0.1*math.Floor(steps)), math.Min(1, 0.3+0.1*math.Ceil(steps))
}

func rules(part string, length, area float64) []safety.Rule {
	if part == "device" {
		length = 0
	}
	cord := cordOhms(length, area)
	full, begun := stepped(length)
	if area > 1.5 {
		full = math.Min(1, 0.1+cord)
		begun = full
	}
	list := []safety.Rule{safety.Span("en", "EN 50678 and EN 50699", full, begun), safety.One("uk", "the UK code", 0.1+cord)}
	switch part {
	case "device":
		list = append(list, safety.One("maker", "EN 50106", 0.1))
	case "attached", "together":
		m := math.Max(0.2, 0.1+cord)
		list = append(list, safety.One("maker", "EN 50106", m))
	}
	list = append(list, safety.One("as-nzs", "AS/NZS 3760", 1))
	medical := map[string]float64{"device": 0.2, "lead": 0.1, "together": 0.3, "attached": 0.3}[part]
	aside := safety.One("medical", "IEC 62353", medical)
	aside.Aside = true // counts only where it is chosen
	return append(list, aside)
}

func ohms(x float64) string { return quantity.Of(quantity.Resistance, x).Text() }

// worse holds both readings against a rule; the worse one counts.
func worse(in calc.In, r safety.Rule, by string) (word, says string) {
	rank := []string{"passes", "readings-differ", calc.CannotTell, "fails", "no-earth"}
	for _, name := range []string{"reading", "reversed"} {
		if !in.Has(name) {
			continue
		}
		shown := in.Reading(name)
		w, s := in.Judge(name, func(x float64) (string, string) {
			text := ohms(x)
			if !shown.Bounded() {
				text = shown.Says()
			}
			if over := shown.Shows == reading.Over && shown.Limit() > r.Lenient; over {
				x = math.Inf(1)
			} else if math.IsInf(x, 1) { // "> 2 Ω" is no missing earth yet
				x = math.MaxFloat64
			}
			return judge(r, x, text, by)
		})
		if w == calc.CannotTell && !shown.Bounded() {
			s = "Cannot tell: " + shown.Ask() + " " + ohms(r.Lenient) + " are allowed" + by + "."
		}
		if slices.Index(rank, w) > slices.Index(rank, word) {
			word, says = w, s
		}
	}
	return word, says
}

// judge holds a reading, printed as text, against a rule; by names the rule where
// it is not plain.
func judge(r safety.Rule, reading float64, text, by string) (word, says string) {
	switch {
	case math.IsInf(reading, 1):
		return "no-earth", "Fails, and gravely: no earth at all. With one fault more the metal is at mains. Out of use at once, plug drawn, until the earth is mended; " + ohms(r.Lenient) + " are allowed" + by + "."
	case reading <= r.Limit+1e-12:
		return "passes", "Passes: " + text + "; " + ohms(r.Limit) + " are allowed" + by + "."
	case reading <= r.Lenient+1e-12:
		return "readings-differ", "Readings of the rule differ: " + text + " is above " + ohms(r.Limit) + " by full steps of length, not above " + ohms(r.Lenient) + " by steps begun."
	}
	return "fails", "Fails: " + text + "; " + ohms(r.Lenient) + " are allowed" + by + "."
}

func run(in calc.In, out *calc.Out) error {
	var hold safety.Judge
	if in.Has("reading") {
		hold = func(r safety.Rule, by string) (string, string) { return worse(in, r, by) }
	}
	area := quantity.Round(in.Num("area")*1e6, 9)
	part := in.Word("part")
	list := rules(part, in.Num("length"), area)
	if err := safety.Decide(in, out, list, safety.Lower, hold, "EN 50106 has no limit for a lead alone; take another rule"); err != nil {
		return err
	}
	if part != "device" {
		out.Set("cord", cordOhms(in.Num("length"), area))
	}
	if m, ok := longestLead[area]; ok && part == "lead" {
		out.Set("longest", m)
		if in.Num("length") > m {
			out.Note("The lead is longer than the UK code recommends for its size; longer ones need an RCD.")
		}
	}
	test(in, out)
	return nil
}

// test judges current and open-circuit volts: IEC 62353 asks for 0.2 A and at most 24 V, EN
// 50106 for 10 A from at most 12 V.
func test(in calc.In, out *calc.Out) {
	switch amps := in.Num("current"); {
	case !in.Has("current"):
		out.Note("An ohmmeter's milliamperes do not prove an earth: a single strand reads well. Use at least 0.2 A, better 10 A.")
	case in.Has("open-volts") && in.Num("open-volts") > 24:
		out.Say("test", "too-many-volts", "More than 24 V with the leads open: not as IEC 62353 asks.")
	case amps < 0.2:
		out.Say("test", "too-weak", "Below 0.2 A: it finds a missing earth, not a weak one.")
	case amps >= 10:
		out.Say("test", "strong", "At least 10 A, as EN 50106 asks of makers, from at most 12 V.")
	default:
		out.Say("test", "enough", "At least 0.2 A, as IEC 62353 asks.")
	}
	if in.Has("current") && !in.Has("reversed") && in.Num("current") < 10 {
		out.Note("With direct current measure once more with the polarity reversed; the higher value counts.")
	}
}
