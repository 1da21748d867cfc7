package surge

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the surge part across the line.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.AC, "volts").Across(),
		schematic.Put(schematic.Fuse),
		schematic.Put(schematic.Varistor, "marked", "part").Across().Showing("usual"),
		schematic.Put(schematic.Box, "stands").Named("protected"),
	}
}
