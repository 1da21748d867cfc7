package rectifier

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the winding, the rectifier and what hangs on it.
func circuit(in calc.In) schematic.Ladder {
	var between schematic.Part
	switch in.Word("circuit") {
	case "half-wave":
		between = schematic.Put(schematic.Diode, "circuit", "diode")
	case "centre-tap":
		between = schematic.Put(schematic.Diode, "circuit", "diode").Named("of each half")
	default:
		between = schematic.Put(schematic.Rectifier, "circuit", "diode")
	}
	return schematic.Ladder{
		schematic.Put(schematic.AC, "frequency").Across().Named("mains"),
		schematic.Put(schematic.Transformer, "ac"),
		schematic.Put(schematic.Resistor, "source-resistance").Showing("source-rms"),
		between,
		schematic.Put(schematic.Reservoir, "capacitor").Across().Showing("ripple"),
		schematic.Put(schematic.Resistor, "load").Across().Showing("mean"),
	}
}
