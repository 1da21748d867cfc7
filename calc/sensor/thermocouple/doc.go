// Package thermocouple computes the temperature of a thermocouple from its millivolts
// and that of its terminals, and back.
//
// # Method
//
// The reference functions of the ITS-90 scale give the millivolts E(t) of a couple whose
// other ends are at 0 °C, as polynomials of up to fourteen terms. The terminals are never at
// 0 °C: add the millivolts that belong to their temperature, E(t) = measured + E(terminals), and
// only then turn millivolts into degrees. The way back is solved to 1e-9 K on the same functions.
//
// A couple's tolerance class gives how far off a new one may be: class 1 or 2, the larger of
// a fixed number of kelvin and a share of the temperature.
//
// # Where it holds
//
// New couples of types K, J, T, E and N with extension wire of their own type. K from −270 to
// 1372 °C, J to 1200, T to 400, E to 1000, N to 1300 °C.
//
// # Where it misleads
//
// Temperatures must not be added: 10.000 mV of a K with terminals at 25 °C is 270.7 °C, not 246.2 + 25.
//
// A short anywhere along the wire makes a new couple there. It reads the temperature of the short.
//
// An old K drifts by several kelvin after long heat, most between 300 and 550 °C and above 1000 °C.
//
// Reversed wires read lower as it gets hotter. The colours of the wires differ between IEC and ANSI: red is
// the negative wire in ANSI and red is not used in IEC for it.
//
// A meter that shows tenths of a millivolt steps by 2.4 K of a type K, and two digits of doubt are 5 K.
//
// # Sources disagree
//
// The NIST page of coefficients prints three figures; at 1000 °C these give 41.08 mV for type K
// where the table has 41.276, 5 K off. Full precision is used here.
//
// The classes: IEC 584-2 allows types K, N and J of class 2 the larger of 2.5 K and 0.75 %; ASTM E230, standard
// tolerance, 2.2 K and 0.75 %. For type E it is 2.5 K and 0.75 % against 1.7 K and 0.5 %. The IEC
// classes are computed here, from −40 °C; below that a couple may be of class 3, which is not computed.
//
// # Sources
//
// - Reference functions and tables at full precision: [nist-srd-60].
// - Tolerance classes and their ranges: [iec-60584-1 classes].
// - Type K below 0 °C, and the American tolerances: [astm-e230 table 9].
// - Drift of type K: [memory].
package thermocouple
