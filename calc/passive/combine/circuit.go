package combine

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the parts in a row, or side by side.
func circuit(in calc.In) schematic.Ladder {
	if in.Word("how") == "parallel" {
		return schematic.Ladder{schematic.Put(schematic.Ohmmeter).Across(), schematic.Put(schematic.Resistor, "first").Across(), schematic.Put(schematic.Resistor, "second").Across(),
			schematic.Put(schematic.Resistor, "third").Across()}
	}
	return schematic.Ladder{
		schematic.Put(schematic.Ohmmeter).Across(),
		schematic.Put(schematic.Resistor, "first"),
		schematic.Put(schematic.Resistor, "second"),
		schematic.Put(schematic.Resistor, "third"),
		schematic.Put(schematic.Wire).Across(),
	}
}
