package fuse

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the fuse in its place.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.AC, "volts").Across(),
		schematic.Put(schematic.Fuse, "marked", "part"),
		schematic.Put(schematic.Ammeter, "amps"),
		schematic.Put(schematic.Resistor).Across().Named("the device"),
	}
}
