package leakage

import (
	_ "embed"
	"math"
	"slices"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/safety"
)

//go:embed doc.go
var doc string

// Calculator judges touch and protective conductor current.
var Calculator = &calc.Calculator{
	Name:    "leakage",
	Title:   "Leakage after a repair",
	For:     "Tells whether the touch current or the current in the earth wire is small enough, by each named rule side by side.",
	Shelf:   "safety",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "reading", Label: "Current measured", Kind: quantity.Current, Reading: true, Measured: true, Like: "0.3 mA", Low: "0 A", High: "30 A"},
		{Name: "reversed", Label: "The same with the plug turned", Kind: quantity.Current, Reading: true, Optional: true, Low: "0 A", High: "30 A", Help: "The higher one counts."},
		{Name: "path", Label: "Where it flows", Default: "touch", Choices: []calc.Choice{{Name: "touch", Label: "From metal that is not earthed"}, {Name: "earth", Label: "In the earth wire"}}},
		{Name: "class", Label: "Class of the device", Default: "i", Choices: []calc.Choice{{Name: "i", Label: "I, with earth"}, {Name: "ii", Label: "II, double insulated"}, {Name: "iii", Label: "III, safety extra-low voltage"}}},
		{Name: "device", Label: "Kind of device", Default: "portable", Choices: []calc.Choice{{Name: "portable", Label: "Household appliance, held or carried"}, {Name: "motor", Label: "Household appliance, stationary, with motor"},
			{Name: "heating", Label: "Household appliance, heating"}, {Name: "tool", Label: "Power tool"}, {Name: "lamp", Label: "Lamp or luminaire"}, {Name: "it", Label: "IT, audio, video or their supply"}}},
		{Name: "power", Label: "Power of the heating", Kind: quantity.Power, Default: "2 kW", Low: "1 W", High: "100 kW"},
		{Name: "input", Label: "Input current of IT equipment", Kind: quantity.Current, Optional: true, Low: "1 mA", High: "200 A", Help: "Decides nothing with an ordinary plug."},
		{Name: "y-capacitor", Label: "Capacitors from one mains wire to earth", Kind: quantity.Capacitance, Optional: true, Low: "0 pF", High: "100 µF", Help: "All on the live side added up."},
		{Name: "mains", Label: "Mains", Kind: quantity.Voltage, Default: "230 V", From: calc.Mains, Low: "1 V", High: "1000 V"},
		{Name: "hertz", Label: "Frequency", Kind: quantity.Frequency, Default: "50 Hz", From: calc.Hertz, Low: "1 Hz", High: "1 kHz"},
		{Name: "rule", Label: "Rule that decides", Default: "strictest", From: calc.Rule, Choices: []calc.Choice{{Name: "strictest", Label: "The strictest"}, {Name: "en", Label: "EN 50678 and EN 50699"},
			{Name: "uk-5", Label: "UK code, 5th edition"}, {Name: "uk-4", Label: "UK code, 4th edition, superseded"}, {Name: "iec", Label: "IEC 60335-1, makers of household appliances"}, {Name: "iec-62368", Label: "IEC 62368-1, makers of IT and audio"},
			{Name: "as-nzs", Label: "AS/NZS 3760"}, {Name: "ul", Label: "UL 101, North America"}, {Name: "ul-led", Label: "UL 8750, LED lighting, North America"}}},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "limit", Label: "Limit of the rule that decides", Kind: quantity.Current, Main: true},
		{Name: "en", Label: "EN 50678 and EN 50699 (VDE 0701, VDE 0702)"},
		{Name: "uk-5", Label: "UK code, 5th edition"},
		{Name: "uk-4", Label: "UK code, 4th edition, superseded"},
		{Name: "iec", Label: "IEC 60335-1, makers of household appliances"},
		{Name: "iec-62368", Label: "IEC 62368-1, makers of IT and audio"},
		{Name: "as-nzs", Label: "AS/NZS 3760"},
		{Name: "ul", Label: "UL 101, North America (from memory)"},
		{Name: "ul-led", Label: "UL 8750, LED lighting, North America"},
		{Name: "limit-en", Label: "Limit, EN 50678 and EN 50699", Kind: quantity.Current},
		{Name: "limit-uk-5", Label: "Limit, UK 5th edition", Kind: quantity.Current},
		{Name: "limit-uk-4", Label: "Limit, UK 4th edition", Kind: quantity.Current},
		{Name: "limit-iec", Label: "Limit, IEC 60335-1", Kind: quantity.Current},
		{Name: "limit-as-nzs", Label: "Limit, AS/NZS 3760", Kind: quantity.Current},
		{Name: "limit-iec-62368", Label: "Limit, IEC 62368-1", Kind: quantity.Current},
		{Name: "limit-ul", Label: "Limit, UL 101", Kind: quantity.Current},
		{Name: "limit-ul-led", Label: "Limit, UL 8750", Kind: quantity.Current},
		{Name: "regions", Label: "Where these rules are in use"},
		{Name: "it", Label: "IT equipment above 3.5 mA"},
		{Name: "expected", Label: "What the capacitors alone let through", Kind: quantity.Current},
	},
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><msub><mi>I</mi><mi>Y</mi></msub><mo>=</mo><mn>2</mn><mi>π</mi><mi>f</mi><mi>C</mi><mi>V</mi></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "The device runs on mains for this test. First prove earth bond and insulation; hands off metal; stand where no earthed part is in reach."},
		{Signal: calc.Warning, Text: "These limits are guidance. A device that fails stays unplugged. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "From the unearthed metal of a class I lamp 0.6 mA flow to earth.",
		Inputs: []calc.Setting{{Name: "reading", Value: "0.6 mA"}, {Name: "class", Value: "i"}},
		Prints: []calc.Setting{{Name: "limit", Value: "500 µA"}, {Name: "verdict", Value: "Fails: 600 µA; 500 µA are allowed by the strictest rule here, EN 50678 and EN 50699."},
			{Name: "uk-5", Value: "Passes: 600 µA; 5.00 mA are allowed."}},
	},
}

