package esr

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the capacitor with its own resistance.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Box, "reading").Named("ESR tester"),
		schematic.Put(schematic.Resistor, "sheet").Named("inside it"),
		schematic.Put(schematic.Reservoir, "capacitor", "volts").Across(),
	}
}
