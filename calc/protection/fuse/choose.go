package fuse

import (
	"math"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

// usual are the amperes that fuses are made for, by their standard: the R10 steps of IEC 60127 and
// the ratings of UL 248-14 as dealers list them; from memory.
var usual = map[string][]float64{
	"iec": {0.032, 0.04, 0.05, 0.063, 0.08, 0.1, 0.125, 0.16, 0.2, 0.25, 0.315, 0.4, 0.5, 0.63, 0.8, 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10},
	"ul":  {0.0625, 0.1, 0.125, 0.1875, 0.25, 0.3, 0.375, 0.5, 0.75, 1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8, 10, 12, 15, 20, 25, 30},
}

// kept is one fuse of a drawer.
type kept struct {
	text  string
	amps  float64
	speed string // as in speeds; "not-known" where it is not written
}

// drawer reads fuses parted by blanks, commas or semicolons, such as "T2A 3.15 A; F 500 mA".
func drawer(text string) ([]kept, error) {
	var list []kept
	speed := ""
	words := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ';' || r == '\t' })
	for i := 0; i < len(words); i++ {
		w := strings.TrimSuffix(words[i], ",")
		if s := strings.ToUpper(w); speed == "" && strings.Trim(s, "FMT") == "" && len(s) <= 2 {
			speed = s
			continue
		}
		if i+1 < len(words) && isAmpere(words[i+1]) { // the unit stands apart
			w += strings.TrimSuffix(words[i+1], ",")
			i++
		}
		k := kept{text: speed + w, speed: "not-known"}
		letters := strings.ToUpper(speed)
		rest := w
		for n := 2; n > 0 && letters == ""; n-- {
			if len(w) > n && strings.Trim(strings.ToUpper(w[:n]), "FMT") == "" && w[n] >= '0' && w[n] <= '9' {
				letters, rest = strings.ToUpper(w[:n]), w[n:]
			}
		}
		for _, s := range speeds {
			if strings.ToUpper(s.Name) == letters {
				k.speed = s.Name
			}
		}
		v, err := quantity.Parse(quantity.Current, rest)
		if err != nil || v.Low != v.High || !(v.Num > 0) || letters != "" && k.speed == "not-known" {
			return nil, calc.Bad("drawer", "In the drawer: “"+speed+w+"” is no fuse; write them like T2A 3.15A F500mA")
		}
		k.amps, speed = v.Num, ""
		list = append(list, k)
	}
	if speed != "" {
		return nil, calc.Bad("drawer", "In the drawer: after “"+speed+"” stand no amperes; write it like T2A")
	}
	return list, nil
}

func isAmpere(s string) bool {
	switch strings.ToUpper(strings.TrimSuffix(s, ",")) {
	case "A", "MA":
		return true
	}
	return false
}

// wanted is the rating that is looked for: the mark, which is never raised; without one the
// least usual rating that carries least amperes. False where neither is known.
func wanted(in calc.In, least float64) (amps float64, marked, ok bool) {
	if in.Has("marked") {
		return in.Num("marked"), true, true
	}
	if !in.Has("amps") {
		return 0, false, false
	}
	standard := in.Word("marked-standard")
	if standard == "not-known" {
		standard = "iec"
	}
	for _, a := range usual[standard] {
		if a >= least*(1-same) {
			return a, false, true
		}
	}
	return 0, false, false
}

// choose says which fuse to take, where none in hand is to be judged.
func choose(in calc.In, out *calc.Out, f facts, want float64, marked bool) error {
	have, err := drawer(in.Word("drawer"))
	if err != nil {
		return err
	}
	is := amps(want)
	if s := in.Word("marked-speed"); s != "not-known" {
		is = strings.ToUpper(s) + " " + is
	}
	if b := in.Word("marked-breaking"); b != "not-known" && b != "ul" {
		is += ", " + strings.ToUpper(b)
	}
	get := is + ", at least " + text(quantity.Voltage, in.Num("volts"))
	if !marked {
		out.Say("take", "carries", amps(want)+" is the least usual rating that carries "+amps(in.Num("amps"))+" here. It is no answer: only the mark beside the holder or the service sheet says what the maker chose, and that is never raised.")
		out.Say("verdict", calc.CannotTell, "The mark is not known: find it beside the holder or in the service sheet before any fuse goes in.")
		return nil
	}
	if in.Has("amps") && in.Num("amps") > f.carries {
		out.Say("verdict", "draws-too-much", "The circuit draws "+amps(in.Num("amps"))+" and a fuse as marked carries "+amps(f.carries)+" here: look for what draws too much or runs too hot, not for a larger fuse.")
		return nil
	}
	if !in.Has("drawer") {
		out.Say("take", "get", "Get "+get+": as marked, never more.")
		out.Say("verdict", "as-marked", "As marked: "+is+". Enter what is in hand to have it judged.")
		return nil
	}
	best, near := kept{}, kept{}
	for _, k := range have {
		switch {
		case differ(in.Word("marked-speed"), k.speed) || k.amps > want*(1+same):
		case math.Abs(k.amps-want) <= want*same && (best.text == "" || best.speed == "not-known"):
			best = k
		case k.amps > near.amps:
			near = k
		}
	}
	switch {
	case best.text != "" && best.speed == in.Word("marked-speed") && best.speed != "not-known":
		out.Say("take", "drawer", "Take "+best.text+", if its volts and breaking capacity are no lower: "+get+".")
		out.Say("verdict", "as-marked", "In the drawer lies one with amperes and speed as marked, "+is+".")
	case best.text != "":
		out.Say("take", "drawer", "Take "+best.text+" only if its speed, volts and breaking capacity are those of the mark.")
		out.Say("verdict", calc.CannotTell, "In the drawer lies one with the marked amperes; read the speed on both.")
	case near.text != "":
		out.Say("take", "none", "None: get "+get+". The nearest below is "+near.text+", which protects and may open without need.")
		out.Say("verdict", "not-in-drawer", "None in the drawer is as marked, and none above the mark is fitted: get "+is+".")
	default:
		out.Say("take", "none", "None: get "+get+".")
		out.Say("verdict", "not-in-drawer", "None in the drawer is as marked, and none above the mark is fitted: get "+is+".")
	}
	return nil
}