// perKilowatt is a limit that grows with heating power between a floor and a cap, in A; W.
func perKilowatt(power, rate, floor, cap float64) float64 {
	return math.Min(cap, math.Max(floor, rate*power/1000))
}

// appliance tells the devices that IEC 60335-1 speaks of; not tools, lamps or IT.
func appliance(device string) bool {
	return device == "portable" || device == "motor" || device == "heating"
}

// rules lists those that speak of this case, no rule outside its scope; sources in
// the package comment.
func rules(path, class, device string, power float64) []safety.Rule {
	const mA = 1e-3
	en := func(limit float64) safety.Rule { return safety.One("en", "EN 50678 and EN 50699", limit) }
	uk := safety.One("uk-5", "the UK code, 5th edition", 5*mA)
	older := func(limit float64) safety.Rule {
		r := safety.One("uk-4", "the UK code, 4th edition, superseded", limit)
		r.Aside = true // counts only where it is chosen
		return r
	}
	makers := func(limit float64) safety.Rule { return safety.One("iec", "IEC 60335-1", limit) }
	if path == "earth" {
		heating := perKilowatt(power, 0.75*mA, 0.75*mA, 5*mA)
		limit := 3.5 * mA
		if device == "heating" {
			limit = perKilowatt(power, 1*mA, 3.5*mA, 10*mA)
		}
		byKind := map[string]float64{"portable": 0.75 * mA, "tool": 0.75 * mA, "lamp": 0.75 * mA, "motor": 3.5 * mA, "heating": heating, "it": 3.5 * mA}[device]
		list := []safety.Rule{en(limit), uk, older(byKind)}
		if appliance(device) {
			list = append(list, makers(byKind))
		}
		return append(list, safety.One("as-nzs", "AS/NZS 3760", 5*mA))
	}
	var list []safety.Rule
	switch class {
	case "iii":
		if appliance(device) {
			return []safety.Rule{makers(0.5 * mA)}
		}
		return nil
	case "ii":
		list = []safety.Rule{en(0.5 * mA), uk, older(0.25 * mA)}
		if appliance(device) {
			list = append(list, makers(0.25*mA))
		}
		list = append(list, safety.One("as-nzs", "AS/NZS 3760", 1*mA))
	default:
		list = []safety.Rule{en(0.5 * mA), uk}
	}
	if device == "it" {
		list = append(list, safety.One("iec-62368", "IEC 62368-1", 0.5*mA))
	}
	if device == "lamp" {
		return append(list, safety.One("ul-led", "UL 8750, LED lighting alone", 0.5*mA))
	}
	american := 0.5 * mA
	if device == "motor" && class == "i" {
		american = 0.75 * mA // three wires and stationary
	}
	return append(list, safety.One("ul", "UL 101, from memory", american))
}

