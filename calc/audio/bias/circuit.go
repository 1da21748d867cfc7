package bias

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the emitter resistor and a meter across it.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Battery, "rail").Across(),
		schematic.Put(schematic.Box).Named("output pair"),
		schematic.Put(schematic.Resistor, "resistor").Across().Showing("current"),
		schematic.Put(schematic.Voltmeter, "volts").Across(),
	}
}
