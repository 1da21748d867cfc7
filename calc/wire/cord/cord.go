package cord

import (
	_ "embed"
	"math"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
	"faultleaf/calc/wire"
)

//go:embed doc.go
var doc string

// Calculator gives volts lost, heat and published ratings of a cord.
var Calculator = &calc.Calculator{
	Name:    "cord-drop",
	Title:   "What a cord takes",
	For:     "Gives the volts lost and the heat in a cord or extension lead, and what published tables let it carry, stretched out and wound up.",
	Shelf:   "wire",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "size", Label: "Cross-section of each core", Default: "1.5mm2", Choices: sizes(), Help: "Printed on the sheath, as 3G1.5 or 3×1.5."},
		{Name: "tinned", Folded: true, Label: "Strands", Default: "plain", Choices: []calc.Choice{{Name: "plain", Label: "Plain copper"}, {Name: "tinned", Label: "Tinned copper"}}},
		{Name: "length", Label: "Length of the cord", Kind: quantity.Length, Default: "25 m", Low: "10 cm", High: "1 km"},
		{Name: "use", Label: "It is", Default: "not-said", Choices: []calc.Choice{{Name: "not-said", Label: "Not said: both are judged"}, {Name: "appliance", Label: "The cord of an appliance"}, {Name: "lead", Label: "An extension lead or drum"}}},
		{Name: "load", Label: "Load", Kind: quantity.Current, Or: []quantity.Kind{quantity.Power}, Default: "10 A", Low: "1 mA", High: "100 A", Help: "In amperes, or in watts from the plate."},
		{Name: "mains", Label: "Mains, RMS", Kind: quantity.Voltage, Default: "230 V", From: calc.Mains, Low: "5 V", High: "500 V"},
		{Name: "conductor", Folded: true, Label: "Temperature of the copper", Kind: quantity.Temperature, Default: "20 °C", Low: "-40 °C", High: "105 °C"},
		{Name: "ambient", Folded: true, Label: "Air around the cord", Kind: quantity.Temperature, Default: "20 °C", Low: "-40 °C", High: "59 °C"},
		{Name: "laid", Label: "How it lies", Default: "stretched", Choices: []calc.Choice{{Name: "stretched", Label: "Stretched out in air"}, {Name: "wound", Label: "Wound up, bundled or covered"}}},
		{Name: "wound-rating", Label: "Rating of the drum, wound up", Kind: quantity.Power, Optional: true, Low: "1 W", High: "10 kW", Help: "The lower of the two figures on the drum."},
		{Name: "source", Folded: true, Label: "Ohms before the cord", Kind: quantity.Resistance, Optional: true, Low: "1 mΩ", High: "100 Ω", Help: "Of the loop at the outlet."},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "drop", Label: "Voltage lost", Kind: quantity.Voltage, Main: true},
		{Name: "drop-share", Label: "That is of the mains", Kind: quantity.Percent, Main: true},
		{Name: "left", Label: "Voltage left at its end", Kind: quantity.Voltage},
		{Name: "heat", Label: "Heat in the whole cord", Kind: quantity.Power, Help: "All of it in one lump if it is wound up."},
		{Name: "heat-metre", Label: "Heat in each metre", Kind: quantity.Power},
		{Name: "loop", Label: "Ohms there and back", Kind: quantity.Resistance},
		{Name: "current", Label: "Current", Kind: quantity.Current},
		{Name: "short-circuit", Label: "Short-circuit current at its end", Kind: quantity.Current},
		{Name: "rating-appliance", Label: "Carries as an appliance's cord, IEC 60335-1 table 11", Kind: quantity.Current},
		{Name: "rating-nec", Label: "Carries by NEC table 400.5(A), two cores", Kind: quantity.Current},
		{Name: "rating-uk", Label: "Carries by the UK shops' flex table", Kind: quantity.Current},
		{Name: "rating-bs", Label: "Carries by BS 7671 table 4F3A, 60 °C cord", Kind: quantity.Current},
		{Name: "rating-india", Label: "Carries by an Indian cable maker", Kind: quantity.Current},
	},
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><mi>U</mi><mo>=</mo><mn>2</mn><mi>l</mi><mi>r</mi><mi>I</mi><mo>,</mo><mspace width="1em"/><mi>P</mi><mo>=</mo><mn>2</mn><mi>l</mi><mi>r</mi><msup><mi>I</mi><mn>2</mn></msup></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Unwind a drum all the way: a wound cord overheats inside, unseen, and burns. Never run a cord under a carpet. A damaged cord is replaced, not taped."},
		{Signal: calc.Warning, Text: "What a cord may carry is set by your local code; licensed people where the law says so. The plug's fuse goes by the cord."},
	},
	Example: calc.Example{
		Says:   "A heater drawing 13 A at the end of 25 m of 1.5 mm², stretched out.",
		Inputs: []calc.Setting{{Name: "size", Value: "1.5mm2"}, {Name: "length", Value: "25 m"}, {Name: "load", Value: "13 A"}},
		Prints: []calc.Setting{{Name: "drop", Value: "8.65 V"}, {Name: "drop-share", Value: "3.8 %"}, {Name: "heat", Value: "112.4 W"}},
	},
	Plots: []calc.Plot{{Name: "length", Title: "Voltage lost over the length, by size",
		Says: "The volts lost rise straight with the length, twice as steep for half the copper; the dot is this cord.", Chart: chart}},
	Onward: []calc.Onward{
		{Calculator: "fuse", Says: "Does the fuse break a short circuit here?", Takes: []calc.Take{{From: "short-circuit", To: "prospective"}, {From: "mains", To: "volts"}}},
	},
}