func amps(x float64) string { return quantity.Of(quantity.Current, x).Text() }

// worse holds both readings against a rule; the worse one counts.
func worse(in calc.In, r safety.Rule, by string) (word, says string) {
	rank := []string{"passes", calc.CannotTell, "fails"}
	for _, name := range []string{"reading", "reversed"} {
		if !in.Has(name) {
			continue
		}
		w, s := in.Judge(name, func(x float64) (string, string) {
			if shown := in.Reading(name); !shown.Bounded() {
				return judge(r, x, shown.Says(), by)
			}
			return judge(r, x, amps(x), by)
		})
		if slices.Index(rank, w) > slices.Index(rank, word) {
			word, says = w, s
		}
	}
	return word, says
}

func judge(r safety.Rule, reading float64, text, by string) (word, says string) {
	if reading <= r.Limit*(1+1e-12) {
		return "passes", "Passes: " + text + "; " + amps(r.Limit) + " are allowed" + by + "."
	}
	return "fails", "Fails: " + text + "; " + amps(r.Limit) + " are allowed" + by + "."
}

// throughCapacitor is the current in A of a capacitor on alternating volts.
func throughCapacitor(c, volts, hertz float64) float64 { return 2 * math.Pi * hertz * c * volts }

// itThreshold is above which IT equipment was judged by its connection too.
const itThreshold = 3.5e-3

func run(in calc.In, out *calc.Out) error {
	path, class := in.Word("path"), in.Word("class")
	if path == "earth" && class != "i" {
		return calc.Bad("path", "Where it flows: only class I has an earth wire; measure the touch current")
	}
	var hold safety.Judge
	reading := 0.0
	if in.Has("reading") {
		hold = func(r safety.Rule, by string) (string, string) { return worse(in, r, by) }
		for _, name := range []string{"reading", "reversed"} {
			if in.Has(name) {
				if reading = math.Max(reading, in.Reading(name).Limit()); in.Reading(name).Bounded() {
					reading = math.Max(reading, in.Num(name))
				}
			}
		}
	}
	if !in.Has("reversed") {
		out.Note("Turn the plug and measure again; the higher value counts.")
	}
	list := rules(path, class, in.Word("device"), in.Num("power"))
	if err := safety.Decide(in, out, list, safety.Lower, hold, "it gives no limit for this class and path in what was read; take another or the strictest"); err != nil {
		return err
	}
	if in.Word("device") == "it" && path == "earth" && hold != nil {
		if reading <= itThreshold {
			out.Say("it", "not-needed", "No extra condition: not above 3.5 mA.")
		} else {
			out.Say("it", "not-offered", "Above 3.5 mA. The way out, within 5 % of the input current with a warning beside the plug, was for stationary equipment, permanently connected or by an industrial plug "+
				"(IEC 60950-1, withdrawn). With an ordinary plug it does not hold: find what leaks, or ask a licensed electrician.")
		}
	}
	if in.Has("y-capacitor") {
		expected := throughCapacitor(in.Num("y-capacitor"), in.Num("mains"), in.Num("hertz"))
		out.Set("expected", expected)
		if reading > 2*expected {
			out.Note("More flows than twice what the capacitors explain: look for moisture, dirt or a failing insulation.")
		}
	}
	return nil
}
