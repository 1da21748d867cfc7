package gate

import (
	_ "embed"
	"math"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator gives the opening times that a standard allows.
var Calculator = &calc.Calculator{
	Name:    "fuse-gate",
	Title:   "When must a fuse open?",
	For:     "Gives the earliest and the latest time at which a fuse may open, by its standard, and says where the standards contradict each other.",
	Shelf:   "protection",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "standard", Label: "Standard", Default: "t-high", Choices: choices(), Help: "F quick, T time-lag; L low and H high breaking capacity."},
		{Name: "rating", Label: "Amperes marked", Kind: quantity.Current, Default: "2 A", Low: "32 mA", High: "60 A"},
		{Name: "current", Label: "Current", Kind: quantity.Ratio, Or: []quantity.Kind{quantity.Current}, Default: "2.75", Low: "0.1", High: "1000",
			Help: "As a multiple of the rating, or in amperes."},
	},
	Outputs: append([]calc.Output{
		{Name: "verdict", Label: "At this current", Main: true},
		{Name: "earliest", Label: "Must not open before", Kind: quantity.Duration, Main: true},
		{Name: "latest", Label: "Must have opened by", Kind: quantity.Duration, Main: true},
		{Name: "multiple", Label: "Current over rating", Kind: quantity.Ratio},
		{Name: "standards", Label: "IEC against UL"},
	}, others()...),
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><munder><mi>max</mi><mrow><msub><mi>m</mi><mi>g</mi></msub><mo>≥</mo><mi>m</mi></mrow></munder><msub><mi>t</mi><mtext>min</mtext></msub><mo>(</mo><msub><mi>m</mi><mi>g</mi></msub><mo>)</mo>` +
		`<mo>≤</mo><mi>t</mi><mo>(</mo><mi>m</mi><mo>)</mo><mo>≤</mo><munder><mi>min</mi><mrow><msub><mi>m</mi><mi>g</mi></msub><mo>≤</mo><mi>m</mi></mrow></munder><msub><mi>t</mi><mtext>max</mtext></msub><mo>(</mo><msub><mi>m</mi><mi>g</mi></msub><mo>)</mo></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Do not try a fuse on the mains by overloading it. Never fit a higher rating because a fuse opens."},
		{Signal: calc.Warning, Text: "A fuse does not protect a person: far less than its rating kills. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "A T 2 A H carries 5.5 A because a rectifier leaks. Nobody can say when it opens, only that it is between three quarters of a second and 80 seconds.",
		Inputs: []calc.Setting{{Name: "standard", Value: "t-high"}, {Name: "rating", Value: "2 A"}, {Name: "current", Value: "5.5 A"}},
		Prints: []calc.Setting{{Name: "multiple", Value: "2.75"}, {Name: "earliest", Value: "750 ms"}, {Name: "latest", Value: "80.0 s"}},
	},
	Plots: []calc.Plot{{Name: "gates", Title: "Earliest and latest time over the current",
		Says: "Two staircases fall with the current, the latest time above, the earliest below; left of the first gate of the upper one the fuse need not open at all.", Chart: chart}},
}

// one is a gate: at so many times the rating the fuse holds for least and has
// opened after most, both in seconds.
type one struct{ multiple, least, most float64 }

// row holds the gates of ratings from some amperes on, up to the next row.
type row struct {
	from  float64
	gates []one
	rests string // what the row rests on, where that is not the standard's own sheet
}

// family is a standard sheet; its last row ends at to.
type family struct {
	name, label string
	ul          bool
	rows        []row
	to          float64
	rests       string // what the whole sheet rests on
}

// What some gates rest on instead of the sheet of the standard; said in the result.
const (
	fromMemory  = "these gates are from memory"
	makersOwn   = "a maker's own promise: this rating is marked there as not in the standard"
	makersOlder = "two makers' sheets of 1998 and 2003"
)

func (r row) by(rests string) row { r.rests = rests; return r }

const (
	minute = 60.0
	hour   = 3600.0
	ms     = 1e-3
)

var never = math.Inf(1)

// sheet makes the five gates that all sheets of IEC 60127-2 have: 1.5, 2.1, 2.75, 4
// and 10 times the rating.
func sheet(from, hold, open, least275, most275, least4, most4, least10, most10 float64) row {
	return row{from: from, gates: []one{{1.5, hold, never}, {2.1, 0, open}, {2.75, least275, most275}, {4, least4, most4}, {10, least10, most10}}}
}

