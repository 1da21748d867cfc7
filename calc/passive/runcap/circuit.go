package runcap

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the motor and its capacitor.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.AC, "volts", "frequency").Across(),
		schematic.Put(schematic.Motor).Across(),
		schematic.Put(schematic.Ammeter, "amps"),
		schematic.Put(schematic.Capacitor, "marked", "measured"),
		schematic.Put(schematic.Inductor).Across().Named("auxiliary"),
	}
}
