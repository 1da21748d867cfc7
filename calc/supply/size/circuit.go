package size

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the transformer that is wanted and what it feeds.
func circuit(in calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Transformer).Showing("ac"),
		schematic.Rectifying(in.Word("circuit"), "circuit", "diode"),
		schematic.Put(schematic.Reservoir, "ripple").Across().Showing("capacitor"),
		schematic.Put(schematic.Resistor, "volts", "amps").Across().Named("load"),
	}
}
