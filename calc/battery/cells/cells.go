package cells

import (
	_ "embed"
	"math"
	"slices"
	"strconv"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/battery"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
)

//go:embed doc.go
var doc string

// Calculator judges the readings of a pack's cells.
var Calculator = &calc.Calculator{
	Name:  "cell-spread",
	Title: "Cells of a pack against each other",
	For:   "Tells from the readings of a pack's cells whether they match, have drifted, or one is weak, and what to do.",
	Shelf: "battery",
	Inputs: []calc.Input{
		{Name: "readings", Label: "Readings, in the order of the cells", Measured: true,
			Text: []string{"3.98 3.97 3.98 3.62 3.97", "4.05; 4.06; 4.05; 4.05", "3,31 3,30 3,31 3,32", "1.27 1.28 0.04 1.27 1.28 1.27", "2060 mV 2055 mV 2070 mV"},
			Help: "Volts, separated by spaces or semicolons; millivolts with their unit. For the hydrometer the gravities."},
		{Name: "chemistry", Label: "What was read", Default: "li-ion", Choices: []calc.Choice{{Name: "li-ion", Label: "Li-ion, voltage"}, {Name: "lifepo4", Label: "LiFePO4, voltage"},
			{Name: "lead-acid", Label: "Lead-acid, voltage"}, {Name: "nimh", Label: "NiMH or NiCd, voltage"}, {Name: "gravity", Label: "Lead-acid, gravity"}}},
		{Name: "state", Label: "Read", Default: "rest", Choices: []calc.Choice{{Name: "rest", Label: "At rest"}, {Name: "load", Label: "Under load"},
			{Name: "charging", Label: "At the end of charging"}}},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "suspects", Label: "Suspect cells", Main: true},
		{Name: "spread", Label: "Highest less lowest", Kind: quantity.Voltage},
		{Name: "limit", Label: "Cells match up to", Kind: quantity.Voltage},
		{Name: "median", Label: "Middle reading", Kind: quantity.Voltage},
		{Name: "lowest", Label: "Lowest reading", Kind: quantity.Voltage},
		{Name: "highest", Label: "Highest reading", Kind: quantity.Voltage},
		{Name: "pack", Label: "The readings added up", Kind: quantity.Voltage, Help: "Should be what the pack shows at its terminals; less there means a bad joint or board."},
		{Name: "gravity-spread", Label: "Highest less lowest gravity", Kind: quantity.Ratio},
		{Name: "count", Label: "Cells read", Kind: quantity.Count},
	},
	Compute: run,
	Doc:     doc,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "An open pack is live and cannot be switched off: cover what you do not probe, no rings, fused leads, never short two tags. A lithium cell that is swollen, hot or below its lowest volts is not charged; it is carried outdoors and recycled."},
		{Signal: calc.Warning, Text: "Never solder on a cell, never bypass a protection board or a cell's fuse. Acid burns: goggles and gloves. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A tool pack of five cells at rest; the fourth reads low.",
		Inputs: []calc.Setting{{Name: "readings", Value: "3.98 3.97 3.98 3.62 3.97"}},
		Prints: []calc.Setting{{Name: "spread", Value: "360 mV"}, {Name: "suspects", Value: "Cell 4 (3.62 V)"}},
	},
	Plots: []calc.Plot{{Name: "cells", Title: "Readings of the cells",
		Says: "One point a cell in their order; the levels are the middle reading and the limit below it. A cell well under the lower level is the suspect.", Chart: chart}},
}

// rule is when cells of a chemistry differ; volts, or gravity.
type rule struct {
	rest, load float64 // cells match up to this spread
	weak       float64 // times the limit below the median
	condemned  float64 // gravity: with this spread the lowest cell is done; 0 for none
	stands     string  // its chemistry in battery.Cells; "" for gravity
}

var rules = map[string]rule{
	"li-ion":    {rest: 0.05, load: 0.10, weak: 4, stands: "li-ion"},
	"lifepo4":   {rest: 0.05, load: 0.10, weak: 4, stands: "lifepo4"},
	"lead-acid": {rest: 0.05, load: 0.10, weak: 1.5, stands: "lead-flooded"},
	"nimh":      {rest: 0.05, load: 0.10, weak: 4, stands: "nimh"},
	"gravity":   {rest: 0.030, load: 0.030, weak: 0.050 / 0.030, condemned: 0.050},
}

// most readings of one pack; few fewer say nothing.
const fewest, most = 2, 40

