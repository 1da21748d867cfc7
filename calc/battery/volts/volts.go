package volts

import (
	_ "embed"
	"math"
	"strconv"

	"faultleaf/calc"
	"faultleaf/calc/battery"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives charging and float volts.
var Calculator = &calc.Calculator{
	Name:    "charge-voltage",
	Title:   "Charging and float volts",
	For:     "Tells at what volts a battery is charged and floated at its temperature, and when it must not be charged.",
	Shelf:   "battery",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "chemistry", Label: "Chemistry", Default: "lead-agm", Choices: battery.Choices()},
		{Name: "cells", Label: "Cells in series", Default: "6", Choices: battery.CellCounts(), Help: "A 12 V lead-acid battery has 6, a 12.8 V LiFePO4 4."},
		{Name: "temperature", Label: "Temperature of the battery", Kind: quantity.Temperature, Default: "25 °C", Low: "-40 °C", High: "80 °C"},
		{Name: "protection", Label: "Protection board (lithium)", Default: "not-seen", Choices: []calc.Choice{{Name: "not-seen", Label: "Not seen"},
			{Name: "works", Label: "There, and it works"}, {Name: "missing", Label: "Missing, bypassed or dead"}},
			Help: "The small board between the cells and the terminals that watches each cell. Lead-acid and NiMH need none."},
		{Name: "resting", Label: "Resting voltage before charging", Kind: quantity.Voltage, Reading: true, Optional: true, Low: "0 V", High: "120 V", Help: "To see whether it may be charged at all."},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "charge", Label: "Charge to", Kind: quantity.Voltage, Main: true},
		{Name: "float", Label: "Float at", Kind: quantity.Voltage, Main: true, Help: "To stay on for weeks."},
		{Name: "charge-range", Label: "Published, charge", Kind: quantity.Voltage},
		{Name: "float-range", Label: "Published, float", Kind: quantity.Voltage},
		{Name: "equalise", Label: "Equalise up to", Kind: quantity.Voltage, Help: "Flooded only, seldom, watched."},
		{Name: "per-cell", Label: "Charge to, per cell", Kind: quantity.Voltage},
		{Name: "dip", Label: "Ends when the voltage dips by", Kind: quantity.Voltage},
		{Name: "end-rate", Label: "Ends at a current of this share of the capacity", Kind: quantity.Ratio},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>V</mi><mo>=</mo><mi>n</mi><mo>(</mo><msub><mi>V</mi><mn>25</mn></msub><mo>+</mo><mi>k</mi><mo>(</mo><mi>T</mi><mo>−</mo>` +
		`<mtext>25 °C</mtext><mo>)</mo><mo>)</mo></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Never charge bare lithium cells, nor a lithium battery that is swollen, hot, frozen or below its lowest volts: it burns, also hours later. Charge where nothing burns, not unwatched."},
		{Signal: calc.Warning, Text: "Lead-acid gives off hydrogen: ventilate, no sparks, switch off before unclipping; frozen, hot or a smell of rotten eggs: stop. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A 12 V AGM battery stands in a cabinet at 35 °C.",
		Inputs: []calc.Setting{{Name: "temperature", Value: "35 °C"}},
		Prints: []calc.Setting{{Name: "float", Value: "13.32 V"}, {Name: "charge", Value: "13.80 V"}},
	},
	Plots: []calc.Plot{{Name: "temperature", Title: "Voltage against temperature",
		Says: "Charging and float volts over the temperature; lines that fall for lead-acid, flat for lithium, and cut off where it must not be charged. The upright is the temperature entered.", Chart: chart}},
	Onward: []calc.Onward{{Calculator: "charge-time", Says: "How long will it take?", Takes: []calc.Take{{From: "temperature", To: "temperature"}}}},
}

// level is one of the volts of a cell: at 25 °C, its published band, and its move per kelvin.
type level struct{ volts, low, high, perKelvin float64 }

func (l level) at(t float64) level {
	move := l.perKelvin * (t - 25)
	return level{l.volts + move, l.low + move, l.high + move, l.perKelvin}
}

// rule is how one chemistry is charged, V per cell; what it stands is in battery.Cells; sources in the package
// comment. A zero level does not exist for it.
type rule struct {
	charge, float, equalise level
	from, to                float64 // the correction ends here, °C
	endRate                 float64
}

var rules = map[string]rule{
	"lead-flooded": {charge: level{2.40, 2.40, 2.45, -0.005}, float: level{13.4 / 6, 2.15, 13.4 / 6, -0.005}, equalise: level{2.583, 2.583, 2.583, -0.005},
		from: -20, to: 50},
	"lead-agm": {charge: level{2.35, 2.35, 2.45, -0.005}, float: level{2.25, 2.25, 2.30, -0.003}, from: 5, to: 40},
	"lead-gel": {charge: level{2.40, 2.40, 2.40, -0.005}, float: level{2.25, 13.05 / 6, 2.25, -0.005}, from: -20, to: 50},
	"lifepo4":  {charge: level{3.65, 3.60, 3.70, 0}, from: 0, to: 45, endRate: 0.02},
	"li-ion":   {charge: level{4.20, 4.10, 4.20, 0}, from: 0, to: 45},
	"nimh":     {from: 0, to: 45},
}

