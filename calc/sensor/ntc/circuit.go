package ntc

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the sensor at a meter.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Ohmmeter, "reading").Across(),
		schematic.Put(schematic.Thermistor, "ohms-25", "b").Across().Showing("temperature"),
	}
}
