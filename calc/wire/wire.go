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
	// Hot is resistance over that at 20 °C by temperature in °C, read off straight between its
	// points above Straight; nil where no table was found, and then nothing is given above it.
	Hot []Point
}

// Point is a temperature in °C and the resistance over that at 20 °C.
type Point struct{ Celsius, Ratio float64 }

// Straight is the temperature in °C up to which the straight line serves.
const Straight = 250.0

// nichrome by hltegang-factors, Cr20Ni80. tungsten: resistivities in µΩ·cm of
// wolfram-industrie at 300 to 3500 K, over the 5.49 that lie between them at 20 °C.
var (
	nichrome = []Point{{200, 1.012}, {300, 1.018}, {400, 1.025}, {500, 1.026}, {600, 1.018}, {700, 1.010}, {800, 1.008}, {900, 1.010}, {1000, 1.014}, {1100, 1.021}, {1200, 1.025}}
	tungsten = kelvins(5.49, 500, 10.65, 1000, 24.93, 1500, 40.36, 2000, 56.67, 2500, 73.91, 3000, 92.04, 3500, 111.10)
)

// kelvins makes a table from temperatures in K and resistivities.
func kelvins(at20 float64, pairs ...float64) []Point {
	var list []Point
	for i := 0; i+1 < len(pairs); i += 2 {
		list = append(list, Point{pairs[i] - 273.15, pairs[i+1] / at20})
	}
	return list
}

// Hottest is the highest temperature in °C that the shelf knows the metal at.
func (m Metal) Hottest() float64 {
	if len(m.Hot) == 0 {
		return Straight
	}
	return m.Hot[len(m.Hot)-1].Celsius
}

// zeroOf turns the coefficient at 20 °C per kelvin into Metal.Zero.
func zeroOf(alpha float64) float64 { return 20 - 1/alpha }

// Metals that the shelf knows. Resistivities by the CRC Handbook wire table (course copy), copper
// by IACS and its 234.5 °C (from memory). Coefficients: aluminium 0.00403 from memory; nichrome
// 0.000075 (1.006 at 100 °C, hltegang-factors) and tungsten 0.0045 by tables named in the conductor's room; constantan as good as none.
var Metals = []Metal{
	{"copper", "Copper, annealed (IACS)", 0.017241e-6, -234.5, nil},
	{"copper-pure", "Copper, pure (CRC)", 1.678e-8, -234.5, nil},
	{"aluminium", "Aluminium", 2.650e-8, zeroOf(0.00403), nil},
	{"nichrome", "Nichrome 79/21", 107.5e-8, zeroOf(0.000075), nichrome},
	{"constantan", "Constantan 60/40", 45.38e-8, zeroOf(0.00003), nil},
	{"tungsten", "Tungsten", 5.28e-8, zeroOf(0.0045), tungsten},
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
func (m Metal) Factor(celsius float64) float64 {
	line := func(t float64) float64 { return (t - m.Zero) / (20 - m.Zero) }
	if celsius <= Straight || len(m.Hot) == 0 {
		return line(celsius)
	}
	// from where the line ends, straight from point to point
	from := Point{Straight, line(Straight)}
	for _, p := range m.Hot {
		if p.Celsius <= Straight {
			continue
		}
		if celsius <= p.Celsius {
			return from.Ratio + float64((p.Ratio-from.Ratio)*(celsius-from.Celsius)/(p.Celsius-from.Celsius))
		}
		from = p
	}
	return from.Ratio
}

// PerMetre is the resistance in Ω/m of a cross-section in m² at 20 °C.
func (m Metal) PerMetre(area float64) float64 { return m.Rho / area }

// Stranded is the greatest resistance of copper conductors at 20 °C by IEC 60228, in Ω/km
// by cross-section in mm²: class 2 (stranded, fixed wiring) and class 5 (fine strands, cords), plain and tinned.
var Stranded = []struct{ Square, Class2, Tinned2, Class5, Tinned5 float64 }{
	{0.5, 36.0, 36.7, 39.0, 40.1}, {0.75, 24.5, 24.8, 26.0, 26.7}, {1, 18.1, 18.2, 19.5, 20.0}, {1.5, 12.1, 12.2, 13.3, 13.7}, {2.5, 7.41, 7.56, 7.98, 8.21},
	{4, 4.61, 4.70, 4.95, 5.09}, {6, 3.08, 3.11, 3.30, 3.39}, {10, 1.83, 1.84, 1.91, 1.95}, {16, 1.15, 1.16, 1.21, 1.24}, {25, 0.727, 0.734, 0.780, 0.795}, {35, 0.524, 0.529, 0.554, 0.565},
}

// Most is the greatest resistance in Ω/m at 20 °C of a conductor of class 2 or 5; false
// where the standard has no such size.
func Most(squareMM float64, class int, tinned bool) (float64, bool) {
	for _, c := range Stranded {
		if math.Abs(c.Square-squareMM) < 1e-6*c.Square {
			most := c.Class5
			switch {
			case class == 2 && tinned:
				most = c.Tinned2
			case class == 2:
				most = c.Class2
			case tinned:
				most = c.Tinned5
			}
			return most / 1000, true
		}
	}
	return 0, false
}

// Cord is the resistance in Ω/m at 20 °C of one core of a cord, for every room that has a
// cord in its circuit: the most that class 5 allows. 1.25 mm², which that class leaves out, has the most of
// 1 mm² in proportion; any other size, AWG too, is taken as nominal copper.
func Cord(squareMM float64, tinned bool) float64 {
	if most, ok := Most(squareMM, 5, tinned); ok {
		return most
	}
	if math.Abs(squareMM-1.25) < 1e-6 {
		most, _ := Most(1, 5, tinned)
		return most / 1.25
	}
	return Find("copper").PerMetre(squareMM * 1e-6)
}
