// Package cord gives the volts that a flexible cord or extension lead takes, its heat, and what published tables let it carry.
//
// # Method
//
// The current goes there and back: the volts lost are 2·l·r·I, with r the greatest resistance per metre that IEC 60228 class 5
// allows for the size (1.25 mm² in proportion to 1 mm², others and AWG as nominal copper, 17.241/A). Copper 0.39 % more per kelvin: a cord at
// 60 °C loses 16 % more than at 20 °C. The heat is I² times the ohms there and back.
//
// At its far end a short circuit gives the mains over the ohms of the source and of the cord together. A fuse or
// breaker must see enough current to open.
//
// The rating of a cord is no physics but a table in a local code. Three published ones are shown, and the verdict goes by the lowest.
// The cord of an appliance follows its own standard (IEC 60335-1, table 11): up to 3 A 0.5 mm² to 2 m, up to 6 A 0.75 mm², up to
// 10 A 1 mm² or 0.75 mm² to 2 m, up to 16 A 1.5 mm² or 1 mm² to 2 m. In America both go by the NEC, table 400.5(A). Where the use is not said both are judged.
//
// For air warmer than 30 °C the British table is lowered for 60 °C cords by √((60 − T)/30), which gives its own factors.
//
// # Where it holds
//
// Two loaded cores of copper on 230 or 120 V, sound all along, the load drawing the current stated. A load given in watts is
// taken at full mains volts.
//
// # Where it misleads
//
// The ratings are for a cord stretched out in air. Wound on a drum, under a carpet or in a bundle the heat stays in: a drum with 500 W wound
// up may carry 2300 W unwound, and it melts without a sound. Unwind it all, or keep to the lower figure on the drum.
//
// A cord warm at one place only has a bad joint or broken strands there, and no table helps. Half the strands
// of a short stretch broken hardly show in ohms: flex it while reading.
//
// A motor that starts at four volts in a hundred less may hum, stand and burn. The volts at the
// socket under load are what counts: measure them there.
//
// The plug's fuse protects the cord, so it goes by the cord, not by the socket.
//
// # Sources disagree
//
// Amperes for 0.5, 0.75, 1.0, 1.5 mm²: 3, 6, 10, 15 (UK shops' flex table), 3, 6, 10, 16 (BS 7671 table 4F3A), 4, 7, 12, 15 (an
// Indian cable maker). The cord of an appliance is chosen by the appliance's own standard: 0.5 mm² up to 3 A, 0.75 up to 6 A, 1.0 up
// to 10 A, 1.5 up to 16 A, 2.5 up to 25 A, where 0.5 mm² may be at most 2 m long [iec-60335-1 table 11]; portable ones with a cord of at most
// 2 m may have 0.75 mm² up to 10 A, kettles among them [iec-60335-2-15], and 1.0 mm² up to 16 A [iec-60335-1 table 11 (memory)]. In America flexible cords of two loaded
// conductors carry 10 A at 18 AWG, 13 A at 16, 18 A at 14, 25 A at 12 [nec table 400.5(A)]. Local code decides.
//
// # Sources
//
// - Greatest resistance: [iec-60228 class 5]; tinned from memory, borne out by the millivolts per ampere and metre of [bs-7671 table 4F3B].
// - Amperes: [bs-7671 table 4F3A with its factors for warm air]; [darshan]; the older UK table: [practice].
// - Wound and unwound: [drum-label 500 W and 2300 W]; fully unwound: [rospa-leads].
// - Two loaded cores and 2·l·r·I: [own].
package cord
