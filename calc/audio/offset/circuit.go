package offset

import (
	"faultleaf/calc"
	"faultleaf/calc/draw/schematic"
)

// circuit is the amplifier's output, a meter and the speaker.
func circuit(_ calc.In) schematic.Ladder {
	return schematic.Ladder{
		schematic.Put(schematic.Box, "rail").Named("amplifier"),
		schematic.Put(schematic.Voltmeter, "volts").Across(),
		schematic.Put(schematic.Speaker, "speaker", "rated").Across().Showing("power"),
	}
}
