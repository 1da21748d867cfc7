package rise

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the winding at the meter, cold and hot.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Ohmmeter, "cold-resistance", "hot-resistance").Across(),
		schematic.Put(schematic.Inductor, "metal").Across().Showing("winding-temperature"),
	}
}
