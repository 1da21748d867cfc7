package bond

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the tester, the earth core and the metal.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Ohmmeter, "current", "open-volts").Across().Named("tester"),
		schematic.Put(schematic.Resistor, "length", "area").Named("earth core"),
		schematic.Put(schematic.Open, "reading").Named("the metal"),
	}
}
