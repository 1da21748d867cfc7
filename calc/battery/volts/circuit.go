package volts

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the charger and the battery.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Box).Named("charger"),
		schematic.Put(schematic.Voltmeter).Across().Showing("charge"),
		schematic.Put(schematic.Battery, "cells", "temperature").Across(),
	}
}
