// Package conductor turns gauge, square millimetres, diameter, length and temperature of a wire into ohms, and ohms
// back into length.
//
// # Method
//
// R = ρ·l/A at 20 °C. A gauge of AWG is a diameter of 0.005 in at 36 with a ratio of 92^(1/39) for each step, so three steps
// double the cross-section and six the diameter, nearly. For a bare round wire A is π·d²/4.
//
// Temperature: R(T) = R(20)·(234.5 + T)/(234.5 + 20) for copper, which is 0.39 % per kelvin; the like for other metals.
//
// A reading at one temperature is referred to the other, and divided by the ohms per metre gives the length of the
// wire: how much is left on a spool, how many metres a winding holds.
//
// # Where it holds
//
// Solid wire of the stated metal at DC and mains frequency, between −60 and 250 °C; nichrome and tungsten by their tables up to 1200 and 3200 °C. The resistance of flexible cords is judged by the greatest
// allowed to class 5, which is above the nominal.
//
// # Where it misleads
//
// The square millimetres of a cable are a name: what is promised is the greatest resistance. A cord may have less copper than its
// name and pass.
//
// Enamel counts as diameter to a caliper and not to the current: scrape it off, 0.02 to 0.1 mm (from memory).
//
// Copper-clad aluminium passes for copper and has about half as much resistance again (from memory). It is light, and silvery where it is cut.
//
// A hundred ohms of fine wire is measured well; a few milliohms of thick wire need four leads, or the leads taken off.
//
// The hot filament of a lamp is far beyond the straight line: its table is read here, the lamp law gives volts and amperes.
//
// # Sources disagree
//
// Copper at 20 °C: 0.017241 Ω·mm²/m (IACS, which wire tables use) against 0.01678 (CRC Handbook, pure copper), 2.7 % apart. For
// gauge 0 this makes 0.000323 Ω/m in one wire table and 0.000314 in another. Wire as sold is by IACS, which is the default.
//
// Temperature of constantan: −0.000074 (All About Circuits), 0.00003 (Engineering ToolBox), 0.000008 per kelvin (encyclopedia table). It makes less than 2 % up to 250 °C.
// Nichrome: 0.000075 to 100 °C (a maker, 1.006 times), 0.00009 (CRC), 0.00013 to 0.0004 in wire tables. Tungsten at 1000 K: 24.9 (one maker) and 24.3 µΩ·cm (another). Copper: 0.0039 at 20 °C; 0.0043 at 0 °C is printed as if it were at 20.
//
// # Sources
//
// - Gauge: [hyperphysics-wire]; definition of [astm-b258].
// - Resistivities: [crc-wire-table]. 0.017241 and 234.5 °C: [iec-60028].
// - Flexible conductors: [iec-60228 class 5]; tinned: [memory].
// - Other coefficients, aluminium 0.00403, nichrome, tungsten: [memory].
// - Nichrome to 1200 °C: [hltegang-factors Cr20Ni80]; tungsten to 3500 K: [wolfram-industrie].
// - Stranded conductors: [iec-60228 class 2].
package conductor
