package leakage

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the way of the current to earth.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.AC, "mains", "hertz").Across(),
		schematic.Put(schematic.Box).Named("the device"),
		schematic.Put(schematic.Capacitor, "y-capacitor"),
		schematic.Put(schematic.Ammeter, "reading"),
		schematic.Put(schematic.Wire).Across().Named("earth"),
	}
}
