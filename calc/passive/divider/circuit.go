package divider

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the two resistors and the load.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Battery, "supply").Across(),
		schematic.Put(schematic.Resistor, "upper"),
		schematic.Put(schematic.Resistor, "lower").Across(),
		schematic.Put(schematic.Resistor, "load").Across().Named("load").Showing("loaded"),
	}
}
