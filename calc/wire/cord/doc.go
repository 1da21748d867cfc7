// Package cord gives the volts that a flexible cord or extension lead takes, its heat, and what published tables let it carry.
//
// # Method
//
// The current goes there and back: the volts lost are 2·l·r·I, with r the greatest resistance per metre that IEC 60228 class 5
// allows for the size (17.241/A for sizes it does not list and for AWG). Copper 0.39 % more per kelvin: a cord at
// 60 °C loses 16 % more than at 20 °C. The heat is I² times the ohms there and back.
//
// At its far end a short circuit gives the mains over the ohms of the source and of the cord together. A fuse or
// breaker must see enough current to open.
//
// The rating of a cord is no physics but a table in a local code. Three published ones are shown, and the verdict goes by the lowest.
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
// Amperes for 0.5, 0.75, 1.0, 1.5 mm²: 3, 6, 10, 15 (a UK do-it-yourself page), 3, 6, 10, 16 (BS 7671 table 4F3A), 4, 7, 12, 15 (an
// Indian cable maker). Short appliance cords may carry more: 10 A on 0.75 mm² and 16 A on 1 mm² up to 2 m (a discussion of IEC 60320 cord sets). Local code decides.
//
// # Sources
//
// - Greatest resistance: IEC 60228 class 5 as printed by Darshan Cable; tinned from memory, borne out by the millivolts per ampere and metre of BS 7671 table 4F3B.
// - Amperes: flex table of diynot.com; BS 7671 table 4F3A with its factors for warm air as printed by R&M Electrical; Darshan Cable.
// - Wound and unwound: label of a melted drum (500 W and 2300 W) on safetyphoto.co.uk; a workshop page says one third.
// - Two loaded cores and 2·l·r·I: reference computation.
package cord
