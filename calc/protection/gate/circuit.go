package gate

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the fuse and what flows through it.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.AC).Across(),
		schematic.Put(schematic.Fuse, "rating").Showing("latest"),
		schematic.Put(schematic.Ammeter, "current"),
		schematic.Put(schematic.Wire).Across().Named("overload"),
	}
}
