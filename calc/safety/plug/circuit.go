package plug

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the capacitor across the pins and what empties it.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Open).Across().Named("the pins"),
		schematic.Put(schematic.Resistor, "resistor").Across(),
		schematic.Put(schematic.Capacitor, "capacitor").Across().Showing("volts-1s"),
	}
}
