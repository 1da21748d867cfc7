package discharge

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the capacitor, what empties it, and a meter.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Reservoir, "capacitor", "volts").Across(),
		schematic.Put(schematic.Resistor, "resistor").Across().Showing("time"),
		schematic.Put(schematic.Voltmeter, "safe").Across(),
	}
}
