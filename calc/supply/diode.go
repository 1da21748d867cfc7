// Package supply holds what the rooms of this shelf share: a rectifier's diodes, the steady
// state of its reservoir capacitor, and what a transformer loses by its size.
package supply

import (
	"math"

	"faultleaf/calc/diode"
	"faultleaf/calc/root"
)

// Thermal is kT/q at 27 °C (300.15 K) in volts.
const Thermal = diode.PerKelvin * diode.Nominal

// Diode is the law of one diode at 27 °C: N*Thermal*ln(1+i/Leak) + Ohms*i volts
// for i amperes.
type Diode struct{ Leak, N, Ohms float64 }

// Diodes by their names in the calculators.
var Diodes = map[string]Diode{
	"silicon":  of(diode.Models["rectifier"]),
	"schottky": of(diode.Models["schottky"]),
	"ideal":    {},
}

func of(m diode.Model) Diode { return Diode{Leak: m.Is, N: m.N, Ohms: m.Rs} }

// Path is a resistance in ohms and some diodes in series: i amperes take
// Ohms*i + Slope*ln(1+i/Leak) volts.
type Path struct{ Ohms, Slope, Leak float64 }

// PathOf puts a number of like diodes behind a resistance in ohms.
func PathOf(diode string, count, ohms float64) Path {
	d := Diodes[diode]
	return Path{Ohms: ohms + float64(count*d.Ohms), Slope: count * d.N * Thermal, Leak: d.Leak}
}

// Volts is what the path takes at a current in amperes.
func (p Path) Volts(amps float64) float64 {
	if p.Slope == 0 {
		return p.Ohms * amps
	}
	return float64(p.Ohms*amps) + float64(p.Slope*math.Log1p(amps/p.Leak))
}

// Amps is the current that volts drive through the path; none backwards. The law in
// y = ln(1+i/Leak) is increasing and convex, and the start lies above the root, so
// Newton's method comes down to it.
func (p Path) Amps(volts float64) float64 {
	if volts <= 0 {
		return 0
	}
	if p.Slope == 0 {
		return volts / p.Ohms
	}
	b := p.Ohms * p.Leak
	rhs := volts + b
	above := math.Min(rhs/p.Slope, math.Log(rhs/b))
	y := root.Newton(0, above, above, func(y float64) (missing, slope float64) {
		e := float64(b * math.Exp(y))
		return float64(p.Slope*y) + e - rhs, p.Slope + e
	})
	return p.Leak * math.Expm1(math.Max(y, 0))
}
