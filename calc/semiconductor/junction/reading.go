package junction

import (
	"errors"

	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
)

// seen is what the meter showed: volts, or OL.
type seen struct {
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

func (r seen) short() bool    { return !r.open && r.volts < shortBelow }
func (r seen) conducts() bool { return !r.open && r.volts >= shortBelow }

// material of a junction by its volts, as a word and in plain words.
func (r seen) material() (word, says string) {
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

// read takes one display of the diode range; x is its amount. A bare number up
// to 4 is volts, a larger one millivolts, as meters show them.
func read(r reading.Reading, x quantity.Value) (seen, error) {
	switch {
	case r.Shows == reading.Over, r.IsAbove() && r.Limit() >= lightFrom:
		return seen{open: true}, nil
	case !r.Bounded():
		return seen{}, errors.New("“" + r.Says() + "” does not tell enough; write the volts that the meter shows, or OL for open")
	}
	volts := x.Num
	if volts > highest && x.Unit == "" {
		volts /= 1000
	}
	switch {
	case volts < 0:
		return seen{}, errors.New("a diode range shows no negative volts; swap the leads, and look for a charged capacitor")
	case volts > highest:
		return seen{}, errors.New("a diode range shows up to about 3 V; write OL if it showed no reading")
	}
	return seen{volts: volts}, nil
}
