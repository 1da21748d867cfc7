package plate

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the device at its mains.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.AC, "volts").Across(),
		schematic.Put(schematic.Ammeter).Showing("amps"),
		schematic.Put(schematic.Box, "rating", "power-factor").Named("the device"),
	}
}
