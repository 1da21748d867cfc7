// Package wire holds what the rooms of this shelf share: resistivities, what
// temperature does to them, and the greatest resistances of flexible cords.
package wire

import "math"

// Metal is a conductor's material.
type Metal struct {
	Name, Label string
	// Rho is the resistivity at 20 °C in Ω·m.
	Rho float64
	// Zero is the temperature in °C, below zero, at which the straight line of the
	// resistance would reach nothing; it gives R(T) = R(20)·(T − Zero)/(20 − Zero).
	Zero float64
}

// zeroOf turns the coefficient at 20 °C per kelvin into Metal.Zero.
func zeroOf(alpha float64) float64 { return 20 - 1/alpha }

// Metals that the shelf knows. Resistivities by the CRC Handbook wire table (course copy), copper
// by IACS and its 234.5 °C (from memory). Coefficients: aluminium 0.00403 from memory; nichrome
// 0.00017 and tungsten 0.0045 by tables named in the conductor's room; constantan as good as none.
var Metals = []Metal{
	{"copper", "Copper, annealed (IACS)", 0.017241e-6, -234.5},
	{"copper-pure", "Copper, pure (CRC)", 1.678e-8, -234.5},
	{"aluminium", "Aluminium", 2.650e-8, zeroOf(0.00403)},
	{"nichrome", "Nichrome 79/21", 107.5e-8, zeroOf(0.00017)},
	{"constantan", "Constantan 60/40", 45.38e-8, zeroOf(0.00003)},
	{"tungsten", "Tungsten, below 300 °C", 5.28e-8, zeroOf(0.0045)},
}

// Find gives a metal by name; copper for a name unknown.
func Find(name string) Metal {
	for _, m := range Metals {
		if m.Name == name {
			return m
		}
	}
	return Metals[0]
}

// Factor is the resistance at a temperature in °C over that at 20 °C.
func (m Metal) Factor(celsius float64) float64 { return (celsius - m.Zero) / (20 - m.Zero) }

// PerMetre is the resistance in Ω/m of a cross-section in m² at 20 °C.
func (m Metal) PerMetre(area float64) float64 { return m.Rho / area }

// Class5 is the greatest resistance of flexible copper conductors at 20 °C by IEC 60228 class
// 5, in Ω/km by cross-section in mm². Plain: maker's table of Darshan Cable; tinned: from memory,
// borne out by the volt drops of BS 7671 table 4F3B.
var Class5 = []struct{ Square, Plain, Tinned float64 }{
	{0.5, 39.0, 40.1}, {0.75, 26.0, 26.7}, {1, 19.5, 20.0}, {1.5, 13.3, 13.7}, {2.5, 7.98, 8.21}, {4, 4.95, 5.09}, {6, 3.30, 3.39},
}

// Most is the greatest resistance in Ω/m at 20 °C of a flexible conductor; false
// where class 5 has no such size.
func Most(squareMM float64, tinned bool) (float64, bool) {
	for _, c := range Class5 {
		if math.Abs(c.Square-squareMM) < 1e-6*c.Square {
			if tinned {
				return c.Tinned / 1000, true
			}
			return c.Plain / 1000, true
		}
	}
	return 0, false
}
