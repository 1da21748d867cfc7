package regulation

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the transformer with its load and a meter.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.AC).Across().Named("mains"),
		schematic.Put(schematic.Transformer, "size", "rated"),
		schematic.Put(schematic.Resistor).Named("seen from here").Showing("source-resistance"),
		schematic.Put(schematic.Voltmeter, "no-load", "loaded").Across(),
		schematic.Put(schematic.Resistor, "load").Across(),
	}
}
