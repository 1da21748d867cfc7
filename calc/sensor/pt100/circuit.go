package pt100

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the sensor, its leads and a meter.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Ohmmeter, "reading").Across(),
		schematic.Put(schematic.Resistor, "leads").Named("leads"),
		schematic.Put(schematic.Resistor, "sensor").Across().Showing("temperature"),
	}
}
