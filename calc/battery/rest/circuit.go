package rest

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the battery at rest, and a meter.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Battery, "cells").Across(),
		schematic.Put(schematic.Voltmeter, "volts").Across(),
	}
}