// read parses readings such as "3.98 3.97", "3,98; 3,97" or "3980 mV 3970 mV"; plain numbers are
// volts (or gravities). The error is one sentence.
func read(text string) ([]float64, error) {
	bad := func(s string) error { return calc.Bad("readings", "Readings: "+s) }
	clean := strings.NewReplacer(";", " ", "/", " ", "|", " ", ", ", " ", "\t", " ", "\n", " ", "\u00a0", " ", "\u2212", "-").Replace(strings.TrimSuffix(strings.TrimSpace(text), ","))
	var words []string
	for _, w := range strings.Fields(clean) {
		if unit := strings.ToLower(w); (unit == "v" || unit == "mv") && len(words) > 0 {
			words[len(words)-1] += w
			continue
		}
		if strings.Contains(w, ".") && strings.Contains(w, ",") {
			words = append(words, strings.Split(w, ",")...)
			continue
		}
		words = append(words, w)
	}
	var out []float64
	for _, w := range words {
		if strings.Count(w, ",") > 1 {
			return nil, bad("“" + short(w) + "” could be read in two ways; part the readings by spaces, like 3,98 3,97")
		}
		v, err := quantity.Parse(quantity.Voltage, w)
		if shown, ol := reading.Parse(quantity.Voltage, w, reading.Meter{}); err != nil && ol == nil && shown.Shows == reading.Over {
			return nil, bad("“" + short(w) + "” is not the voltage of a cell: press the probes onto its own tags, or choose a higher range")
		}
		if err != nil {
			return nil, bad("“" + short(w) + "” is not a reading; write volts separated by spaces, like 3.98 3.97 3.62")
		}
		if v.Low != v.High {
			return nil, bad("“" + short(w) + "” is a range; write one reading a cell")
		}
		out = append(out, v.Num)
	}
	switch {
	case len(out) < fewest:
		return nil, bad("at least two cells are needed to compare")
	case len(out) > most:
		return nil, bad("at most " + strconv.Itoa(most) + " cells at once; read a large pack in parts")
	}
	return out, nil
}

func short(s string) string {
	if r := []rune(s); len(r) > 20 {
		return string(r[:20]) + "…"
	}
	return s
}

// median of the readings, which it does not change.
func median(x []float64) float64 {
	s := slices.Sorted(slices.Values(x))
	m := len(s) / 2
	if len(s)%2 == 1 {
		return s[m]
	}
	return (s[m-1] + s[m]) / 2
}

// within allows for the rounding of decimal readings: 3.98 less 3.93 is 0.05.
const within = 1e-9

func run(in calc.In, out *calc.Out) error {
	kind, state := in.Word("chemistry"), in.Word("state")
	r := rules[kind]
	stands, top := battery.Find(r.stands), 1.4
	if r.stands != "" {
		top = stands.None
	}
	if !in.Has("readings") {
		return nil
	}
	x, err := read(in.Word("readings"))
	if err != nil {
		return err
	}
	for k, v := range x {
		if kind == "gravity" && v >= 1000 { // as many hydrometers are printed
			v /= 1000
			x[k] = v
		}
		if math.Abs(v) > top {
			return calc.Bad("readings", "Readings: no such cell reads "+show(kind, v)+", as number "+strconv.Itoa(k+1)+" does; check the unit, and that one cell was read at a time")
		}
		if kind == "gravity" && v < 0.95 {
			return calc.Bad("readings", "Readings: a gravity lies between 1.000 and 1.400; write 1.265, not 1265")
		}
	}
	low, high, mid := slices.Min(x), slices.Max(x), median(x)
	limit := r.rest
	if state == "load" {
		limit = r.load
	}
	out.Set("count", float64(len(x)))
	if kind == "gravity" {
		out.Set("gravity-spread", high-low)
	} else {
		sum := 0.0
		for _, v := range x {
			sum += v
		}
		out.Set("spread", high-low)
		out.Set("limit", limit)
		out.Set("median", mid)
		out.Set("lowest", low)
		out.Set("highest", high)
		out.Set("pack", sum)
	}
	p := pack{kind: kind, state: state, stands: stands, cells: len(x), low: low, high: high, mid: mid, matched: high-low <= limit+within}
	var apart []int
	for k, v := range x {
		if mid-v > r.weak*limit+within || r.condemned > 0 && high-low > r.condemned+within && v == low {
			p.weak = append(p.weak, k)
		}
		if math.Abs(v-mid) > limit/2+within {
			apart = append(apart, k)
		}
	}
	suspects := p.weak
	if !p.matched && len(suspects) == 0 {
		suspects = apart
	}
	if len(suspects) > 0 && len(suspects) < len(x) {
		out.Say("suspects", "cells-"+numbers(suspects, "-"), list(kind, x, suspects))
	}
	word, sentence := p.judge()
	out.Say("verdict", word, sentence)
	return nil
}

