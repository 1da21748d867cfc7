package junction

import (
	"errors"
	"strings"

	"faultleaf/calc/quantity"
)

// reading is what the meter showed: volts, or OL.
type reading struct {
	open  bool
	volts float64
}

// Limits between readings in volts; the package comment says where they are from.
const (
	shortBelow   = 0.05
	lowBelow     = 0.15 // between short and any junction
	siliconFrom  = 0.45
	siliconTo    = 0.85
	lightFrom    = 1.5
	highest      = 4.0   // no ordinary diode range shows more
	tellsEmitter = 0.003 // least difference that says which junction is the emitter's
	alikeWithin  = 0.1   // V between the junctions of one transistor
)

func (r reading) short() bool    { return !r.open && r.volts < shortBelow }
func (r reading) conducts() bool { return !r.open && r.volts >= shortBelow }

// material of a junction by its volts, as a word and in plain words.
func (r reading) material() (word, says string) {
	switch {
	case r.volts < lowBelow:
		return "low", "too low for a small junction: a large Schottky diode, or a leak"
	case r.volts < siliconFrom:
		return "schottky-or-germanium", "Schottky or germanium, or a large or warm silicon junction"
	case r.volts <= siliconTo:
		return "silicon", "silicon"
	case r.volts < lightFrom:
		return "two-junctions", "two junctions in series, an infrared diode, or a bad contact"
	}
	return "light-emitting", "a light-emitting diode, or several junctions in series"
}

var overloads = map[string]bool{"ol": true, "0l": true, "ofl": true, "open": true, "over": true, "∞": true, "inf": true, "oo": true, "---": true, "1": true}

var errReading = errors.New("write what the meter shows, such as 0.65 V, 652 mV, or OL for open")

// read reads one display of the diode range. A bare number up to 4 is volts, a
// larger one millivolts, as meters show them; a bare "1" is how some show open.
func read(text string) (reading, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	if overloads[t] || overloads[strings.ReplaceAll(t, ".", "")] && strings.ContainsAny(t, "lo∞") {
		return reading{open: true}, nil
	}
	v, err := quantity.Parse(quantity.Voltage, text)
	if err != nil || v.Low != v.High {
		return reading{}, errReading
	}
	x := v.Num
	if x > highest && bare(t) {
		x /= 1000
	}
	switch {
	case x < 0:
		return reading{}, errors.New("a diode range shows no negative volts; swap the leads, and look for a charged capacitor")
	case x > highest:
		return reading{}, errors.New("a diode range shows up to about 3 V; write OL if it showed no reading")
	}
	return reading{volts: x}, nil
}

// bare tells whether the text is a number without a unit.
func bare(t string) bool {
	return strings.IndexFunc(t, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != ',' && r != ' ' }) < 0
}
