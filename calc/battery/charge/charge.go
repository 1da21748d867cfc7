package charge

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/battery"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives the time a charge takes and judges the current.
var Calculator = &calc.Calculator{
	Name:    "charge-time",
	Title:   "Time to charge a battery",
	For:     "Tells how long a charge takes, shortest and longest, how it ends, and whether the current suits the battery.",
	Shelf:   "battery",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "chemistry", Label: "Chemistry", Default: "lead-agm", Choices: battery.Choices()},
		{Name: "capacity", Label: "Capacity", Kind: quantity.Charge, Default: "7 Ah", Low: "10 mAh", High: "5000 Ah", Help: "As marked; less for an old battery."},
		{Name: "current", Label: "Charging current", Kind: quantity.Current, Default: "0.7 A", Low: "1 mA", High: "1000 A", Help: "Of the charger, less what the device draws meanwhile."},
		{Name: "from", Label: "State of charge at the start", Kind: quantity.Percent, Default: "50 %", Low: "0 %", High: "99 %"},
		{Name: "temperature", Label: "Temperature of the battery", Kind: quantity.Temperature, Default: "20 °C", Low: "-40 °C", High: "80 °C"},
	},
	Outputs: []calc.Output{
		{Name: "time", Label: "Time to full", Kind: quantity.Duration, Main: true, Help: "From the shortest possible to the longest by the published rules."},
		{Name: "verdict", Label: "The current", Main: true},
		{Name: "rate", Label: "Current as a share of the capacity", Kind: quantity.Ratio, Help: "0.1 means a tenth of the ampere-hours, 0.1 C."},
		{Name: "missing", Label: "Charge that is missing", Kind: quantity.Charge},
		{Name: "put-back", Label: "Charge to put back", Kind: quantity.Charge},
		{Name: "usual-current", Label: "Usual current", Kind: quantity.Current},
		{Name: "highest-current", Label: "Highest current at this temperature", Kind: quantity.Current, Help: "Where the maker's label does not say.", Limit: quantity.Highest},
		{Name: "end-current", Label: "Ends when the current has fallen to", Kind: quantity.Current},
		{Name: "ends", Label: "How it ends"},
		{Name: "charged-at", Label: "Charged between", Kind: quantity.Temperature},
		{Name: "discharge-end", Label: "Discharged down to, a cell", Kind: quantity.Voltage},
		{Name: "discharged-at", Label: "Discharged between", Kind: quantity.Temperature},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>t</mi><mo>≥</mo><mi>f</mi><mo>·</mo><mfrac><mrow><mi>C</mi><mo>(</mo><mn>1</mn><mo>−</mo><mi>s</mi><mo>)</mo></mrow>` +
		`<mi>I</mi></mfrac></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Do not charge a lithium battery that is swollen, hot, frozen, below its lowest voltage or without its protection board; not indoors unwatched. A frozen lead-acid battery may burst."},
		{Signal: calc.Warning, Text: "Lead-acid: ventilate, no sparks, switch off before unclipping; hot or a smell of rotten eggs: stop. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says: "A 220 Ah flooded battery, empty, on a 30 A charger.",
		Inputs: []calc.Setting{{Name: "chemistry", Value: "lead-flooded"}, {Name: "capacity", Value: "220 Ah"}, {Name: "current", Value: "30 A"},
			{Name: "from", Value: "0 %"}},
		Prints: []calc.Setting{{Name: "time", Value: "8 h 4 min to 15 h 20 min"}, {Name: "rate", Value: "0.1364"}},
	},
	Plots: []calc.Plot{{Name: "time", Title: "Time against current",
		Says: "Two curves, the shortest and the longest time for each current; both fall steeply at first, and twice the current never halves the longest. The upright is the current entered.", Chart: chart}},
}

const hour = 3600.0

// rule is how a charge of one chemistry goes; what it stands is in battery.Cells; sources in the package comment.
type rule struct {
	factorLow, factorHigh float64 // charge put in over charge missing
	tail                  float64 // s, added at the long end
	endRate               float64 // current at the end over capacity; 0 where it does not end so
	ends                  string
}

func ruleFor(chemistry string, rate float64) rule {
	switch chemistry {
	case "lead-flooded":
		return rule{factorLow: 1.1, factorHigh: 1, tail: 8 * hour, ends: "The current has stopped falling for hours and every cell gasses alike; then float or switch off."}
	case "lead-agm":
		return rule{factorLow: 1.1, factorHigh: 1, tail: 8 * hour, ends: "The current has stopped falling; then go down to the float voltage."}
	case "lead-gel":
		return rule{factorLow: 1.1, factorHigh: 1, tail: 8 * hour, ends: "The current has stopped falling; then go down to the float voltage. Never above the label's voltage: gas that forms in gel stays there."}
	case "lifepo4":
		return rule{factorLow: 1, factorHigh: 1, tail: hour / 2, endRate: 0.02, ends: "At 3.65 V a cell, when the current has fallen to 0.02 C; then off, no float."}
	case "li-ion":
		return rule{factorLow: 1, factorHigh: 1, tail: 2 * hour, endRate: 0.02, ends: "At 4.2 V a cell, when the current has fallen far; then off, no float."}
	}
	switch {
	case rate <= slowest:
		return rule{factorLow: 1.6, factorHigh: 1.6, ends: "By the clock; afterwards at most 0.1 C as trickle."}
	case rate < fastest:
		return rule{factorLow: 1.2, factorHigh: 1.6, ends: "Nothing ends it surely: too fast for the clock, too slow for the dip in voltage. Watch the temperature, or take 0.1 C."}
	}
	return rule{factorLow: 1.05, factorHigh: 1.2, ends: "The voltage dips by 5 mV a cell, or it warms by 0.8 to 0.9 K a minute; cut-out at 45 to 55 °C."}
}

