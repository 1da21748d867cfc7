// Package all is the one list of every calculator, by shelf.
package all

import (
	"faultleaf/calc"
	"faultleaf/calc/audio/bias"
	"faultleaf/calc/audio/hum"
	"faultleaf/calc/audio/offset"
	"faultleaf/calc/battery/cells"
	"faultleaf/calc/battery/charge"
	"faultleaf/calc/battery/peukert"
	"faultleaf/calc/battery/resistance"
	"faultleaf/calc/battery/rest"
	"faultleaf/calc/battery/volts"
	"faultleaf/calc/heat/element"
	"faultleaf/calc/heat/lamplaw"
	"faultleaf/calc/meter/accuracy"
	"faultleaf/calc/meter/leads"
	"faultleaf/calc/meter/load"
	"faultleaf/calc/passive/bands"
	"faultleaf/calc/passive/combine"
	"faultleaf/calc/passive/discharge"
	"faultleaf/calc/passive/divider"
	"faultleaf/calc/passive/esr"
	"faultleaf/calc/passive/mark"
	"faultleaf/calc/passive/preferred"
	"faultleaf/calc/passive/runcap"
	"faultleaf/calc/protection/fuse"
	"faultleaf/calc/protection/gate"
	"faultleaf/calc/protection/inrush"
	"faultleaf/calc/protection/surge"
	"faultleaf/calc/safety/bond"
	"faultleaf/calc/safety/insulation"
	"faultleaf/calc/safety/leakage"
	"faultleaf/calc/safety/plug"
	"faultleaf/calc/semiconductor/drop"
	"faultleaf/calc/semiconductor/junction"
	"faultleaf/calc/semiconductor/led"
	"faultleaf/calc/semiconductor/zener"
	"faultleaf/calc/sensor/ntc"
	"faultleaf/calc/sensor/pt100"
	"faultleaf/calc/sensor/thermocouple"
	"faultleaf/calc/supply/bus"
	"faultleaf/calc/supply/charger"
	"faultleaf/calc/supply/pins"
	"faultleaf/calc/supply/plate"
	"faultleaf/calc/supply/rectifier"
	"faultleaf/calc/supply/regulator"
	"faultleaf/calc/supply/secondary"
	"faultleaf/calc/supply/serieslamp"
	"faultleaf/calc/supply/size"
	"faultleaf/calc/thermal/link"
	"faultleaf/calc/thermal/path"
	"faultleaf/calc/winding/armature"
	"faultleaf/calc/winding/regulation"
	"faultleaf/calc/winding/rise"
	"faultleaf/calc/winding/turns"
	"faultleaf/calc/winding/verdict"
	"faultleaf/calc/wire/conductor"
	"faultleaf/calc/wire/cord"
	"faultleaf/calc/worth/fit"
	"faultleaf/calc/worth/mend"
	"faultleaf/calc/worth/spares"
)

// Calculators lists every calculator in the order of the shelves.
var Calculators = List{
	rectifier.Calculator,
	size.Calculator,
	charger.Calculator,
	serieslamp.Calculator,
	plate.Calculator,
	pins.Calculator,
	secondary.Calculator,
	regulator.Calculator,
	bus.Calculator,
	turns.Calculator,
	verdict.Calculator,
	regulation.Calculator,
	rise.Calculator,
	armature.Calculator,
	link.Calculator,
	path.Calculator,
	rest.Calculator,
	charge.Calculator,
	volts.Calculator,
	peukert.Calculator,
	cells.Calculator,
	resistance.Calculator,
	fuse.Calculator,
	gate.Calculator,
	inrush.Calculator,
	surge.Calculator,
	conductor.Calculator,
	cord.Calculator,
	junction.Calculator,
	drop.Calculator,
	zener.Calculator,
	led.Calculator,
	bands.Calculator,
	mark.Calculator,
	preferred.Calculator,
	combine.Calculator,
	divider.Calculator,
	discharge.Calculator,
	esr.Calculator,
	runcap.Calculator,
	ntc.Calculator,
	pt100.Calculator,
	thermocouple.Calculator,
	element.Calculator,
	lamplaw.Calculator,
	bias.Calculator,
	offset.Calculator,
	hum.Calculator,
	accuracy.Calculator,
	load.Calculator,
	leads.Calculator,
	bond.Calculator,
	insulation.Calculator,
	leakage.Calculator,
	plug.Calculator,
	mend.Calculator,
	fit.Calculator,
	spares.Calculator,
}

// List is every calculator, each with the defaults of one shop.
type List []*calc.Calculator

// At are the calculators as a shop has them.
func At(s calc.Shop) List {
	list := make(List, len(Calculators))
	for i, c := range Calculators {
		list[i] = c.At(s)
	}
	return list
}

// Find finds a calculator by its name.
func (l List) Find(name string) (*calc.Calculator, bool) {
	for _, c := range l {
		if c.Name == name {
			return c, true
		}
	}
	return nil, false
}

// Find finds a calculator by its name, with the defaults of no shop.
func Find(name string) (*calc.Calculator, bool) { return Calculators.Find(name) }
