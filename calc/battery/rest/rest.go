package rest

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

// Calculator gives the state of charge from resting volts, as a band.
var Calculator = &calc.Calculator{
	Name:    "rest-voltage",
	Title:   "State of charge from resting volts",
	For:     "Tells how far a resting battery is charged, as a band with the disagreement of the tables and the meter in it.",
	Shelf:   "battery",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "chemistry", Label: "Chemistry", Default: "lead-flooded", Choices: []calc.Choice{{Name: "lead-flooded", Label: "Lead-acid, flooded"},
			{Name: "lead-agm", Label: "Lead-acid, sealed (AGM, gel)"}, {Name: "lifepo4", Label: "LiFePO4 (3.2 V cells)"},
			{Name: "li-ion", Label: "Li-ion (3.6 or 3.7 V cells)"}, {Name: "nimh", Label: "NiMH or NiCd"}}},
		{Name: "volts", Label: "Resting voltage of the battery", Kind: quantity.Voltage, Reading: true, Measured: true, Like: "12.40 V", Low: "0 V", High: "120 V",
			Help: "At the terminals, nothing connected."},
		{Name: "cells", Label: "Cells in series", Default: "6", Choices: battery.CellCounts(), Help: "A 12 V lead-acid battery has 6, a 12.8 V LiFePO4 4, a 10.8 V tool pack 3."},
		{Name: "rest", Label: "At rest since", Kind: quantity.Duration, Default: "12 h", Low: "0 s", High: "730 d"},
		{Name: "meter-error", Label: "Error of the meter", Kind: quantity.Percent, Default: "0.5 %", Low: "0 %", High: "5 %", Help: "From its manual; 0.5 % is usual for a hand-held one."},
		{Name: "gravity", Label: "Hydrometer reading", Kind: quantity.Gravity, Optional: true, Low: "1.000", High: "1350", Help: "Flooded cells only; take the lowest cell. Like 1.240, or 1240 as printed."},
		{Name: "acid-temperature", Label: "Temperature of the acid", Kind: quantity.Temperature, Default: "25 °C", Low: "-30 °C", High: "60 °C"},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "What it says", Main: true},
		{Name: "share", Label: "State of charge", Kind: quantity.Percent, Main: true, Help: "From the lowest to the highest published table, over the meter's error."},
		{Name: "per-cell", Label: "Voltage per cell", Kind: quantity.Voltage},
		{Name: "meter-points", Label: "Of the band, the meter alone makes", Kind: quantity.Percent},
		{Name: "gravity-corrected", Label: "Gravity at 26.7 °C (80 °F)", Kind: quantity.Gravity},
		{Name: "gravity-share", Label: "State of charge by the gravity", Kind: quantity.Percent},
		{Name: "gravity-volts", Label: "Resting voltage that belongs to this gravity", Kind: quantity.Voltage},
	},
	Compute: run,
	Doc:     doc,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Do not charge a lithium battery that is swollen, hot, frozen or below its lowest volts. Lead-acid gives off hydrogen: ventilate, no sparks, switch the charger off before unclipping."},
		{Signal: calc.Warning, Text: "Acid burns: goggles and gloves for the hydrometer. A battery short welds a ring or a spanner. Frozen, hot or a smell of rotten eggs: stop. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A flooded 12 V battery, overnight off the charger, shows 12.15 V on a meter taken as exact.",
		Inputs: []calc.Setting{{Name: "volts", Value: "12.15 V"}, {Name: "meter-error", Value: "0 %"}},
		Prints: []calc.Setting{{Name: "share", Value: "25–48 %"}, {Name: "per-cell", Value: "2.03 V"}},
	},
	Plots: []calc.Plot{{Name: "tables", Title: "What each table says",
		Says: "One curve a published table, volts upward and state of charge across; the level is the reading. Where the curves lie far apart or flat, volts say little.", Chart: chart}},
	Onward: []calc.Onward{{Calculator: "charge-time", Says: "How long will charging take from here?", Takes: []calc.Take{{From: "share", To: "from"}}}},
}

// table holds volts per cell, highest first, and the share that belongs to each.
type table struct {
	name   string
	volts  []float64
	shares []float64
}

// block makes a table from the volts of a block of n cells. A table that ends above empty
// goes on along its last step.
func block(name string, n float64, rows ...float64) table {
	t := table{name: name}
	for i := 0; i+1 < len(rows); i += 2 {
		t.volts, t.shares = append(t.volts, rows[i]/n), append(t.shares, rows[i+1]/100)
	}
	if k := len(t.volts) - 1; t.shares[k] > 0 {
		slope := (t.volts[k-1] - t.volts[k]) / (t.shares[k-1] - t.shares[k])
		t.volts, t.shares = append(t.volts, t.volts[k]-float64(t.shares[k]*slope)), append(t.shares, 0)
	}
	return t
}

// chemistry is what is published of one kind of cell at rest; what it stands is in battery.Cells.
type chemistry struct {
	tables []table
	rest   float64 // s to wait
}

const hour = 3600.0

