package lamplaw

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the lamp and its current.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.AC, "volts").Across(),
		schematic.Put(schematic.Ammeter).Showing("current"),
		schematic.Put(schematic.Lamp, "power", "rated").Across(),
	}
}
