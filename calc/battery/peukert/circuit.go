package peukert

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the battery and its load.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Battery, "capacity", "rating").Across(),
		schematic.Put(schematic.Ammeter, "load"),
		schematic.Put(schematic.Resistor).Across().Showing("time"),
	}
}