const dipPerCell = 0.005 // NiMH, V

func run(in calc.In, out *calc.Out) error {
	r, stands := rules[in.Word("chemistry")], battery.Find(in.Word("chemistry"))
	count, err := strconv.Atoi(in.Word("cells"))
	if err != nil {
		return calc.Bad("cells", "Cells in series: write a whole number from 1 to 24")
	}
	n, t := float64(count), in.Num("temperature")
	slowly := ""
	if in.Has("resting") {
		cell := in.Num("resting") / n
		if cell > stands.None {
			return calc.Bad("cells", "Cells in series: "+text(in.Num("resting"))+" are "+text(cell)+" for each of "+in.Word("cells")+", more than such a cell gives; count again")
		}
		switch word, sentence := stands.State(cell); word {
		case "":
		case battery.Flat:
			slowly = sentence
		default:
			out.Say("verdict", word, sentence)
			return nil
		}
	}
	if stands.Lithium && in.Word("protection") != "works" {
		return calc.Bad("protection", "Protection board: bare lithium cells get no charging volts here; see that the pack's own board is there and works, or leave the pack to those who balance cells")
	}
	switch {
	case t < stands.Cold:
		out.Say("verdict", "too-cold", "Too cold to charge: not below "+celsius(stands.Cold)+". Let it warm up first, slowly.")
		return nil
	case t > stands.Hot:
		out.Say("verdict", "too-hot", "Too hot to charge: not above "+celsius(stands.Hot)+". Let it cool, and find out why it is hot.")
		return nil
	case in.Word("chemistry") == "nimh" && slowly != "":
		out.Say("verdict", battery.Flat, slowly)
		return nil
	case in.Word("chemistry") == "nimh":
		out.Set("dip", dipPerCell*n)
		out.Say("verdict", "not-by-volts", "Not by volts: charge with a current. 0.5 to 1 C until the volts dip by 5 mV a cell (10 to 45 °C), or 0.1 C for 16 h.")
		return nil
	}
	used := math.Min(math.Max(t, r.from), r.to)
	if used != t {
		out.Note("The maker's correction ends at " + celsius(used) + "; the volts are those of that temperature.")
	}
	charge := r.charge.at(used)
	out.Set("charge", n*charge.volts)
	out.SetRange("charge-range", n*charge.low, n*charge.high)
	out.Set("per-cell", charge.volts)
	if r.endRate > 0 {
		out.Set("end-rate", r.endRate)
	}
	if r.float.volts > 0 {
		float := r.float.at(used)
		out.Set("float", n*float.volts)
		out.SetRange("float-range", n*float.low, n*float.high)
	}
	if r.equalise.volts > 0 {
		out.Set("equalise", n*r.equalise.at(used).volts)
	}
	if stands.Lithium {
		if most := stands.MostAt(t); most < stands.Most {
			out.Note("In this cold charge at no more than " + quantity.Of(quantity.Ratio, most).Text() + " C.")
		}
		out.Say("verdict", "charge-then-off", "Charge to these volts with a charger made for it, then off: no float.")
		return nil
	}
	if t < 0 {
		out.Note("A discharged lead-acid battery freezes a little below 0 °C: if it may be frozen, do not charge it.")
	}
	if slowly != "" {
		out.Say("verdict", battery.Flat, slowly)
		return nil
	}
	out.Say("verdict", "charge-then-float", "Charge to the higher volts until the current stops falling, then float. The label goes first.")
	return nil
}

func text(v float64) string { return quantity.Of(quantity.Voltage, v).Text() }

func celsius(t float64) string { return quantity.Of(quantity.Temperature, t).Text() }

func chart(in calc.In) (draw.Chart, error) {
	r, stands := rules[in.Word("chemistry")], battery.Find(in.Word("chemistry"))
	if r.charge.volts == 0 {
		return draw.Chart{}, calc.Bad("chemistry", "Chemistry: NiMH is charged by current, so there are no volts to draw")
	}
	n, err := strconv.Atoi(in.Word("cells"))
	if err != nil {
		return draw.Chart{}, calc.Bad("cells", "Cells in series: write a whole number from 1 to 24")
	}
	charge, float := draw.Series{Name: "charge"}, draw.Series{Name: "float", Dashed: true}
	for k := 0; k <= 70; k++ {
		t := stands.Cold + float64((stands.Hot-stands.Cold)*float64(k)/70)
		used := math.Min(math.Max(t, r.from), r.to)
		charge.X, charge.Y = append(charge.X, t), append(charge.Y, float64(n)*r.charge.at(used).volts)
		if r.float.volts > 0 {
			float.X, float.Y = append(float.X, t), append(float.Y, float64(n)*r.float.at(used).volts)
		}
	}
	c := draw.Chart{X: draw.Axis{Label: "battery", Unit: "°C"}, Y: draw.Axis{Label: "voltage", Unit: "V"}, Series: []draw.Series{charge}}
	if len(float.X) > 0 {
		c.Series = append(c.Series, float)
	}
	if t := in.Num("temperature"); t >= stands.Cold && t <= stands.Hot {
		c.Marks = []draw.Mark{{X: t, Upright: true, Name: "entered"}}
	}
	return c, nil
}