// families are the tables; sources in the package comment.
var families = []family{
	{"f-low", "F, L (IEC 60127-2 sheet 2)", false, []row{
		sheet(0.032, hour, 30*minute, 10*ms, 500*ms, 3*ms, 100*ms, 0, 20*ms),
		sheet(0.125, hour, 30*minute, 50*ms, 2, 10*ms, 300*ms, 0, 20*ms),
		sheet(8, 30*minute, 30*minute, 50*ms, 2, 10*ms, 300*ms, 0, 20*ms)}, 10, ""},
	{"f-high", "F, H (IEC 60127-2 sheet 1)", false, []row{
		sheet(0.05, hour, 30*minute, 10*ms, 2, 3*ms, 300*ms, 0, 20*ms),
		sheet(4, hour, 30*minute, 10*ms, 3, 3*ms, 300*ms, 0, 20*ms)}, 6.3, fromMemory},
	{"t-low", "T, L (IEC 60127-2 sheet 3)", false, []row{
		sheet(0.032, hour, 2*minute, 200*ms, 10, 40*ms, 3, 10*ms, 300*ms),
		sheet(0.125, hour, 2*minute, 600*ms, 10, 150*ms, 3, 20*ms, 300*ms)}, 6.3, fromMemory},
	{"t-high", "T, H (IEC 60127-2 sheet 5)", false, []row{
		sheet(0.5, hour, 30*minute, 250*ms, 80, 50*ms, 5, 5*ms, 150*ms).by(makersOwn),
		sheet(1, hour, 30*minute, 750*ms, 80, 95*ms, 5, 10*ms, 150*ms),
		sheet(4, hour, 30*minute, 750*ms, 80, 150*ms, 5, 20*ms, 150*ms),
		sheet(8, 30*minute, 30*minute, 750*ms, 80, 150*ms, 5, 20*ms, 150*ms),
		sheet(12.5, 15*minute, 30*minute, 750*ms, 80, 150*ms, 5, 20*ms, 150*ms).by(makersOwn)}, 16, ""},
	{"t-high-older", "T, H (sheet 5, older text)", false, []row{
		sheet(1, hour, 30*minute, 1, 80, 95*ms, 5, 10*ms, 100*ms),
		sheet(4, hour, 30*minute, 1, 80, 150*ms, 5, 20*ms, 100*ms)}, 10, makersOlder},
	{"ul-quick", "UL 248-14, quick", true, []row{
		{from: 0.032, gates: []one{{1.1, 4 * hour, never}, {1.35, 0, hour}, {2, 0, 2 * minute}}},
		{from: 35, gates: []one{{1.1, 4 * hour, never}, {1.35, 0, hour}, {2, 0, 4 * minute}}}}, 60, ""},
	{"ul-delay", "UL 248-14, time-delay", true, []row{
		{from: 0.032, gates: []one{{1.1, 4 * hour, never}, {1.35, 0, hour}, {2, 5, 2 * minute}}},
		{from: 3.15, gates: []one{{1.1, 4 * hour, never}, {1.35, 0, hour}, {2, 12, 2 * minute}}}}, 30, ""},
}

func choices() []calc.Choice {
	var cs []calc.Choice
	for _, f := range families {
		cs = append(cs, calc.Choice{Name: f.name, Label: f.label})
	}
	return cs
}

func others() []calc.Output {
	var os []calc.Output
	for _, f := range families {
		os = append(os, calc.Output{Name: f.name, Label: f.label})
	}
	return os
}

// slack lets 2 A × 2.75 meet the gate at 5.5 A.
const slack = 1e-9

// row is that of a rating in amperes; false where the sheet has no such rating.
func (f family) row(rating float64) (row, bool) {
	if rating > f.to*(1+slack) {
		return row{}, false
	}
	found := row{}
	for _, r := range f.rows {
		if rating >= r.from*(1-slack) {
			found = r
		}
	}
	if found.rests == "" {
		found.rests = f.rests
	}
	return found, found.gates != nil
}

// gates are those of a rating in amperes; none where the sheet has no such rating.
func (f family) gates(rating float64) []one {
	r, _ := f.row(rating)
	return r.gates
}

// bounds are the earliest and latest opening time in seconds at a multiple of the
// rating: a fuse is no slower with more current.
func bounds(gates []one, multiple float64) (earliest, latest float64) {
	latest = never
	for _, g := range gates {
		if g.multiple >= multiple*(1-slack) {
			earliest = math.Max(earliest, g.least)
		}
		if g.multiple <= multiple*(1+slack) {
			latest = math.Min(latest, g.most)
		}
	}
	return earliest, latest
}

func duration(s float64) string { return quantity.Of(quantity.Duration, s).Text() }

// say puts bounds into a word and a sentence.
func say(earliest, latest float64) (word, sentence string) {
	switch {
	case math.IsInf(latest, 1) && earliest >= 15*minute:
		return "holds", "Must hold for " + duration(earliest) + "; need not open at all."
	case math.IsInf(latest, 1) && earliest > 0:
		return "may-open", "May open after " + duration(earliest) + " or not at all: no gate."
	case math.IsInf(latest, 1):
		return "may-open", "May open at any time or not at all: no gate."
	case earliest > 0:
		return "opens", "Opens between " + duration(earliest) + " and " + duration(latest) + "."
	}
	return "opens", "Opens within " + duration(latest) + "."
}

func multipleOf(in calc.In) float64 {
	if v := in.Value("current"); v.Kind == quantity.Current {
		return v.Num / in.Num("rating")
	}
	return in.Num("current")
}

func find(name string) family {
	for _, f := range families {
		if f.name == name {
			return f
		}
	}
	return family{}
}