// The tables as printed; their sources stand in the package comment.
var chemistries = map[string]chemistry{
	"lead-flooded": {tables: []table{
		block("vehicle magazine", 6, 12.66, 100, 12.45, 75, 12.30, 50, 12.15, 25),
		block("mailing list", 6, 12.6, 100, 12.4, 75, 12.2, 50, 12.0, 25, 11.6, 0),
		block("energy page", 6, 12.60, 100, 11.95, 25),
	}, rest: 8 * hour},
	"lead-agm": {tables: []table{
		block("owner's manual", 6, 12.8, 100, 12.6, 75, 12.3, 50, 12.0, 25),
		block("travellers", 6, 12.7, 100, 12.6, 90, 12.5, 80, 12.3, 70, 12.2, 60, 12.1, 50, 12.0, 40, 11.8, 30, 11.7, 20, 11.6, 10),
		block("study", 6, 13.2, 100, 12.95, 95, 12.7, 85, 12.6, 75, 12.5, 65, 12.4, 55, 12.3, 45, 12.2, 35, 12.1, 25, 12.0, 15),
		block("linear rule", 6, 12.9, 100, 11.4, 0),
	}, rest: 8 * hour},
	"lifepo4": {tables: []table{
		block("firmware", 1, 3.400, 100, 3.350, 90, 3.320, 80, 3.290, 70, 3.270, 60, 3.260, 50, 3.250, 40, 3.230, 30, 3.200, 20, 3.120, 10, 3.000, 0),
		block("modeller", 1, 3.59, 100, 3.32, 95.71, 3.316, 91.47, 3.313, 87.09, 3.306, 82.85, 3.304, 78.54, 3.29, 74.18, 3.28, 69.92, 3.278, 65.61,
			3.276, 61.31, 3.274, 57.05, 3.272, 52.74, 3.269, 48.46, 3.266, 44.14, 3.263, 39.83, 3.25, 35.55, 3.24, 31.24, 3.23, 26.87, 3.22, 22.59,
			3.20, 18.24, 3.19, 13.88, 3.17, 9.63, 3.12, 5.35, 2.90, 1.01),
		block("seller, low", 1, 3.65, 100, 3.4, 90, 3.2, 40, 3.0, 20, 2.5, 0),
		block("seller, high", 1, 3.65, 100, 3.4, 90, 3.2, 60, 3.0, 20, 2.5, 0),
	}, rest: hour},
	"li-ion": {tables: []table{
		block("vehicle pack", 5, 20.925, 100, 20.383, 90, 19.937, 80, 19.581, 70, 19.311, 60, 18.948, 50, 18.856, 40, 18.808, 30, 18.559, 20,
			17.857, 10, 17.581, 5, 17.276, 2.5, 15.000, 0),
		block("firmware", 1, 4.190, 100, 4.050, 90, 3.990, 80, 3.890, 70, 3.800, 60, 3.720, 50, 3.630, 40, 3.530, 30, 3.420, 20, 3.300, 10, 3.100, 0),
	}, rest: hour},
	"nimh": {tables: []table{
		block("firmware", 1, 1.400, 100, 1.300, 90, 1.280, 80, 1.270, 70, 1.260, 60, 1.250, 50, 1.240, 40, 1.230, 30, 1.210, 20, 1.150, 10, 1.000, 0),
	}, rest: 24 * hour},
}

// share reads the table at v volts per cell.
func (t table) share(v float64) float64 {
	last := len(t.volts) - 1
	switch {
	case v <= t.volts[last]:
		return t.shares[last]
	case v >= t.volts[0]:
		return t.shares[0]
	}
	i := 1
	for v < t.volts[i] {
		i++
	}
	return t.shares[i] + float64((t.shares[i-1]-t.shares[i])*(v-t.volts[i])/(t.volts[i-1]-t.volts[i]))
}

// band is the lowest and the highest share that any table gives from low to high volts per
// cell. Each table rises with the volts, so the ends suffice.
func (c chemistry) band(low, high float64) (from, to float64) {
	from, to = 1, 0
	for _, t := range c.tables {
		from, to = math.Min(from, t.share(low)), math.Max(to, t.share(high))
	}
	return from, to
}

// Hydrometer: 0.004 per 10 °F from 80 °F (US Army TM 5-4210-230-14).
const (
	gravityPerKelvin = 0.004 / (10 * 5.0 / 9)
	gravityReference = (80 - 32) * 5.0 / 9
	gravityToVolts   = 0.84 // from memory
)

func correctedGravity(reading, celsius float64) float64 {
	return reading + float64((celsius-gravityReference)*gravityPerKelvin)
}

// gravities are two published tables of the corrected gravity; the first is printed in bands of
// 0.020, whose ends both count.
var gravities = chemistry{tables: []table{
	block("repair manual, low ends", 1, 1.260, 100, 1.230, 75, 1.200, 50, 1.170, 25, 1.110, 0),
	block("repair manual, high ends", 1, 1.280, 100, 1.250, 75, 1.220, 50, 1.190, 25, 1.130, 0),
	block("battery maker", 1, 1.265, 100, 1.225, 75, 1.190, 50, 1.160, 25, 1.120, 0),
}}