// pack is what the readings of its cells say of a pack; they are volts, or gravities.
type pack struct {
	kind, state    string
	stands         battery.Cell
	cells          int
	low, high, mid float64
	matched        bool  // they lie within the limit
	weak           []int // cells that lie far below the others
}

// judge gives the verdict: first what is dangerous, then what a pack whose cells agree is
// like, then why they do not.
func (p *pack) judge() (word, sentence string) {
	resting := p.kind != "gravity" && p.state == "rest"
	switch {
	case p.stands.Lithium && p.high > p.stands.Highest:
		return p.stands.State(p.high)
	case p.low < 0:
		return "reversed", "A cell reads below zero: driven into reverse by the others, or read with the leads swapped. If it is so, it is finished."
	case p.stands.Lithium && p.low < p.stands.Lowest:
		return battery.DoNotCharge, "Do not charge: a cell stands at " + show(p.kind, p.low) + ", below " + show(p.kind, p.stands.Lowest) + ". It can burn later, also if it recovers. Recycle the pack."
	case resting && p.high > p.stands.Highest:
		return p.stands.State(p.high)
	case resting && p.matched && p.mid < p.stands.Lowest:
		return p.stands.State(p.mid)
	case p.kind == "lifepo4" && p.state == "rest" && p.matched && p.mid > 3.15 && p.mid < 3.37:
		return "says-little", "It says little: at rest LiFePO4 reads alike from 20 to 90 %. Read again at the end of charging."
	case p.matched:
		return "matched", "The cells match. They may still all be worn: measure the capacity."
	case len(p.weak) > 0 && len(p.weak) <= (p.cells-1)/2:
		return "weak-cell", weakSentence(p.kind, p.state, len(p.weak))
	case p.kind == "gravity":
		return "drifted", "Drifted apart: give it an equalising charge, mix, and measure again. Above 0.040 look twice."
	case p.state == "charging":
		return "drifted", "Drifted apart: the highest is full first and stops the charge, so the pack gives only part. Let its board balance, or charge slowly."
	}
	return "drifted", "Drifted apart: charge fully with balancing and read again after a day. If the same cell is low again, it leaks."
}

func weakSentence(kind, state string, n int) string {
	cell := "One cell is"
	if n > 1 {
		cell = strconv.Itoa(n) + " cells are"
	}
	switch {
	case kind == "gravity":
		return cell + " far behind: past the 0.050 that condemns a battery, unless water was just added; charge and measure once more."
	case state == "load":
		return cell + " weak: far lower under load than the rest. The pack stops when it is empty; charging does not mend it."
	}
	return cell + " weak: far lower than the rest. Dead, leaky or of less capacity; the pack is as good as its worst cell."
}

// show prints one reading.
func show(kind string, v float64) string {
	if kind == "gravity" {
		return quantity.Of(quantity.Ratio, v).Text()
	}
	return quantity.Of(quantity.Voltage, v).Text()
}

func numbers(at []int, sep string) string {
	var s []string
	for _, k := range at {
		s = append(s, strconv.Itoa(k+1))
	}
	return strings.Join(s, sep)
}

func list(kind string, x []float64, at []int) string {
	var s []string
	for i, k := range at {
		name := "cell "
		if i == 0 {
			name = "Cell "
		}
		s = append(s, name+strconv.Itoa(k+1)+" ("+show(kind, x[k])+")")
	}
	return strings.Join(s, ", ")
}

func chart(in calc.In) (draw.Chart, error) {
	x, err := read(in.Word("readings"))
	if err != nil {
		return draw.Chart{}, err
	}
	kind := in.Word("chemistry")
	limit := rules[kind].rest
	if in.Word("state") == "load" {
		limit = rules[kind].load
	}
	unit, label := "V", "cell reading"
	if kind == "gravity" {
		unit, label = "", "gravity"
	}
	mid := median(x)
	s := draw.Series{}
	c := draw.Chart{X: draw.Axis{Label: "cell", From: 1, To: float64(len(x))}, Y: draw.Axis{Label: label, Unit: unit}}
	for k, v := range x {
		s.X, s.Y = append(s.X, float64(k+1)), append(s.Y, v)
	}
	c.Series = []draw.Series{s}
	c.Marks = []draw.Mark{{Y: mid, Name: "middle", Level: true}, {Y: mid - limit, Name: "limit", Level: true}}
	return c, nil
}