// fastCold is the temperature in °C from which NiMH is charged fast.
const fastCold = 10

// NiMH: up to 0.1 C by the clock, from 0.5 C by the dip in voltage.
const slowest, fastest = 0.1 * (1 + 1e-9), 0.5 * (1 - 1e-9)

// times are the shortest and the longest time in s to put back missing coulombs at i amperes.
func (r rule) times(missing, i float64) (low, high float64) {
	low, high = r.factorLow*missing/i, float64(r.factorHigh*missing/i)+r.tail
	return low, math.Max(low, high)
}

func run(in calc.In, out *calc.Out) error {
	c, i, t := in.Num("capacity"), in.Num("current"), in.Num("temperature")
	rate := i * hour / c
	if rate > 10 {
		return calc.Bad("current", "Charging current: "+amperes(i)+" would fill "+quantity.Of(quantity.Charge, c).Text()+
			" in minutes; no battery takes that, check the prefixes")
	}
	chemistry := in.Word("chemistry")
	r, stands := ruleFor(chemistry, rate), battery.Find(chemistry)
	cold, most := stands.Cold, stands.MostAt(t)
	if chemistry == "nimh" && rate > slowest {
		cold = fastCold
	}
	missing := c * (1 - in.Num("from"))
	out.Set("rate", rate)
	out.Set("missing", missing)
	out.Set("put-back", r.factorLow*missing)
	out.Set("usual-current", stands.Usual*c/hour)
	out.SetRange("charged-at", cold, stands.Hot)
	out.Set("discharge-end", stands.End)
	out.SetRange("discharged-at", stands.DischargeCold, stands.DischargeHot)
	if r.endRate > 0 {
		out.Set("end-current", r.endRate*c/hour)
	}
	switch {
	case t < cold && chemistry == "nimh" && t >= 0:
		out.Say("verdict", "too-cold", "Too cold for this current: NiMH is charged fast from 10 °C on; trickle it from 0 °C.")
		return nil
	case t < cold:
		out.Say("verdict", "too-cold", "Too cold to charge: not below "+celsius(cold)+". Let it warm up indoors first.")
		return nil
	case t > stands.Hot:
		out.Say("verdict", "too-hot", "Too hot to charge: not above "+celsius(stands.Hot)+". Let it cool, and find out why.")
		return nil
	}
	out.Set("highest-current", most*c/hour)
	if most < stands.Most && rate > most*(1+1e-9) {
		out.Say("verdict", "too-high-for-cold", "Too high for this cold: "+amperes(i)+" where "+amperes(most*c/hour)+", "+quantity.Of(quantity.Ratio, most).Text()+" C, is the most at "+celsius(t)+": metal grows inside and it may burn later. Let it warm up indoors first.")
		return nil
	}
	low, high := r.times(missing, i)
	out.SetRange("time", low, high)
	out.Say("ends", "end", r.ends)
	switch {
	case rate > most*(1+1e-9):
		out.Say("verdict", "too-high", "Too high: "+amperes(i)+" where "+amperes(most*c/hour)+" is the most, unless the label allows more.")
	case chemistry == "nimh" && rate > slowest && rate < fastest:
		out.Say("verdict", "in-between", "Neither slow nor fast: take 0.1 C by the clock, or 0.5 to 1 C with a charger that sees the dip in voltage.")
	case low > 48*hour:
		out.Say("verdict", "very-low", "Very low: it takes days, and self-discharge takes its share.")
	case rate > stands.Usual*(1+1e-9) && stands.Lithium:
		out.Say("verdict", "suits", "Within the most that makers allow and above the usual "+amperes(stands.Usual*c/hour)+": only where the label says so.")
	default:
		out.Say("verdict", "suits", "Suits it; the label goes first.")
	}
	if (chemistry == "lead-flooded" || chemistry == "lead-agm" || chemistry == "lead-gel") && t < 0 {
		out.Note("A discharged lead-acid battery freezes a little below 0 °C: if it may be frozen, do not charge it.")
	}
	out.Note("Full after a few minutes means worn, not charged.")
	return nil
}

func amperes(i float64) string { return quantity.Of(quantity.Current, i).Text() }

func celsius(t float64) string { return quantity.Of(quantity.Temperature, t).Text() }

func chart(in calc.In) (draw.Chart, error) {
	c, i := in.Num("capacity"), in.Num("current")
	missing := c * (1 - in.Num("from"))
	shortest, longest := draw.Series{Name: "shortest"}, draw.Series{Name: "longest", Dashed: true}
	for k := 0; k <= 60; k++ {
		x := i * (0.4 + 2.6*float64(k)/60)
		low, high := ruleFor(in.Word("chemistry"), x*hour/c).times(missing, x)
		shortest.X, shortest.Y = append(shortest.X, x), append(shortest.Y, low/hour)
		longest.X, longest.Y = append(longest.X, x), append(longest.Y, high/hour)
	}
	return draw.Chart{X: draw.Axis{Label: "charging current", Unit: "A"}, Y: draw.Axis{Label: "time to full", Unit: "h"},
		Series: []draw.Series{shortest, longest}, Marks: []draw.Mark{{X: i, Upright: true, Name: "entered"}}}, nil
}
