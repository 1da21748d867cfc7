// Package pt100 computes the temperature of a platinum resistance thermometer from
// its ohms, and back.
//
// # Method
//
// The Callendar-Van Dusen equation of IEC 60751: R = R₀(1 + At + Bt²) above 0 °C, with a
// further term Ct³(t − 100) below. R₀ is 100 Ω for a Pt100, 1000 Ω for a Pt1000. The way back
// is solved exactly above 0 °C and by iteration below it.
//
// Two wires add their own ohms to the reading: enter what they read shorted together, and
// they are taken off. Each 0.39 Ω left in is 1 K too hot.
//
// # Where it holds
//
// Sensors to IEC 60751 (0.00385 per kelvin) from −200 to 850 °C, with so small a current that
// it does not warm the sensor: 1 mA in a Pt100 is usual.
//
// # Where it misleads
//
// An ohmmeter's own current may warm a small sensor in still air by some tenths of a kelvin.
//
// A reading of a few ohms is a short in the lead, one of many kilohms a break; neither is a temperature.
//
// Moisture in a sheath makes a shunt, and a shunt reads too cold.
//
// # Sources disagree
//
// At 200 °C the tables of IEC 60751 print 175.86 Ω, another popular table 175.84 Ω and 138.50 Ω
// at 100 °C instead of 138.51. The second is of an older temperature scale (IPTS-68);
// 175.86 Ω is right for sensors of today.
//
// # Sources
//
// - Equation, coefficients (A 3.9083e-3, B −5.775e-7, C −4.183e-12) and table values: [iec-60751 table 1].
// - Tolerance classes A (0.15 + 0.002|t|) and B (0.30 + 0.005|t|): [iec-60751 table of classes].
package pt100
