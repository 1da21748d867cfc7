package led

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the supply, the resistor and the LEDs.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Battery, "supply").Across(),
		schematic.Put(schematic.Resistor, "resistor").Showing("preferred"),
		schematic.Put(schematic.LED, "count", "drop").Across(),
	}
}
