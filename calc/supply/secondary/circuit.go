package secondary

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is a supply, read at its output.
func circuit(in calc.In) schematic.Ladder {
	meter := schematic.Put(schematic.Voltmeter, "reading").Across().Showing("healthy")
	if in.Word("kind") == "ac-adapter" {
		return schematic.Ladder{schematic.Put(schematic.AC).Across().Named("mains"), schematic.Put(schematic.Transformer, "output", "amps"), meter}
	}
	return schematic.Ladder{
		schematic.Put(schematic.AC).Across().Named("mains"),
		schematic.Put(schematic.Transformer, "output", "amps"),
		schematic.Put(schematic.Rectifier, "circuit"),
		schematic.Put(schematic.Reservoir).Across(),
		meter,
	}
}
