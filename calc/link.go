package calc

import (
	"errors"
	"strings"
)

// Scheme starts the address of a computed number in a note.
const Scheme = "calc:"

// Link is the address of a calculator with inputs and, mostly, one output:
//
//	calc:rectifier?ac=17V&capacitor=2200_µF#mean
//
// The grammar: after the scheme, the name ends at the first "?", the output
// begins after the last "#", inputs are parted by "&", name and value by the
// first "="; "_" stands for a space. Nothing else is decoded.
type Link struct {
	Calculator string
	Inputs     []Setting
	Output     string
}

// ParseLink reads a link; the scheme may be left out.
func ParseLink(s string) (Link, error) {
	s = strings.TrimPrefix(s, Scheme)
	var l Link
	if i := strings.LastIndexByte(s, '#'); i >= 0 {
		s, l.Output = s[:i], s[i+1:]
		if l.Output == "" {
			return l, errors.New("nothing stands after #; name an output there")
		}
	}
	name, query, asks := strings.Cut(s, "?")
	l.Calculator = name
	if !plainName(name) {
		return l, errors.New("the calculator's name is missing in the address; write it like calc:rectifier?ac=17V#mean")
	}
	if !asks || query == "" {
		return l, nil
	}
	for _, part := range strings.Split(query, "&") {
		n, v, ok := strings.Cut(part, "=")
		if !ok || n == "" {
			return l, errors.New("“" + part + "” in the address is no input; write name=value")
		}
		l.Inputs = append(l.Inputs, Setting{Name: n, Value: strings.ReplaceAll(v, "_", " ")})
	}
	return l, nil
}

// plainName: lower-case letters, digits and hyphens.
func plainName(s string) bool {
	for _, r := range s {
		if !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-') {
			return false
		}
	}
	return s != ""
}

// String writes the link; ParseLink reads it back unless a value holds "&",
// "#" or "_".
func (l Link) String() string {
	var b strings.Builder
	b.WriteString(Scheme + l.Calculator)
	for i, in := range l.Inputs {
		if i == 0 {
			b.WriteByte('?')
		} else {
			b.WriteByte('&')
		}
		b.WriteString(in.Name + "=" + strings.ReplaceAll(in.Value, " ", "_"))
	}
	if l.Output != "" {
		b.WriteString("#" + l.Output)
	}
	return b.String()
}

// AddToPlate is the remedy for what a plate lacks, where a note is written; at the
// bench the plate is asked for.
const AddToPlate = "add it under plate: at the top of the device"

// Fill replaces values that name a property of a device's rating plate
// ("plate.power") by what the plate says. It fails on a property that the plate
// lacks.
func (l Link) Fill(plate map[string]string) (Link, error) {
	out := l
	out.Inputs = make([]Setting, len(l.Inputs))
	for i, in := range l.Inputs {
		if key, ok := strings.CutPrefix(in.Value, "plate."); ok {
			v, known := plate[key]
			if !known {
				return l, errors.New("the plate has no “" + key + "”; " + AddToPlate)
			}
			in.Value = v
		}
		out.Inputs[i] = in
	}
	return out, nil
}