// size is a cross-section in mm² with published ratings in amperes, stretched out; 0
// where the table has none.
type size struct {
	name, label         string
	square              float64
	uk, bs, indian, nec float64
}

// table: the UK shops' flex table, BS 7671 table 4F3A (single phase) as printed by R&M
// Electrical, cable table of Darshan Cable; NEC table 400.5(A), two current-carrying cores,
// as a US standard for vacuum cleaners reprints it.
var table = []size{
	{"0.5mm2", "0.5 mm²", 0.5, 3, 3, 4, 0}, {"0.75mm2", "0.75 mm²", 0.75, 6, 6, 7, 0}, {"1mm2", "1 mm²", 1, 10, 10, 12, 0}, {"1.25mm2", "1.25 mm²", 1.25, 13, 13, 0, 0},
	{"1.5mm2", "1.5 mm²", 1.5, 15, 16, 15, 0}, {"2.5mm2", "2.5 mm²", 2.5, 0, 25, 20, 0}, {"4mm2", "4 mm²", 4, 0, 32, 27, 0}, {"6mm2", "6 mm²", 6, 0, 0, 35, 0},
	{"18-awg", "18 AWG", 0.8230, 0, 0, 0, 10}, {"17-awg", "17 AWG", 1.0379, 0, 0, 0, 12}, {"16-awg", "16 AWG", 1.3087, 0, 0, 0, 13}, {"14-awg", "14 AWG", 2.0809, 0, 0, 0, 18}, {"12-awg", "12 AWG", 3.3088, 0, 0, 0, 25},
}

func sizes() []calc.Choice {
	var cs []calc.Choice
	for _, s := range table {
		cs = append(cs, calc.Choice{Name: s.name, Label: s.label})
	}
	return cs
}

func find(name string) size {
	for _, s := range table {
		if s.name == name {
			return s
		}
	}
	return size{}
}

// shortCord is the length in metres up to which a thinner cord is allowed, IEC 60335-1 table 11.
const shortCord = 2

// appliance is what a cord fixed to an appliance, or its cord set, may carry by IEC 60335-1 table 11, in
// amperes; 0 where the table has none. 1.25 mm² counts as 1 mm².
func (s size) appliance(length float64) float64 {
	short := length <= shortCord*(1+1e-9)
	switch {
	case s.nec > 0:
		return 0 // the table is in square millimetres
	case s.square >= 6:
		return 40
	case s.square >= 4:
		return 32
	case s.square >= 2.5:
		return 25
	case s.square >= 1.5, s.square >= 1 && short:
		return 16
	case s.square >= 1, s.square >= 0.75 && short:
		return 10
	case s.square >= 0.75:
		return 6
	case s.square >= 0.5 && short:
		return 3
	}
	return 0
}

// perMetre is the resistance of one core in Ω/m at 20 °C.
func (s size) perMetre(tinned bool) float64 { return wire.Cord(s.square, tinned) }

// loop is the resistance there and back in ohms at a temperature of the copper in °C.
func (s size) loop(tinned bool, length, celsius float64) float64 {
	return 2 * length * s.perMetre(tinned) * wire.Find("copper").Factor(celsius)
}

// warm is what the air leaves of the rating of a 60 °C cord rated in air of 30 °C: the heat
// it may shed goes with the temperature difference, and with the square of the current.
func warm(ambient float64) float64 {
	if ambient <= 30 {
		return 1
	}
	return math.Sqrt((60 - ambient) / 30)
}

func amps(x float64) string  { return quantity.Of(quantity.Current, x).Text() }
func watts(x float64) string { return quantity.Of(quantity.Power, x).Text() }

func currentOf(in calc.In) float64 {
	if v := in.Value("load"); v.Kind == quantity.Power {
		return v.Num / in.Num("mains")
	}
	return in.Num("load")
}

