// Package rise computes how hot a winding is from the change of its resistance.
//
// A transformer or motor takes hours to reach its final temperature, and the
// outside says little about the inside. The winding itself is the thermometer: read its
// ohms cold, load it, switch off and read again.
//
// # Method
//
// The resistance of a metal is proportional to its temperature above a point k below
// 0 °C, 234.5 for copper and 225 for aluminium:
// T = (R₂/R₁)·(k + t₁) − k, with R₁ read at t₁ and R₂ hot.
//
// The rise is T less the temperature of the room at the end, not at the start: a room
// that warmed up by 3 K has not been warmed by the winding.
//
// Resistance at another temperature follows from the same line: R = R₁·(k + t)/(k + t₁).
//
// The verdict compares with the limit for the class of insulation and the kind
// of machine, and names the document. A motor inside a household appliance is judged by the appliances'
// own standard (rise over at most 25 °C), a motor that is a machine of its own and a dry-type power transformer by theirs
// (rise over a coolant of at most 40 °C), a small transformer by a limit of temperature. Hand tools
// have a standard of their own, whose figures were not seen: take the maker's sheet.
//
// # Where it holds
//
// Copper or aluminium windings from −50 to some 250 °C, read as DC resistance, away from
// everything in parallel, both times with the same leads at the same points. Let the
// cold winding rest in the room for hours first, so that t₁ is its temperature as well.
// Below 10 Ω use four wires: 0.1 Ω of contact in 5 Ω is 5 K.
//
// Read within seconds after switching off, or several times and carry the curve back
// to the moment of switching off.
//
// # Where it misleads
//
// It is the average over the winding. The hottest spot lies higher, by 5 to 15 K.
//
// "It did not get hot in ten minutes" says nothing: heating takes hours. Loaded to its plate,
// wait until an hour changes it by no more than a kelvin or two.
//
// Letters for the classes differ between catalogues, so the class is asked for as a
// number. A winding with shorted turns reads a plausible resistance and still overheats.
//
// The coefficient of 0 °C multiplied by a rise from room temperature reads 1.7 % too high
// in resistance: 134.73 Ω was printed for a winding of 108 Ω at 22 °C, taken to 80 °C;
// right is 132.42 Ω.
//
// # Sources disagree
//
// The constant of aluminium: 225 in the standards of appliances (EC aluminium), 228 in a
// handbook page on temperature rise. On a rise of 80 K it makes 1 K. We use 225.
//
// IEC 60085 gives letter F to class 155 and H to 180. A North American maker of dry-type
// transformers (Hammond Power Solutions) gives F to class 180 and H to 220, and a
// gear-motor maker prints C for 200, N for 220 and R for 240. IEC 60085 as tabulated by Datsan has N
// for 200 and R for 220. Only the number is safe.
//
// A published exercise has 2.00 Ω at 20 °C and 2.28 Ω hot: 55 °C by 0.004 per kelvin, 55.6 °C
// by 234.5; the same page also prints 20.2 °C, a slip.
//
// # Sources
//
// - Formula and constants 234.5 and 225: [iec-60335-1 11.3].
// - Classes of insulation: [iec-60085].
// - Windings inside household appliances, rise of 75, 90, 95, 115, 140, 160 and 180 K for classes 105 to 220 by resistance, over at most 25 °C: [iec-60335-1 table 3 (memory)].
// - Rotating machines, B 80 K, F 105 K, H 125 K: [iec-60034-1].
// - Dry-type transformers: [iec-60076-11].
// - Small transformers in normal use, 100, 115, 120, 140 and 165 °C for classes 105 to 180; in the first hour of an overload or short circuit, protected by a fuse or link, 200, 215, 225, 240 and 260 °C: [iec-61558-1 table 1 and the overload test (memory)].
// - Hottest spot 5 to 15 K above the average: [memory].
package rise
