package size

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the transformer that is wanted and what it feeds.
func circuit(in calc.In) schematic.Ladder {
	between := schematic.Put(schematic.Rectifier, "circuit", "diode")
	if in.Word("circuit") != "bridge" {
		between = schematic.Put(schematic.Diode, "circuit", "diode")
	}
	return schematic.Ladder{
		schematic.Put(schematic.Transformer).Showing("ac"),
		between,
		schematic.Put(schematic.Reservoir, "ripple").Across().Showing("capacitor"),
		schematic.Put(schematic.Resistor, "volts", "amps").Across().Named("load"),
	}
}
