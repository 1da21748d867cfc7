package rectifier

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the winding, the rectifier and what hangs on it.
func circuit(in calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.AC, "frequency").Across().Named("mains"),
		schematic.Put(schematic.Transformer, "ac"),
		schematic.Put(schematic.Resistor, "source-resistance").Showing("source-rms"),
		schematic.Rectifying(in.Word("circuit"), "circuit", "diode"),
		schematic.Put(schematic.Reservoir, "capacitor").Across().Showing("ripple"),
		schematic.Put(schematic.Resistor, "load").Across().Showing("mean"),
	}
}
