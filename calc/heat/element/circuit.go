package element

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the element at its mains.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.AC, "mains", "supply").Across(),
		schematic.Put(schematic.Resistor, "power", "material").Across().Showing("cold"),
	}
}
