package charge

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the charger and the battery.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Box).Named("charger"),
		schematic.Put(schematic.Ammeter, "current"),
		schematic.Put(schematic.Battery, "capacity", "from").Across().Showing("time"),
	}
}
