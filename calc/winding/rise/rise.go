package rise

import (
	_ "embed"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives a winding's temperature from its resistance cold and hot.
var Calculator = &calc.Calculator{
	Name:    "winding-rise",
	Title:   "Winding temperature from its resistance",
	For:     "Tells how hot a transformer's or motor's winding is inside, from its ohms cold and hot.",
	Shelf:   "winding",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "cold-resistance", Label: "Resistance cold", Reading: true, Kind: quantity.Resistance, Default: "35.2 Ω", Low: "0.1 mΩ", High: "10 MΩ",
			Help: "After hours at rest in the room."},
		{Name: "cold-temperature", Label: "Temperature when read cold", Kind: quantity.Temperature, Default: "20 °C", Low: "-40 °C", High: "60 °C"},
		{Name: "hot-resistance", Label: "Resistance hot", Reading: true, Kind: quantity.Resistance, Default: "46.1 Ω", Low: "0.1 mΩ", High: "10 MΩ",
			Help: "Switched off, plug out, within seconds, with the same leads at the same points."},
		{Name: "room", Label: "Room at the end", Kind: quantity.Temperature, Default: "20 °C", Low: "-40 °C", High: "60 °C",
			Help: "Beside the machine, a metre away, out of its warm air."},
		{Name: "metal", Label: "Wire", Folded: true, Default: "copper", Choices: []calc.Choice{{Name: "copper", Label: "Copper"}, {Name: "aluminium", Label: "Aluminium"}}},
		{Name: "at", Label: "Resistance wanted at", Folded: true, Kind: quantity.Temperature, Optional: true, Low: "-40 °C", High: "250 °C"},
		{Name: "class", Label: "Class of insulation", Default: "none", Choices: classes,
			Help: "The number from the plate. Letters differ between catalogues."},
		{Name: "machine", Label: "Kind of machine", Folded: true, Default: "small-transformer", Choices: []calc.Choice{
			{Name: "small-transformer", Label: "Small transformer"},
			{Name: "appliance", Label: "Motor or coil inside a household appliance"},
			{Name: "rotating", Label: "Motor or generator, a machine of its own"},
			{Name: "dry-type", Label: "Dry-type power transformer, from 1 kVA"}}},
	},
	Outputs: []calc.Output{
		{Name: "winding-temperature", Label: "Temperature of the winding", Kind: quantity.Temperature, Main: true, Help: "Averaged over the winding."},
		{Name: "rise", Label: "Rise over the room", Kind: quantity.Rise, Main: true},
		{Name: "resistance-at", Label: "Resistance at the wanted temperature", Kind: quantity.Resistance},
		{Name: "limit", Label: "Highest average temperature in this room", Kind: quantity.Temperature, Limit: quantity.Highest},
		{Name: "rise-limit", Label: "Highest rise", Kind: quantity.Rise, Limit: quantity.Highest},
		{Name: "overload-limit", Label: "Highest in the first hour of an overload or short circuit", Kind: quantity.Temperature, Help: "with a fuse or link; afterwards the transformer may be done for"},
		{Name: "verdict", Label: "Verdict"},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>T</mi><mo>=</mo><mfrac><msub><mi>R</mi><mn>2</mn></msub><msub><mi>R</mi><mn>1</mn></msub></mfrac>` +
		`<mo>(</mo><mi>k</mi><mo>+</mo><msub><mi>t</mi><mn>1</mn></msub><mo>)</mo><mo>−</mo><mi>k</mi></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Pull the plug before the meter in ohms goes on, and wait until a motor stands still. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Care, Text: "A winding under test may be hot enough to burn. Do not leave a loaded test alone."},
	},
	Example: calc.Example{
		Says: "The primary of a charger's transformer reads 35.2 Ω at 22 °C in the morning and 46.1 Ω after four hours at full load; the room has warmed to 25.5 °C. Its plate says class 130.",
		Inputs: []calc.Setting{{Name: "cold-resistance", Value: "35.2 Ω"}, {Name: "cold-temperature", Value: "22 °C"}, {Name: "hot-resistance", Value: "46.1 Ω"},
			{Name: "room", Value: "25.5 °C"}, {Name: "class", Value: "130"}},
		Prints: []calc.Setting{{Name: "winding-temperature", Value: "101.4 °C"}, {Name: "rise", Value: "75.9 K"}, {Name: "limit", Value: "120.0 °C"},
			{Name: "verdict", Value: "The winding is within its limit, by 18.6 K (IEC 61558-1, from memory)."}},
	},
	Plots: []calc.Plot{{Name: "temperature", Title: "Winding temperature against hot resistance",
		Says: "A straight line from the cold reading upwards, with this reading on it and the limit of the class where one is given.", Chart: chart}},
}

