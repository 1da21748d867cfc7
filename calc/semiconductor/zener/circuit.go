package zener

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the source, its resistor, the zener diode and the load.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Battery, "source").Across(),
		schematic.Put(schematic.Resistor, "resistor").Showing("resistor-most"),
		schematic.Put(schematic.Zener, "zener", "rating").Across(),
		schematic.Put(schematic.Resistor, "load").Across(),
	}
}
