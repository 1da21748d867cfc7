// Package lamplaw is the law of the filament lamp: what it draws, gives and lasts at
// volts other than those on its cap, and what it should read cold.
//
// A filament gets hotter with more volts and its resistance rises, so a lamp at half its volts
// draws much more than half its current. Every reckoning with V²/P of its plate is wrong but at one point.
//
// # Method
//
// Against the rated values at the rated volts, with x for the volts over the rated volts: the current goes
// with the power 0.55 of x, the light with its power 3.4 to 3.5, the life with its power −12 to −16,
// the colour temperature with its power 0.42.
//
// Watts are volts times amperes, so they go with the power 1.55, and resistance with the power 0.45.
//
// At very few volts the filament stays cold and the law would go below its cold resistance; there
// the cold resistance is taken, a twelfth to a thirteenth of the hot one.
//
// Cold, a healthy filament reads a sixteenth to a tenth of V²/P. At the instant of switching on it
// draws the peak of the mains over that.
//
// # Where it holds
//
// Ordinary filament lamps, gas filled or vacuum, between about 80 and 115 % of their volts: current and
// watts within a few per cent, also far below; light and life as ranges. The exponents
// vary a little with the kind of lamp.
//
// # Where it misleads
//
// Light below half the volts is rougher than the law: the eye sees a red glow where it says one per cent.
// Below 30 % no light is given here, and no life outside 70 to 120 %: lamps die of other things then.
//
// Halogen lamps follow the law for current. For life far below their volts they do not: the cycle that
// returns tungsten to the filament stops.
//
// LED and compact fluorescent lamps are electronics. Nothing here is about them.
//
// A cold filament looks like a short to a meter, and a warm one reads high: wait some minutes.
//
// # Sources disagree
//
// One source prints the watts with the power 1.6 beside the current with the power 0.55; volts
// times amperes are then 1.55. At half the volts that is 33.0 against 34.2 %, a difference of 3.4 %. We use 1.55, which
// agrees with the current; both are shown.
//
// A published answer gives 379 W for a 40 W, 120 V lamp if it stayed at its cold 28 Ω; the arithmetic is
// 120²/28 = 514 W, and 379 W would need 38 Ω.
//
// Cold resistance: a tenth of the hot one (24 and 240 Ω for 60 W, 120 V, on one page), 1/13 (28 and 360 Ω), about 1/15
// (9.5 and 144 Ω for 100 W, 120 V). The range holds them all.
//
// # Sources
//
// - Exponents 0.55, 3.4 to 3.5, −12 to −16, 1.6, 0.42: [standard-handbook-ee lamp rerating] and [lamp-article].
// - Long-life lamp 12 % under its volts: 7 % less current, 18 % fewer watts, 34 % less light, 7 times the life; 100 W at 120 V, 144 Ω hot and 9.5 Ω cold: [lamp-article].
// - A sixteenth as the lowest, resistivity of tungsten at about 2850 K over that at 20 °C: [memory].
package lamplaw
