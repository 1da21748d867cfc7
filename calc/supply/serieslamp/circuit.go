package serieslamp

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the lamp in series with what is tried.
func circuit(in calc.In) schematic.Ladder {
	device := schematic.Put(schematic.Resistor, "load", "size").Across().Showing("load-volts")
	switch in.Word("load") {
	case "motor":
		device.Symbol = schematic.Motor
	case "lamp":
		device.Symbol = schematic.Lamp
	case "open":
		device.Symbol = schematic.Open
	case "short":
		device.Symbol = schematic.Wire
	case "rectifier", "switch-mode":
		device.Symbol = schematic.Reservoir
	}
	return schematic.Ladder{
		schematic.Put(schematic.AC, "supply").Across().Named("mains"),
		schematic.Put(schematic.Lamp, "lamp", "rated").Showing("lamp-volts"),
		device,
	}
}