// classes by number, with the letters of IEC 60085 as tabulated by Croylek and Datsan.
var classes = []calc.Choice{
	{Name: "none", Label: "Not known"},
	{Name: "90", Label: "90 (Y in IEC 60085)"}, {Name: "105", Label: "105 (A in IEC 60085)"}, {Name: "120", Label: "120 (E in IEC 60085)"},
	{Name: "130", Label: "130 (B in IEC 60085)"}, {Name: "155", Label: "155 (F in IEC 60085)"}, {Name: "180", Label: "180 (H in IEC 60085)"},
	{Name: "200", Label: "200 (N in IEC 60085)"}, {Name: "220", Label: "220 (R in IEC 60085)"},
}

// rule is a set of limits of rise in kelvin by class, over a room of at most so
// many °C, and what it rests on.
type rule struct {
	rises map[string]float64
	room  float64
	rests string
}

var rules = map[string]rule{
	// IEC 60335-1, table 3, from memory: the figures for the resistance method.
	"appliance": {map[string]float64{"105": 75, "120": 90, "130": 95, "155": 115, "180": 140, "200": 160, "220": 180}, 25, "IEC 60335-1, table 3, from memory"},
	// IEC 60034-1, in a motor maker's manual (Vascat ID series, table 10)
	"rotating": {map[string]float64{"130": 80, "155": 105, "180": 125}, 40, "IEC 60034-1, as a motor maker prints it"},
	// IEC 60076-11, as tabulated by Datsan
	"dry-type": {map[string]float64{"105": 60, "120": 75, "130": 80, "155": 100, "180": 125, "200": 135, "220": 150}, 40, "IEC 60076-11, as an insulation seller prints it"},
}

// smallLimits are temperatures in normal use: IEC 61558-1 table 1, from memory.
var smallLimits = map[string]float64{"105": 100, "120": 115, "130": 120, "155": 140, "180": 165}

// overloadLimits are temperatures in the first hour of the short-circuit and overload
// test, protected by a fuse or link: IEC 61558-1, from memory.
var overloadLimits = map[string]float64{"105": 200, "120": 215, "130": 225, "155": 240, "180": 260}

// zeroPoint is how far below 0 °C the straight line of a metal meets no
// resistance: IEC 60335-1, 11.3.
func zeroPoint(metal string) float64 {
	if metal == "aluminium" {
		return 225
	}
	return 234.5
}

// temperature of a winding of ohms r2 that had r1 at t1 (°C).
func temperature(r1, t1, r2, k float64) float64 { return float64(r2/r1*(k+t1)) - k }

// resistance at t (°C) of a winding that has r1 at t1.
func resistance(r1, t1, t, k float64) float64 { return r1 * (k + t) / (k + t1) }