// span is the lowest and the highest multiple of the rating, over the tolerances.
func span(in calc.In) (low, high float64) {
	v, rating := in.Whole("current"), in.Whole("rating")
	if v.Kind == quantity.Current {
		return v.Low / rating.High, v.High / rating.Low
	}
	return v.Low, v.High
}

// over are the bounds that hold for every multiple from low to high: it holds no longer than it must at
// the highest, and has opened at the latest when it must at the lowest.
func over(gates []one, low, high float64) (earliest, latest float64) {
	earliest, _ = bounds(gates, high)
	_, latest = bounds(gates, low)
	return earliest, latest
}

func run(in calc.In, out *calc.Out) error {
	rating := in.Num("rating")
	low, high := span(in)
	if low <= 0 {
		return calc.Bad("current", "Current: it should be more than zero, as a multiple of the rating or in amperes")
	}
	chosen := find(in.Word("standard"))
	r, ok := chosen.row(rating)
	if !ok {
		return calc.Bad("rating", "Amperes marked: "+chosen.label+" has gates for "+quantity.Of(quantity.Current, chosen.rows[0].from).Text()+" to "+
			quantity.Of(quantity.Current, chosen.to).Text()+" only")
	}
	out.Set("multiple", multipleOf(in))
	earliest, latest := over(r.gates, low, high)
	if earliest > 0 {
		out.Set("earliest", earliest)
	}
	if !math.IsInf(latest, 1) {
		out.Set("latest", latest)
	}
	word, sentence := say(earliest, latest)
	out.Say("verdict", word, sentence+resting(r))
	for _, f := range families {
		if r, ok := f.row(rating); ok {
			word, sentence := say(over(r.gates, low, high))
			out.Say(f.name, word, sentence+resting(r))
		}
	}
	if word, sentence, ok := against(rating, low, high); ok {
		out.Say("standards", word, sentence)
	}
	if r.rests != "" {
		out.Note("Mind what this rests on: " + r.rests + ". Look at the maker's data sheet.")
	}
	out.Note("Gates are for new fuses at 23 °C.")
	return nil
}

// resting is the remark behind a sentence that is not by the standard's own sheet.
func resting(r row) string {
	if r.rests == "" {
		return ""
	}
	return " (" + strings.ToUpper(r.rests[:1]) + r.rests[1:] + ".)"
}

// against holds IEC against UL for the multiples from low to high; false where no IEC sheet has
// this rating. They contradict where one must hold longer than the other may.
func against(rating, low, high float64) (word, sentence string, ok bool) {
	at := []float64{low, (low + high) / 2, high}
	for _, f := range families {
		for _, g := range f.gates(rating) {
			if g.multiple > low && g.multiple < high {
				at = append(at, g.multiple)
			}
		}
	}
	for i, m := range at {
		iec, ul := [2]float64{0, never}, [2]float64{0, never} // longest hold, shortest latest
		for _, f := range families {
			if gates := f.gates(rating); gates != nil {
				e, l := bounds(gates, m)
				side := &iec
				if f.ul {
					side = &ul
				}
				side[0], side[1] = math.Max(side[0], e), math.Min(side[1], l)
			}
		}
		w, s := "overlap", "At this current one fuse could meet both; at 1.35 to 1.5 times the rating none can."
		switch {
		case iec[0] == 0 && math.IsInf(iec[1], 1):
			return "", "", false
		case iec[0] >= ul[1]:
			w, s = "contradict", "They contradict each other: to IEC it holds for "+duration(iec[0])+", to UL it must have opened by "+duration(ul[1])+". One is no replacement for the other."
		case ul[0] >= iec[1]:
			w, s = "contradict", "They contradict each other: to UL it holds for "+duration(ul[0])+", to IEC it must have opened by "+duration(iec[1])+". One is no replacement for the other."
		}
		if i > 0 && w != word {
			return calc.CannotTell, "Cannot tell: at one end of this current they contradict each other, at the other one fuse could meet both.", true
		}
		word, sentence = w, s
	}
	return word, sentence, true
}

func chart(in calc.In) (draw.Chart, error) {
	gates := find(in.Word("standard")).gates(in.Num("rating"))
	low, high := draw.Series{Name: "earliest", Dashed: true}, draw.Series{Name: "latest"}
	add := func(s *draw.Series, x, seconds float64) {
		s.X, s.Y = append(s.X, x), append(s.Y, math.Log10(seconds))
	}
	for i := 0; i <= 440; i++ {
		x := 1 + float64(i)*0.025
		e, l := bounds(gates, x)
		if e > 0 {
			add(&low, x, e)
		}
		if !math.IsInf(l, 1) {
			add(&high, x, l)
		}
	}
	c := draw.Chart{X: draw.Axis{Label: "current", Unit: "times the rating"}, Y: draw.Axis{Label: "time", Unit: "powers of ten of a second"}, Series: []draw.Series{high, low}}
	if m := multipleOf(in); m >= 1 && m <= 12 {
		c.Marks = []draw.Mark{{X: m, Name: "here", Upright: true}}
	}
	return c, nil
}
