package insulation

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the tester between the live parts and the metal.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Ohmmeter, "test-volts").Across().Named("tester"),
		schematic.Put(schematic.Open).Named("both pins"),
		schematic.Put(schematic.Resistor, "reading").Across().Named("insulation"),
	}
}
