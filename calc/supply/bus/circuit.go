package bus

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the mains, the rectifier and the main capacitor.
func circuit(in calc.In) schematic.Ladder {
	between := schematic.Rectifying(in.Word("circuit"), "circuit")
	switch in.Word("circuit") {
	case "doubler":
		between = schematic.Put(schematic.Box, "circuit").Named("doubler")
	case "pfc":
		between = schematic.Put(schematic.Box, "circuit", "boost").Named("corrector")
	}
	return schematic.Ladder{
		schematic.Put(schematic.AC, "mains", "frequency").Across(),
		between,
		schematic.Put(schematic.Reservoir, "capacitor").Across().Showing("idle"),
		schematic.Put(schematic.Voltmeter, "reading").Across(),
		schematic.Put(schematic.Resistor, "power").Across().Named("the stage"),
	}
}
