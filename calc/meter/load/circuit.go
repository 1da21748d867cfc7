package load

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the circuit and the meter that loads it.
func circuit(in calc.In) schematic.Ladder {
	if in.Word("measure") == "amps" {
		return schematic.Ladder{schematic.Put(schematic.Battery, "source").Across(), schematic.Put(schematic.Resistor, "series"), schematic.Put(schematic.Ammeter, "shunt").Showing("reading-amps"),
			schematic.Put(schematic.Resistor, "across").Across()}
	}
	return schematic.Ladder{
		schematic.Put(schematic.Battery, "source").Across(),
		schematic.Put(schematic.Resistor, "series"),
		schematic.Put(schematic.Resistor, "across").Across(),
		schematic.Put(schematic.Voltmeter, "meter").Across().Showing("reading"),
	}
}