func run(in calc.In, out *calc.Out) error {
	for _, name := range []string{"cold-resistance", "hot-resistance"} {
		r := in.Reading(name)
		if !r.IsAbove() {
			continue
		}
		// no winding is three times its cold ohms when hot: that would be over 500 °C
		if name == "cold-resistance" || r.Limit() > 3*in.Num("cold-resistance") {
			says := "Open when read cold: the wire is broken, or the link in the winding has opened. There is no temperature to compute."
			if name == "hot-resistance" {
				says = "Open when hot: a link or a protector in the winding has opened, or a joint lets go with the heat. Let it cool and read again: back means a protector that resets, or the joint."
			}
			out.Say("verdict", "open", says)
			return nil
		}
	}
	k := zeroPoint(in.Word("metal"))
	r1, t1, r2 := in.Num("cold-resistance"), in.Num("cold-temperature"), in.Num("hot-resistance")
	t := temperature(r1, t1, r2, k)
	if t > 500 || t < -60 {
		return calc.Bad("hot-resistance", "Resistance hot: "+quantity.Of(quantity.Resistance, r2).Text()+" would mean a winding at "+
			quantity.Of(quantity.Temperature, t).Text()+"; with that cold reading it should lie between "+
			quantity.Of(quantity.Resistance, resistance(r1, t1, -60, k)).Text()+" and "+
			quantity.Of(quantity.Resistance, resistance(r1, t1, 500, k)).Text()+", so look for a slip of a prefix or a loose contact")
	}
	rise := t - in.Num("room")
	out.Set("winding-temperature", t)
	out.Set("rise", rise)
	if in.Has("at") {
		out.Set("resistance-at", resistance(r1, t1, in.Num("at"), k))
	}
	if r2 < r1 {
		out.Note("The hot reading is below the cold one: the readings may be swapped, or a contact was poor the first time.")
	}
	if t > 250 {
		out.Note("No common insulation stands this temperature; check the readings before believing it.")
	}
	if r2 < 10 {
		out.Note("Below 10 Ω read with four wires, or take the leads' own ohms off both readings.")
	}
	class, machine := in.Word("class"), in.Word("machine")
	r := rules[machine]
	limit, byRise := r.rises[class]
	rests := r.rests
	if byRise {
		out.Set("rise-limit", limit)
		limit += in.Num("room")
		if in.Num("room") > r.room {
			out.Note("The limits of rise hold for a room of at most " + quantity.Of(quantity.Temperature, r.room).Middle() + "; in a hotter one less rise is allowed.")
		}
	} else {
		var known bool
		limit, known = smallLimits[class]
		if machine != "small-transformer" || !known {
			if class == "none" {
				out.Say("verdict", "cannot-tell", "Without the class of the insulation no limit can be named; the plate or the maker's sheet gives its number.")
			} else {
				out.Say("verdict", "cannot-tell", "No limit for this class and kind of machine was found in a source; ask the maker's sheet.")
			}
			return nil
		}
		out.Set("overload-limit", overloadLimits[class])
		rests = "IEC 61558-1, from memory"
	}
	out.Set("limit", limit)
	margin := quantity.Of(quantity.Rise, limit-t)
	if t > limit {
		margin.Num = -margin.Num
		out.Say("verdict", "too-hot", "The winding is too hot for its insulation, by "+margin.Middle()+" ("+rests+").")
	} else {
		out.Say("verdict", "within", "The winding is within its limit, by "+margin.Middle()+" ("+rests+").")
	}
	return nil
}

func chart(in calc.In) (draw.Chart, error) {
	k := zeroPoint(in.Word("metal"))
	r1, t1, r2 := in.Num("cold-resistance"), in.Num("cold-temperature"), in.Num("hot-resistance")
	top := max(200, temperature(r1, t1, r2, k)+20)
	s := draw.Series{}
	for i := 0; i <= 20; i++ {
		t := t1 + (top-t1)*float64(i)/20
		s.X, s.Y = append(s.X, resistance(r1, t1, t, k)), append(s.Y, t)
	}
	c := draw.Chart{X: draw.Axis{Label: "hot resistance", Unit: "Ω"}, Y: draw.Axis{Label: "winding", Unit: "°C"},
		Series: []draw.Series{s}, Marks: []draw.Mark{{X: r2, Y: temperature(r1, t1, r2, k), Name: "this one"}}}
	limit, ok := rules[in.Word("machine")].rises[in.Word("class")]
	if ok {
		limit += in.Num("room")
	} else if in.Word("machine") == "small-transformer" {
		limit, ok = smallLimits[in.Word("class")]
	}
	if ok {
		c.Marks = append(c.Marks, draw.Mark{Y: limit, Name: "limit", Level: true})
	}
	return c, nil
}
