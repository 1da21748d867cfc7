package thermocouple

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the junction and the meter at its terminals.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Voltmeter, "reading", "terminals").Across(),
		schematic.Put(schematic.Couple, "type").Across().Showing("temperature"),
	}
}
