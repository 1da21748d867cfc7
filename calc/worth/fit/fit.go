package fit

import (
	_ "embed"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// ratings are the inputs, each for the original and the replacement.
var ratings = []struct {
	name, label string
	kind        quantity.Kind
	or          []quantity.Kind
	help        string
}{
	{"value", "Value", quantity.Resistance, []quantity.Kind{quantity.Capacitance, quantity.Voltage}, "Resistance, capacitance, or the voltage of a coil or regulator."},
	{"current", "Current rating", quantity.Current, nil, ""},
	{"volts", "Voltage rating", quantity.Voltage, nil, ""},
	{"power", "Power rating", quantity.Power, nil, ""},
	{"temperature", "Temperature mark", quantity.Temperature, nil, ""},
	{"breaking", "Breaking capacity", quantity.Current, nil, "L: 35 A or ten times the mark; H: 1500 A."},
	{"area", "Area of each core", quantity.Area, nil, ""},
}

var classes = []string{"T", "F", "one-shot", "self-resetting", "X2", "Y2", "fusible", "NPN", "DC 1 changeover", "3 cores rubber"}

// Calculator holds a replacement part against the original.
var Calculator = &calc.Calculator{
	Name:    "fit",
	Title:   "Does this part fit?",
	For:     "Holds a replacement part against the original: which ratings must be equal, which may be higher, which may never differ.",
	Shelf:   "worth",
	Inputs:  inputs(),
	Outputs: outputs(),
	Compute: run,
	Doc:     doc,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "A protective part of the wrong rating protects nothing. Fuses, links, X and Y capacitors, fusible resistors, cords and switches are replaced by their like, with approval marks, and never bridged. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says: "A 2 A slow fuse of 250 V, high breaking capacity, is to be replaced by a 3.15 A one.",
		Inputs: []calc.Setting{{Name: "part", Value: "fuse"}, {Name: "current-old", Value: "2 A"}, {Name: "current-new", Value: "3.15 A"}, {Name: "volts-old", Value: "250 V"}, {Name: "volts-new", Value: "250 V"},
			{Name: "breaking-old", Value: "1500 A"}, {Name: "breaking-new", Value: "1500 A"}, {Name: "class-old", Value: "T"}, {Name: "class-new", Value: "T"}},
		Prints: []calc.Setting{{Name: "verdict", Value: "Does not fit: the ampere mark is equal, never higher."}},
	},
	Onward: []calc.Onward{{Calculator: "fuse", Says: "A fuse: is it right for the inrush and the short-circuit current?"}, {Calculator: "thermal-link", Says: "A link: which temperature suits its place?"}},
}

func inputs() []calc.Input {
	part := calc.Input{Name: "part", Label: "Kind of part", Default: "fuse"}
	for _, name := range order {
		part.Choices = append(part.Choices, calc.Choice{Name: name, Label: kinds[name].label})
	}
	list := []calc.Input{part}
	for _, r := range ratings {
		list = append(list, calc.Input{Name: r.name + "-old", Label: r.label + " of the original", Kind: r.kind, Or: r.or, Optional: true, Help: r.help},
			calc.Input{Name: r.name + "-new", Label: r.label + " of the new one", Kind: r.kind, Or: r.or, Optional: true})
	}
	return append(list, calc.Input{Name: "class-old", Label: "Class of the original", Text: classes, Optional: true, Help: "Speed, kind, X or Y class, polarity, cores: as marked."},
		calc.Input{Name: "class-new", Label: "Class of the new one", Text: classes, Optional: true})
}

func outputs() []calc.Output {
	list := []calc.Output{{Name: "verdict", Label: "The part", Main: true}}
	for _, r := range ratings {
		list = append(list, calc.Output{Name: r.name, Label: r.label})
	}
	return append(list, calc.Output{Name: "class", Label: "Class"}, calc.Output{Name: "ask", Label: "Still to look up"}, calc.Output{Name: "never", Label: "May never differ"})
}

// slack against rounding of marks.
const slack = 1e-9

