package cord

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is both cores of the cord and the load.
func circuit(_ calc.In) schematic.Ladder {
	source := schematic.Put(schematic.AC, "mains").Across()
	return schematic.Ladder{
		source,
		schematic.Put(schematic.Resistor, "size", "length").Named("line").Showing("drop"),
		schematic.Put(schematic.Resistor).Back().Named("neutral"),
		schematic.Put(schematic.Resistor, "load").Across(),
	}
}
