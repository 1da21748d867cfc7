package charger

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// drawn is the winding, the rectifier and the battery.
func drawn(in calc.In) schematic.Ladder {
	var between schematic.Part
	switch in.Word("circuit") {
	case "half-wave":
		between = schematic.Put(schematic.Diode, "circuit", "diode")
	case "centre-tap":
		between = schematic.Put(schematic.Diode, "circuit", "diode").Named("of each half")
	default:
		between = schematic.Put(schematic.Rectifier, "circuit", "diode")
	}
	return schematic.Ladder{
		schematic.Put(schematic.Transformer, "ac"),
		schematic.Put(schematic.Resistor, "source-resistance").Named("winding"),
		between,
		schematic.Put(schematic.Resistor, "series").Named("series").Showing("mean"),
		schematic.Put(schematic.Resistor, "internal-resistance").Named("inside it"),
		schematic.Put(schematic.Battery, "battery").Across(),
	}
}
