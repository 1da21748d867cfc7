package turns

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is both windings with their meters.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.AC).Across(),
		schematic.Put(schematic.Voltmeter, "primary").Across(),
		schematic.Put(schematic.Resistor, "primary-resistance").Named("its ohms"),
		schematic.Put(schematic.Transformer, "test-turns").Showing("ratio"),
		schematic.Put(schematic.Resistor, "secondary-resistance").Named("its ohms"),
		schematic.Put(schematic.Voltmeter, "secondary").Across(),
	}
}
