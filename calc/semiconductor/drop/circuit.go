package drop

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the junction and its current.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Battery).Across(),
		schematic.Put(schematic.Ammeter, "current"),
		schematic.Put(schematic.Diode, "kind", "temperature").Across().Showing("drop"),
	}
}