func run(in calc.In, out *calc.Out) error {
	kind := in.Word("chemistry")
	c, stands := chemistries[kind], battery.Find(kind)
	n, err := strconv.Atoi(in.Word("cells"))
	if err != nil {
		return calc.Bad("cells", "Cells in series: write a whole number from 1 to 24")
	}
	if in.Has("gravity") && kind != "lead-flooded" {
		return calc.Bad("gravity", "Hydrometer reading: only flooded lead-acid cells have acid to draw; choose that chemistry or leave it empty")
	}
	g := 0.0
	if in.Has("gravity") {
		reading := in.Num("gravity")
		if reading >= 1000 { // as many hydrometers are printed
			reading /= 1000
		}
		if reading > 1.35 {
			return calc.Bad("gravity", "Hydrometer reading: acid lies between 1.000 and 1.350; write it like 1.240 or 1240")
		}
		g = correctedGravity(reading, in.Num("acid-temperature"))
		out.Set("gravity-corrected", g)
		gl, gh := gravities.band(g, g)
		out.SetRange("gravity-share", gl, gh)
		out.Set("gravity-volts", float64(n)*(g+gravityToVolts))
	}
	if !in.Has("volts") {
		return nil
	}
	cell := in.Num("volts") / float64(n)
	if cell > stands.None {
		return calc.Bad("cells", "Cells in series: "+volts(in.Num("volts"))+" are "+volts(cell)+" for each of "+in.Word("cells")+
			", more than any such cell gives; count the cells again")
	}
	out.Set("per-cell", cell)
	e := in.Num("meter-error")
	low, high := c.band(cell*(1-e), cell*(1+e))
	exactLow, exactHigh := c.band(cell, cell)
	word, sentence := judge(in, c, stands, cell, low, high)
	out.Say("verdict", word, sentence)
	switch word {
	case battery.DoNotCharge, battery.Overcharged, battery.Dead, battery.Flat, "says-nothing":
	default:
		out.SetRange("share", low, high)
		if e > 0 {
			out.Set("meter-points", math.Max(0, (high-low)-(exactHigh-exactLow)))
		}
	}
	if gap := cell - (g + gravityToVolts); in.Has("gravity") && math.Abs(gap) > 0.05 {
		out.Note("Volts and acid do not belong together (" + volts(gap) + " a cell): surface charge, water just added, or cells that differ; measure each cell.")
	}
	if (kind == "lead-flooded" || kind == "lead-agm") && n >= 3 {
		if full := float64(n-1) / float64(n) * 2.12; cell <= full && cell > full-0.06 {
			out.Note("This is what a charged battery reads with one cell shorted; if it was charged overnight, that is the likelier reading.")
		}
	}
	return nil
}

func volts(v float64) string { return quantity.Of(quantity.Voltage, v).Text() }

func shares(low, high float64) string { return quantity.Between(quantity.Percent, low, high).Text() }

// judge says what the reading is worth.
func judge(in calc.In, c chemistry, stands battery.Cell, cell, low, high float64) (word, sentence string) {
	kind := in.Word("chemistry")
	if word, sentence := stands.State(cell); word != "" && word != battery.Full {
		return word, sentence
	}
	switch {
	case cell > stands.Rested:
		return "not-rested", "Not at rest yet: " + volts(cell) + " a cell stands only just after charging. Wait."
	case in.Num("rest") < c.rest:
		return "not-rested", "Not at rest long enough: after charging it reads high, after a load low. Wait " + quantity.Of(quantity.Duration, c.rest).Text() + "."
	case kind == "nimh" && low > 0.05:
		return "says-nothing", "It says next to nothing: nickel cells read 1.2 to 1.3 V from full to nearly empty. Discharge it at 0.2 C to 1.0 V a cell and count."
	case high-low > 0.4:
		return "says-little", "It says little: anywhere in " + shares(low, high) + "."
	case low >= 0.75:
		return "charged", "Well charged: " + shares(low, high) + ". That is charge, not health."
	case high <= 0.3:
		return "nearly-empty", "Nearly empty: " + shares(low, high) + ". Charge it soon."
	}
	return "partly", "Partly charged: " + shares(low, high) + "."
}

func chart(in calc.In) (draw.Chart, error) {
	n, err := strconv.Atoi(in.Word("cells"))
	if err != nil {
		return draw.Chart{}, calc.Bad("cells", "Cells in series: write a whole number from 1 to 24")
	}
	c := draw.Chart{X: draw.Axis{Label: "state of charge", Unit: "%", From: 0, To: 100}, Y: draw.Axis{Label: "battery at rest", Unit: "V"},
		Marks: []draw.Mark{{Y: in.Num("volts"), Name: "reading", Level: true}}}
	for i, t := range chemistries[in.Word("chemistry")].tables {
		s := draw.Series{Name: t.name, Dashed: i%2 == 1}
		for k := len(t.volts) - 1; k >= 0; k-- {
			s.X, s.Y = append(s.X, 100*t.shares[k]), append(s.Y, float64(n)*t.volts[k])
		}
		c.Series = append(c.Series, s)
	}
	return c, nil
}
