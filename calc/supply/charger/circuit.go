package charger

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// drawn is the winding, the rectifier and the battery.
func drawn(in calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Transformer, "ac"),
		schematic.Put(schematic.Resistor, "source-resistance").Named("winding"),
		schematic.Rectifying(in.Word("circuit"), "circuit", "diode"),
		schematic.Put(schematic.Resistor, "series").Named("series").Showing("mean"),
		schematic.Put(schematic.Resistor, "internal-resistance").Named("inside it"),
		schematic.Put(schematic.Battery, "battery").Across(),
	}
}
