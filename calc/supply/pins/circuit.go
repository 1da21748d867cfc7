package pins

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is a meter at the plug's pins and what it sees.
func circuit(in calc.In) schematic.Ladder {
	inside := schematic.Put(schematic.Resistor, "kind", "power").Across().Showing("healthy")
	switch in.Word("kind") {
	case "transformer":
		inside.Symbol = schematic.Inductor
	case "universal-motor", "shaded-pole", "capacitor-motor":
		inside.Symbol = schematic.Motor
	case "filament", "led":
		inside.Symbol = schematic.Lamp
	}
	return schematic.Ladder{
		schematic.Put(schematic.Ohmmeter, "reading").Across(),
		schematic.Put(schematic.Open).Named("the pins"),
		schematic.Put(schematic.Switch).Named("switched on"),
		inside,
	}
}