func run(in calc.In, out *calc.Out) error {
	k := kinds[in.Word("part")]
	var wrong, ask []string
	missing := false
	for _, r := range k.rules {
		ok, known, err := holds(in, r)
		if err != nil {
			return err
		}
		switch {
		case !known:
			if r.must {
				missing = true
				ask = append(ask, r.rating)
			}
		case ok:
			out.Say(r.rating, "passes", "Passes: "+r.says+".")
		default:
			out.Say(r.rating, "fails", "Fails: "+r.says+".")
			wrong = append(wrong, r.says)
		}
	}
	out.Say("never", "rule", k.never)
	switch {
	case len(wrong) > 0:
		out.Say("verdict", "does-not-fit", "Does not fit: "+strings.Join(wrong, "; ")+".")
	case missing:
		out.Say("verdict", "not-known", "Cannot be said yet: not all ratings that matter are known of both.")
		out.Say("ask", "ask", "Of both parts: "+strings.Join(ask, ", ")+".")
	default:
		out.Say("verdict", "fits", "Fits by its ratings. Now size, pins, distances and approval marks.")
	}
	return nil
}

// holds tells whether a rating passes its rule, and whether it is known of both
// parts.
func holds(in calc.In, r rule) (ok, known bool, err error) {
	was, is := r.rating+"-old", r.rating+"-new"
	if r.how == same {
		if !in.Has(was) || !in.Has(is) {
			return false, false, nil
		}
		if in.Word("part") == "x-y" {
			for _, name := range []string{was, is} {
				if readClasses(in.Word(name)) == nil {
					return false, false, calc.Bad(name, "“"+in.Word(name)+"” is no class of an X or Y capacitor; write it as printed, such as X2, Y2 or X1/Y2")
				}
			}
		}
		return sameClass(in.Word("part"), in.Word(was), in.Word(is)), true, nil
	}
	if !in.Has(was) || !in.Has(is) {
		return false, false, nil
	}
	a, b := in.Value(was), in.Value(is)
	if a.Kind != b.Kind {
		return false, false, calc.Bad(is, "the new part's "+r.rating+" is a "+string(b.Kind)+", the original's a "+string(a.Kind)+"; write both in the same unit")
	}
	old, now := in.Num(was), in.Num(is)
	if old < 0 || now < 0 && a.Kind != quantity.Temperature {
		return false, false, calc.Bad(is, "a rating is not below zero; write the mark on the part")
	}
	switch {
	case strict(in, r):
		return now >= old*(1-r.low-slack) && now <= old*(1+slack), true, nil
	case r.how == atLeast:
		return now >= old*(1-slack), true, nil
	}
	return now >= old*(1-r.low-slack) && now <= old*(1+r.high+slack), true, nil
}

// strict: a rating that may be higher in others of its kind and never in this one. The
// farads of a Y capacitor set the touch current; a fusible resistor opens by its watts.
func strict(in calc.In, r rule) bool {
	class := tidy(in.Word("class-old"))
	switch in.Word("part") {
	case "x-y":
		return r.rating == "value" && strings.Contains(class, "Y")
	case "resistor":
		return r.rating == "power" && strings.Contains(class, "FUSIBLE")
	}
	return false
}

// tidy is a mark without case and needless spaces.
func tidy(s string) string { return strings.ToUpper(strings.Join(strings.Fields(s), " ")) }

// sameClass: marks are compared without case and spaces. Among X and Y
// capacitors a better class may stand in: Y for X, and one that stands a higher surge.
func sameClass(part, old, now string) bool {
	if part != "x-y" {
		return tidy(old) == tidy(now)
	}
	// every class of the original needs one in the new part that serves for it
	for _, a := range readClasses(old) {
		serves := false
		for _, b := range readClasses(now) {
			serves = serves || (a[0] == b[0] || a[0] == 'X') && surge[b] >= surge[a] && (a == b || surge[b] > 0)
		}
		if !serves {
			return false
		}
	}
	return true
}

// surge is the peak in volts that each class of IEC 60384-14 stands, 0 where none is tested (from
// memory).
var surge = map[string]float64{"X1": 4000, "X2": 2500, "X3": 0, "Y1": 8000, "Y2": 5000, "Y3": 0, "Y4": 2500}

// readClasses reads an X or Y mark, of one class or of several parted by a stroke or a
// space ("X1/Y2"); nil if any is none of them.
func readClasses(mark string) []string {
	list := strings.FieldsFunc(tidy(mark), func(r rune) bool { return r == '/' || r == ' ' })
	for _, c := range list {
		if _, known := surge[c]; !known {
			return nil
		}
	}
	return list
}
