package junction

import (
	_ "embed"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
)

//go:embed doc.go
var doc string

// asked is one reading in the diode range.
func asked(red, black, help string) calc.Input {
	return calc.Input{Name: "red" + red + "-black" + black, Label: "Red on leg " + red + ", black on leg " + black, Kind: quantity.Voltage, Reading: true,
		Meter: reading.Meter{Diode: true}, Optional: true, Help: help}
}

// Calculator tells what a part is from its readings in the diode range.
var Calculator = &calc.Calculator{
	Name:  "junction",
	Title: "Reading a transistor or diode",
	For:   "Tells from diode-range readings what a part is, which leg is which, and whether it is open, shorted or leaky.",
	Shelf: "semiconductor",
	Inputs: []calc.Input{
		asked("1", "2", "As the meter shows it; OL for open. A diode needs this and the next one only."),
		asked("2", "1", ""),
		asked("1", "3", "Number the legs as they stand, from left to right."),
		asked("3", "1", ""),
		asked("2", "3", ""),
		asked("3", "2", ""),
	},
	Outputs: []calc.Output{
		{Name: "state", Label: "State", Main: true},
		{Name: "part", Label: "What it is", Main: true},
		{Name: "base", Label: "Base"},
		{Name: "emitter", Label: "Emitter"},
		{Name: "collector", Label: "Collector"},
		{Name: "anode", Label: "Anode"},
		{Name: "cathode", Label: "Cathode", Help: "The end with the band."},
	},
	Compute: run,
	Doc:     doc,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Plug out and capacitors discharged and measured before a meter in the diode range goes on. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Notice, Text: "Touch earthed metal before a MOSFET, and hold it by its case."},
	},
	Example: calc.Example{
		Says: "A small transistor without a mark, out of its board. Red on the middle leg reads 0.672 V to leg 1 and 0.665 V to leg 3; all else is OL.",
		Inputs: []calc.Setting{{Name: "red1-black2", Value: "OL"}, {Name: "red2-black1", Value: "0.672 V"}, {Name: "red1-black3", Value: "OL"},
			{Name: "red3-black1", Value: "OL"}, {Name: "red2-black3", Value: "0.665 V"}, {Name: "red3-black2", Value: "OL"}},
		Prints: []calc.Setting{{Name: "state", Value: "Junctions intact; gain and breakdown untested."},
			{Name: "part", Value: "NPN transistor: red on leg 2 conducts to both others. A double diode with joined anodes reads the same."},
			{Name: "base", Value: "leg 2"}, {Name: "emitter", Value: "leg 1, as its junction reads more"}, {Name: "collector", Value: "leg 3"}},
	},
}

// input names the reading with red on leg i and black on leg j.
func input(i, j int) string { return "red" + legs[i] + "-black" + legs[j] }

var legs = [...]string{"1", "2", "3"}

// pairs of legs, each once.
var pairs = [...][2]int{{0, 1}, {0, 2}, {1, 2}}

func run(in calc.In, out *calc.Out) error {
	var m matrix
	given, missing := 0, []string(nil)
	for i := range legs {
		for j := range legs {
			if i == j {
				continue
			}
			name := input(i, j)
			if !in.Has(name) {
				missing = append(missing, "red "+legs[i]+" black "+legs[j])
				continue
			}
			var x quantity.Value
			if in.Reading(name).Bounded() {
				x = in.Value(name)
			}
			r, err := read(in.Reading(name), x)
			if err != nil {
				return calc.Bad(name, "Red on leg "+legs[i]+", black on leg "+legs[j]+": "+err.Error())
			}
			m[i][j] = r
			given++
		}
	}
	switch {
	case given == 2 && in.Has(input(0, 1)) && in.Has(input(1, 0)):
		two(m[0][1], m[1][0]).tell(out)
	case given == 6:
		three(m).tell(out)
	default:
		out.Say("state", "not-complete", "Not enough readings: a part with two legs needs two, one with three legs all six. Still missing: "+strings.Join(missing, ", ")+".")
	}
	return nil
}

// finding is what readings say; empty words are not told.
type finding struct {
	state, stateSays string
	part, partSays   string
	legs             [][2]string // output and leg, with what to add
	notes            []string
}

func (f finding) tell(out *calc.Out) {
	out.Say("state", f.state, f.stateSays)
	if f.part != "" {
		out.Say("part", f.part, f.partSays)
	}
	for _, l := range f.legs {
		word, _, _ := strings.Cut(l[1], ",")
		out.Say(l[0], strings.ReplaceAll(word, " ", "-"), l[1])
	}
	for _, n := range f.notes {
		out.Note(n)
	}
}

const (
	intact     = "Junctions intact; gain and breakdown untested."
	chargedFET = "A MOSFET with a charged gate conducts both ways too: short its three legs together for a second and read again."
	inCircuit  = "In a circuit other parts conduct beside it: unsolder all legs but one before you believe it."
)

func leg(i int) string { return "leg " + legs[i] }
