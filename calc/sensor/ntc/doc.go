// Package ntc computes the temperature of an NTC thermistor from its ohms, and back,
// by its B value or by the Steinhart-Hart equation.
//
// # Method
//
// With the B value: R = R₂₅·e^(B(1/T − 1/298.15 K)), T in kelvin. With Steinhart-Hart:
// 1/T = A + B·ln R + C·(ln R)³, which three coefficients from the data sheet or three measured
// pairs fit over a wide range.
//
// Coefficients of your own part go before those of the 10 kΩ type 3, which stand for any value of that curve.
//
// Given a reading, both answers come out; given a temperature, the ohms it should read.
//
// # Where it holds
//
// Thermistors with a known type. The B equation with one B is good to about a kelvin within
// 0 to 50 °C and to several kelvin outside that; B25/85 and B25/100 differ. For one published table of 10 kΩ with B25/100 3730 it is 0.2 K
// off at 20 °C, 0.9 K at 0 °C and 2.5 K at −30 °C.
//
// # Where it misleads
//
// Two parts of 10 kΩ at 25 °C with B 3435 and B 3950 differ by 5 K at 60 °C: the ohms at room
// temperature do not tell the type.
//
// A thermistor warms itself: 1 mW in a small bead in still air is about 1 K.
//
// A cracked bead often reads right cold and open warm. Warm it while you watch.
//
// An inrush limiter is an NTC too, but it is used hot; its cold ohms say nothing of its temperature in use.
//
// # Sources disagree
//
// A public program uses the coefficients of a B 3977 part for one of B 3950. At 5 kΩ the
// two differ by 0.1 K, at 100 °C by more; the data sheet of the part in hand is right.
//
// # Sources
//
// - Steinhart-Hart with A 1.129241e-3, B 2.341077e-4, C 8.775468e-8 and its table of ohms: [campbell-109ss table C-1].
// - How far one B carries: [htm1505].
// - The B equation: [own].
// - Self-heating of 1 K for each milliwatt in still air: [memory].
package ntc
