package regulator

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is what feeds the regulator and what it feeds.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Battery, "in", "ripple").Across(),
		schematic.Put(schematic.Box, "own-current").Named("regulator").Showing("heat"),
		schematic.Put(schematic.Resistor, "out", "current").Across().Named("load"),
	}
}
