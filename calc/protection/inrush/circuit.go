package inrush

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is what lets the first current through, and what takes it.
func circuit(in calc.In) schematic.Ladder {
	behind := schematic.Put(schematic.Reservoir, "capacitor").Across()
	switch in.Word("load") {
	case "transformer":
		behind = schematic.Put(schematic.Inductor, "winding", "flux").Across()
	case "filament":
		behind = schematic.Put(schematic.Lamp, "power", "cold-ratio").Across()
	}
	return schematic.Ladder{
		schematic.Put(schematic.AC, "mains", "frequency").Across(),
		schematic.Put(schematic.Resistor, "loop").Named("the loop").Showing("peak"),
		schematic.Put(schematic.Thermistor, "limiter").Named("limiter"),
		behind,
	}
}
