package armature

import (
	_ "embed"
	"math"
	"slices"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
)

//go:embed doc.go
var doc string

// Calculator is the calculator "armature".
var Calculator = &calc.Calculator{
	Name: "armature", Title: "Armature, bar to bar", Shelf: "winding",
	For: "Reads a row of readings from bar to bar around a commutator: an open coil, a bad joint, a shorted coil, or cannot tell.",
	Inputs: []calc.Input{
		{Name: "readings", Label: "Readings in order around the commutator", Kind: quantity.Resistance, Or: []quantity.Kind{quantity.Voltage}, Row: true,
			Default: "0.52 0.51 0.53 0.52 5.7 0.52 0.51 0.52 0.53 0.52 0.51 0.52", Help: "With a space between, OL for no end; ohms, or millivolts with a fed current, if no unit stands there."},
		{Name: "more", Label: "More readings", Folded: true, Kind: quantity.Resistance, Or: []quantity.Kind{quantity.Voltage}, Row: true, Optional: true, Help: "Where they do not fit above."},
		{Name: "bars", Label: "Bars of the commutator", Kind: quantity.Count, Optional: true, Low: "5", High: "400", Help: "To check that none is missing: as many readings as bars."},
		{Name: "method", Label: "Read as", Default: "ohms", Choices: []calc.Choice{{Name: "ohms", Label: "ohms"}, {Name: "drop", Label: "voltage with a fed current"}}},
		{Name: "winding", Label: "Winding", Folded: true, Default: "lap", Choices: []calc.Choice{{Name: "lap", Label: "lap (most hand tools)"}, {Name: "wave", Label: "wave"}}},
		{Name: "poles", Label: "Poles", Folded: true, Kind: quantity.Count, Default: "2", Low: "2", High: "24"},
		{Name: "step", Label: "One step of the meter's last figure", Folded: true, Kind: quantity.Resistance, Or: []quantity.Kind{quantity.Voltage}, Default: "0.01", Help: "Like the readings: ohms, or millivolts with a fed current."},
		{Name: "spread", Label: "May differ from the rest by", Folded: true, Kind: quantity.Percent, Default: "10 %", Low: "1 %", High: "40 %", Help: "A first guess: contact and temperature make some per cent."},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "where", Label: "Where"},
		{Name: "typical", Label: "Usual reading", Kind: quantity.Resistance},
		{Name: "typical-volts", Label: "Usual reading", Kind: quantity.Voltage},
		{Name: "coil", Label: "One coil", Kind: quantity.Resistance},
		{Name: "open-reads", Label: "An open coil would read", Kind: quantity.Resistance, Help: "through the rest of the ring"},
		{Name: "short-reads", Label: "A shorted coil would read", Kind: quantity.Resistance},
		{Name: "highest-off", Label: "Highest over the usual", Kind: quantity.Percent},
		{Name: "lowest-off", Label: "Lowest under the usual", Kind: quantity.Percent},
	},
	Compute: run,
	Doc:     doc,
	MathML:  `<math display="block"><mrow><mi>R</mi><mo>=</mo><mi>r</mi><mfrac><mrow><mi>p</mi><mo>(</mo><mi>N</mi><mo>−</mo><mi>p</mi><mo>)</mo></mrow><mi>N</mi></mfrac></mrow></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Plug out or battery off before anything touches the commutator. A motor that is fed on the bench starts: clamp it, no fingers at the shaft. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says:   "The armature of a drill with twelve bars reads about 0.52 Ω everywhere, and 5.7 Ω at one place.",
		Inputs: []calc.Setting{{Name: "readings", Value: "0.52 0.51 0.53 0.52 5.7 0.52 0.51 0.52 0.53 0.52 0.51 0.52"}, {Name: "bars", Value: "12"}},
		Prints: []calc.Setting{{Name: "where", Value: "Between bars 5 and 6."}, {Name: "typical", Value: "520 mΩ"}},
	},
	Plots: []calc.Plot{{Name: "round", Title: "Readings around the commutator",
		Says: "The readings in order; the level is the usual one. A coil or joint that stands out is seen at once.", Chart: chart}},
	Onward: []calc.Onward{
		{Calculator: "insulation", Says: "Is the winding isolated from the shaft?"},
		{Calculator: "lead-null", Says: "Are the leads' ohms taken off rightly?", Takes: []calc.Take{{From: "typical", To: "reading"}}},
	},
}

// row is the readings as entered; endless ones are +Inf.
type row struct {
	x     []float64
	volts bool
	step  float64
}

// amount is a reading's or step's number in ohms or volts; without a unit it is
// millivolts where volts are asked for.
func amount(v quantity.Value, drop bool) (x float64, volts bool) {
	if drop && v.Kind == quantity.Resistance && v.Unit == "" {
		return v.Num / 1000, true
	}
	return v.Num, v.Kind == quantity.Voltage
}

// read takes the readings as the meter showed them.
func read(drop bool, shown ...reading.Reading) (row, error) {
	var r row
	bad := func(says string) (row, error) { return row{}, calc.Bad("readings", "Readings: "+says) }
	ohms, least := 0, math.Inf(1)
	for _, s := range shown {
		if s.IsAbove() {
			r.x, least = append(r.x, math.Inf(1)), math.Min(least, s.Limit())
			continue
		}
		if !s.Bounded() || s.Value.Ranged() || s.Value.Num < 0 || s.Value.Num > 1e9 {
			return bad("“" + s.Says() + "” is no plain reading; write figures from 0 up, without tolerance, and OL for no end")
		}
		x, volts := amount(s.Value, drop)
		if r.x = append(r.x, x); volts {
			r.volts = true
		} else {
			ohms++
		}
	}
	switch {
	case r.volts && ohms > 0:
		return bad("ohms and volts are mixed; write all in one")
	case ohms > 0 && drop:
		return bad("these are ohms; write volts like 5.2 5.1 mV, or choose ohms")
	case r.volts && !drop:
		return bad("these are volts; choose volts with a fed current, or write ohms")
	}
	if usual := r.usual(); !r.volts && usual > 0 && least < openFrom*usual {
		return bad("OL may be no more than above " + quantity.Of(quantity.Resistance, least).Text() + " here, which a sound place could read; go round on a higher range")
	}
	return r, nil
}

// fewest readings that make a pattern.
const fewest = 5

func of(in calc.In) (row, error) {
	drop := in.Word("method") == "drop"
	r, err := read(drop, append(append([]reading.Reading(nil), in.Readings("readings")...), in.Readings("more")...)...)
	if err != nil {
		return r, err
	}
	if len(r.x) < fewest {
		return r, calc.Bad("readings", "Readings: "+quantity.Number(float64(len(r.x)))+" are too few to compare; go round the whole commutator")
	}
	if in.Has("bars") && in.Num("bars") != float64(len(r.x)) {
		return r, calc.Bad("bars", "Bars: "+quantity.Number(in.Num("bars"))+" bars make as many readings, and there are "+quantity.Number(float64(len(r.x)))+"; the last is between the last bar and the first")
	}
	step, _ := amount(in.Value("step"), drop)
	if !(step > 0) {
		return r, calc.Bad("step", "One step of the meter's last figure: write one figure above zero like 0.01, in the unit of the readings")
	}
	r.step = step
	return r, nil
}

// usual is the median of the finite readings; of those above one step where zeros
// belong to the pattern of an open coil.
func (r row) usual() float64 {
	var some []float64
	for _, x := range r.x {
		if !math.IsInf(x, 1) && (!r.volts || x > r.step) {
			some = append(some, x)
		}
	}
	if len(some) == 0 {
		return 0
	}
	slices.Sort(some)
	n := len(some)
	return (some[(n-1)/2] + some[n/2]) / 2
}

// Bounds of the verdict as multiples of the usual reading: our choice. An open coil
// of a lap winding reads N − 1 times the rest and of a wave winding (N − p)/p times; a
// joint adds some tenths. A shorted coil leaves (p − 1)/p, nearly nothing for p = 1.
const openFrom = 1.8

// ring is a sound reading between neighbouring bars of n coils of r ohms, p in one way.
func ring(r float64, n, p int) float64 { return r * float64(p) * float64(n-p) / float64(n) }

// path is how many coils lie between neighbouring bars.
func path(in calc.In, n int) (int, error) {
	poles := in.Num("poles")
	if poles != math.Trunc(poles) || int(poles)%2 != 0 {
		return 0, calc.Bad("poles", "Poles: a motor has an even number of poles, 2, 4, 6 ...")
	}
	p := 1
	if in.Word("winding") == "wave" {
		p = int(poles) / 2
	}
	if 2*p > n {
		return 0, calc.Bad("poles", "Poles: so many poles need more bars than there are readings")
	}
	return p, nil
}

func run(in calc.In, out *calc.Out) error {
	r, err := of(in)
	if err != nil {
		return err
	}
	n := len(r.x)
	p, err := path(in, n)
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(r.x, func(x float64) bool { return !math.IsInf(x, 1) }) {
		out.Say("verdict", "no-path", "No path between any two bars. An armature does not lose all its coils at once: touch the probes together, clean the commutator to the metal, press the tips onto neighbouring bars, and go round again. If it stays so, the wires are off the bars.")
		return nil
	}
	usual, spread := r.usual(), in.Num("spread")
	if r.volts {
		out.Set("typical-volts", usual)
	} else {
		out.Set("typical", usual)
	}
	if usual < 3*r.step {
		out.Say("verdict", calc.CannotTell, "Cannot tell: the usual reading is only "+quantity.Number(quantity.Round(usual/r.step, 3))+" steps of the meter. Feed a steady current to two bars and read millivolts.")
		return nil
	}
	margin := math.Max(spread*usual, 1.5*r.step) // both readings of a comparison are uncertain
	var high, joints, low []int
	most, least := math.Inf(-1), math.Inf(1)
	for k, x := range r.x {
		switch {
		case x > math.Max(openFrom*usual, usual+margin):
			high = append(high, k)
		case x > usual+margin:
			joints = append(joints, k)
		case x < usual-margin:
			low = append(low, k)
		}
		if !math.IsInf(x, 1) {
			most, least = math.Max(most, x), math.Min(least, x)
		}
	}
	out.Set("highest-off", most/usual-1)
	out.Set("lowest-off", 1-least/usual)
	if 2*(len(high)+len(joints)+len(low)) > n && !(r.volts && len(high) > 0) {
		out.Say("verdict", calc.CannotTell, "Cannot tell: the readings agree so little that none is usual. Clean the commutator, press evenly, and go round once more.")
		return nil
	}
	bar, atBar := barOff(high, n)
	if !r.volts {
		coil := usual / ring(1, n, p)
		if len(high) > 0 && !atBar {
			coil = usual / float64(p) // the ring is cut: nothing lies in parallel
		}
		out.Set("coil", coil)
		out.Set("open-reads", coil*float64(n-p))
		out.Set("short-reads", shorted(coil, n, p))
	}
	switch {
	case len(high) > 0 && atBar && !r.volts:
		out.Say("verdict", "bar-off", "Bar "+quantity.Number(float64(bar+1))+" has lost its wires, or both coils at it are open: the two places beside it are high and the others are not. Solder or weld the joint again, if it can be reached.")
		where(out, high, n)
	case len(high) > 0:
		out.Say("verdict", "open-coil", openSays(r, high, n, p))
		where(out, high, n)
	case len(low) > 0 && allShort(r, low, usual, n, p):
		out.Say("verdict", "shorted-coil", "A shorted coil, or two bars bridged by dirt or solder: scrape the groove clean and read again there."+waveCount(low, p))
		where(out, low, n)
	case len(low) > 0:
		out.Say("verdict", calc.CannotTell, "Cannot tell: low, but not as low as a wholly shorted coil. Some shorted turns, dirt in the groove, a neighbouring joint, or how it was wound. Clean, read again, and use a growler.")
		where(out, low, n)
	case len(joints) > 0:
		out.Say("verdict", "bad-joint", "A joint with too many ohms, by dirt, cracked solder or a loose wire: clean the bars, read again, then do the joint again.")
		where(out, joints, n)
	default:
		out.Say("verdict", "alike", "All alike: no coil is open or wholly shorted. Shorted turns and a short to the shaft would not show.")
	}
	if len(high) > 0 && len(low) > 0 && !r.volts {
		out.Note("There are low readings as well; judge them again once the open place is mended.")
	}
	return nil
}

// shorted is what p places read when one of their coils, r ohms each, is shorted.
func shorted(r float64, n, p int) float64 {
	return r * float64(p-1) * float64(n-p) / float64(n-1)
}

// allShort tells whether every low reading is as low as a wholly shorted coil makes
// it, within a quarter of the usual reading.
func allShort(r row, low []int, usual float64, n, p int) bool {
	share := shorted(1, n, p) / ring(1, n, p)
	for _, k := range low {
		if r.x[k] > (share+.25)*usual {
			return false
		}
	}
	return true
}

// barOff finds one bar whose two places are the only high ones.
func barOff(high []int, n int) (bar int, ok bool) {
	if len(high) != 2 {
		return 0, false
	}
	switch {
	case high[1] == high[0]+1:
		return high[1], true
	case high[0] == 0 && high[1] == n-1:
		return 0, true
	}
	return 0, false
}

func openSays(r row, high []int, n, p int) string {
	endless := 0
	for _, k := range high {
		if math.IsInf(r.x[k], 1) {
			endless++
		}
	}
	says := "An open coil, or a joint off its bar: the wire is broken or burnt off."
	switch {
	case r.volts:
		says += " The readings near nothing belong to its path and are no shorts."
	case p == 1 && endless > 1:
		says = "Open in " + quantity.Number(float64(len(high))) + " places: only with two coils open does a ring read no end."
	case p == 1 && endless == 1:
		says += " One open coil alone would read through the rest of the ring; no end means a second one, or the meter's range."
	}
	return says + waveCount(high, p)
}

// waveCount says that one coil shows at several places of a wave winding.
func waveCount(places []int, p int) string {
	if p > 1 {
		return " In this wave winding one coil shows at " + quantity.Number(float64(p)) + " places; there are " + quantity.Number(float64(len(places))) + "."
	}
	return ""
}

// where names the places by their bars, counted from 1 at the first reading.
func where(out *calc.Out, places []int, n int) {
	var names []string
	for _, k := range places {
		names = append(names, quantity.Number(float64(k+1))+" and "+quantity.Number(float64((k+1)%n+1)))
	}
	out.Say("where", "between", "Between bars "+strings.Join(names, ", ")+".")
}

func chart(in calc.In) (draw.Chart, error) {
	r, err := of(in)
	if err != nil {
		return draw.Chart{}, err
	}
	top := 0.0
	for _, x := range r.x {
		if !math.IsInf(x, 1) {
			top = math.Max(top, x)
		}
	}
	if top == 0 {
		top = 1
	}
	unit := "Ω"
	if r.volts {
		unit = "V"
	}
	c := draw.Chart{X: draw.Axis{Label: "place, from bar", From: 0, To: float64(len(r.x) + 1)}, Y: draw.Axis{Label: "reading", Unit: unit, From: 0, To: top * 1.2},
		Marks: []draw.Mark{{Y: r.usual(), Name: "usual", Level: true}}}
	s := draw.Series{}
	for k, x := range r.x {
		if math.IsInf(x, 1) {
			c.Marks = append(c.Marks, draw.Mark{X: float64(k + 1), Upright: true, Name: "OL"})
			continue
		}
		s.X, s.Y = append(s.X, float64(k+1)), append(s.Y, x)
	}
	c.Series = []draw.Series{s}
	return c, nil
}
