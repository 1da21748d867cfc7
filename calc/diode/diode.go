// Package diode is the one home of the law of a junction and of the models of usual diodes, for the rooms
// that ask what one drops and for the rectifiers that are made of them.
package diode

import "math"

// PerKelvin is k/q in V/K, from the exact constants of the SI of 2019.
const PerKelvin = 1.380649e-23 / 1.602176634e-19

// Nominal is the temperature in kelvin for which the models are stated, 27 °C as in SPICE; zero is 0 °C.
const Nominal, zero = 300.15, 273.15

// Model is a junction in the terms of SPICE: saturation current in A, emission
// coefficient, series resistance in Ω, gap in eV, exponent of Is.
type Model struct{ Is, N, Rs, Gap, Xti float64 }

// Models by kind: a 1N4001 as in the check values made by ngspice; a 1N4148 and a point-contact OA1160 from an open
// library; a small NPN fitted to one published point; a 1N5819 as in the libraries of circuit simulators (from memory).
var Models = map[string]Model{
	"rectifier":    {14.11e-9, 1.984, 33.89e-3, 1.11, 3},
	"small-signal": {222e-12, 1.65, 68.6e-3, 1.11, 3},
	"transistor":   {1e-14, 1, 0, 1.11, 3},
	"schottky":     {31.7e-6, 1.373, 51e-3, 0.69, 2},
	"germanium":    {2.5e-6, 1.5, 68, 0.67, 3},
}

// Saturation is Is in A at t (kelvin).
func (m Model) Saturation(t float64) float64 {
	return m.Is * math.Exp(float64(m.Xti/m.N*math.Log(t/Nominal))+float64(m.Gap/(m.N*PerKelvin)*(1/Nominal-1/t)))
}

// Volts is the drop at i (A) and a junction at celsius.
func (m Model) Volts(i, celsius float64) float64 {
	t := celsius + zero
	return float64(m.N*PerKelvin*t*math.Log1p(i/m.Saturation(t))) + float64(i*m.Rs)
}

// Slope is dV/dT in V/K at constant current, in closed form.
func (m Model) Slope(i, celsius float64) float64 {
	t := celsius + zero
	is := m.Saturation(t)
	growth := float64(m.Xti/(m.N*t)) + float64(m.Gap/(m.N*PerKelvin*t*t)) // d ln Is/dT
	return m.N * PerKelvin * (math.Log1p(i/is) - float64(t*growth*i/(is+i)))
}

// Differential is dV/dI in Ω.
func (m Model) Differential(i, celsius float64) float64 {
	t := celsius + zero
	return float64(m.N*PerKelvin*t/(m.Saturation(t)+i)) + m.Rs
}
