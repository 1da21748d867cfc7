package conductor

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the conductor at a meter.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Ohmmeter, "reading").Across(),
		schematic.Put(schematic.Resistor, "size", "length").Across().Showing("resistance"),
	}
}
