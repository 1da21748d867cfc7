package leads

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the meter, its leads and the part.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Ohmmeter, "reading").Across(),
		schematic.Put(schematic.Resistor, "shorted").Named("leads"),
		schematic.Put(schematic.Resistor, "contact").Named("contacts"),
		schematic.Put(schematic.Resistor).Across().Showing("ohms"),
	}
}