func run(in calc.In, out *calc.Out) error {
	s, mains, i := find(in.Word("size")), in.Num("mains"), currentOf(in)
	if i <= 0 {
		return calc.Bad("load", "Load: it should be more than zero, in amperes or watts")
	}
	loop := s.loop(in.Word("tinned") == "tinned", in.Num("length"), in.Num("conductor"))
	drop := loop * i
	if drop >= mains {
		return calc.Bad("load", "Load: this cord lets through no more than "+amps(mains/loop)+" even into a short circuit; take a shorter or thicker one, or a smaller load")
	}
	out.Set("current", i)
	out.Set("loop", loop)
	out.Set("drop", drop)
	out.Set("drop-share", drop/mains)
	out.Set("left", mains-drop)
	out.Set("heat", drop*i)
	out.Set("heat-metre", drop*i/in.Num("length"))
	if in.Has("source") {
		out.Set("short-circuit", mains/(loop+in.Num("source")))
	}
	lowest, highest := math.Inf(1), 0.0
	for _, r := range []struct {
		name string
		amps float64
	}{{"rating-uk", s.uk}, {"rating-bs", s.bs * warm(in.Num("ambient"))}, {"rating-india", s.indian}, {"rating-nec", s.nec}} {
		if r.amps == 0 {
			continue
		}
		out.Set(r.name, r.amps)
		lowest, highest = math.Min(lowest, r.amps), math.Max(highest, r.amps)
	}
	own := s.appliance(in.Num("length"))
	if own > 0 {
		out.Set("rating-appliance", own)
	}
	word, sentence := judge(in, i, own, lowest, highest)
	out.Say("verdict", word, sentence)
	if in.Num("ambient") > 30 {
		out.Note("Only the British rating is lowered for warm air here; lower the others as well.")
	}
	if drop > 0.05*mains {
		out.Note("More than a twentieth of the mains is lost: a motor may not start and a heater is weak; take a thicker or shorter cord.")
	}
	return nil
}

// judge holds the current against the table for the use: a lead by the lowest of the tables and wound up by the drum's
// own figure only, an appliance's cord by its own standard, in America both by the NEC. Where the use is not
// said and the two differ, it says both.
func judge(in calc.In, i, own, lowest, highest float64) (word, sentence string) {
	american := own == 0 && strings.HasSuffix(in.Word("size"), "-awg")
	asOwn := own > 0 && i <= own*(1+1e-9)
	switch use := in.Word("use"); {
	case use == "appliance" && !american:
		switch {
		case own == 0:
			return "too-much", "No: as the cord of an appliance 0.5 mm² may be 2 m long at most."
		case !asOwn:
			return "too-much", "No: " + amps(i) + ", and as the cord of an appliance it may carry " + amps(own) + " by IEC 60335-1, table 11."
		case in.Word("laid") == "stretched":
			return "within", "Within IEC 60335-1, table 11: as the cord of an appliance it may carry " + amps(own) + "."
		}
	case use == "not-said" && in.Word("laid") == "stretched" && asOwn:
		if word, sentence := lead(in, i, lowest, highest); word != "within" {
			return "appliance-only", "As the cord of an appliance yes: " + amps(own) + " by IEC 60335-1, table 11. As an extension lead: " + sentence
		}
	}
	return lead(in, i, lowest, highest)
}

// lead judges an extension lead.
func lead(in calc.In, i, lowest, highest float64) (word, sentence string) {
	if highest > 0 && i > highest*(1+1e-9) {
		return "too-much", "No: " + amps(i) + " is more than any of these tables lets it carry, " + amps(highest) + "."
	}
	if in.Word("laid") == "wound" {
		load := i * in.Num("mains")
		switch {
		case !in.Has("wound-rating"):
			return "unwind", "Unwind it: wound up it carries far less than any table says, and how much stands only on the drum."
		case load > in.Num("wound-rating")*(1+1e-9):
			return "unwind", "Unwind it: " + watts(load) + " is more than the " + watts(in.Num("wound-rating")) + " that the drum allows wound up."
		}
	}
	switch {
	case highest == 0:
		return calc.CannotTell, "No table here has this size; look in your local code."
	case i > lowest*(1+1e-9):
		return "tables-disagree", "By the strictest table no: " + amps(lowest) + "; another allows " + amps(highest) + ". Your local code decides."
	case in.Word("laid") == "wound":
		return "within", "Within the drum's figure for a wound cord and within these tables; feel it after ten minutes."
	}
	return "within", "Within these tables, stretched out in air; your local code decides."
}

func chart(in calc.In) (draw.Chart, error) {
	i, length := currentOf(in), in.Num("length")
	tinned, t := in.Word("tinned") == "tinned", in.Num("conductor")
	here := find(in.Word("size"))
	c := draw.Chart{X: draw.Axis{Label: "length", Unit: "m"}, Y: draw.Axis{Label: "lost", Unit: "V"},
		Marks: []draw.Mark{{X: length, Y: here.loop(tinned, length, t) * i, Name: "here"}}}
	for _, name := range []string{"0.75mm2", "1mm2", "1.5mm2", "2.5mm2"} {
		s := find(name)
		line := draw.Series{Name: s.label, Dashed: s.name != here.name}
		for j := 0; j <= 10; j++ {
			x := 1.5 * length * float64(j) / 10
			line.X, line.Y = append(line.X, x), append(line.Y, s.loop(tinned, x, t)*i)
		}
		c.Series = append(c.Series, line)
	}
	return c, nil
}
