package verdict

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the meter, its leads and the winding.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Ohmmeter, "ohms").Across(),
		schematic.Put(schematic.Resistor, "leads").Named("leads"),
		schematic.Put(schematic.Inductor, "size", "volts").Across().Showing("winding"),
	}
}
