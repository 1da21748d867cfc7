package resistance

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the battery, what it loses inside, and two loads.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Battery).Across(),
		schematic.Put(schematic.Resistor).Named("inside it").Showing("resistance"),
		schematic.Put(schematic.Voltmeter, "light-volts", "heavy-volts").Across(),
		schematic.Put(schematic.Ammeter, "light-load", "heavy-load"),
		schematic.Put(schematic.Resistor).Across().Named("load"),
	}
}
