// Package inrush gives the current at the moment of switching on: an empty reservoir capacitor, a transformer, a cold
// filament; and the limiter for it.
//
// # Method
//
// Always the worst instant of switching, as it comes one day. R is wiring, source and limiter together.
//
// Capacitor behind a bridge: at the crest of the mains the empty capacitor is a short circuit, so the peak is √2·V/R. The melting
// integral is solved exactly over all half waves until it is full, for the worst instant. It is never
// more than C·V²/R with V the RMS volts, and just that where R·C is much shorter than a half wave. The limiter takes at most
// C·V², the energy that stays in the capacitor once more.
//
// Transformer: switched on at zero volts, its flux starts from the remanence and climbs for a whole half wave, to
// twice its usual crest and more. From the angle where the core is full, cos θ = 1 − (1 − r)/b with remanence r and usual crest b as shares of a
// full core, only R and the winding's resistance hold the current back: i = √2·V·sin θ/R until the volts pass
// zero. The peak is an upper bound, as the winding in air has some inductance too.
//
// Filament: its cold resistance is the hot one, V²/P, over a ratio of about 14. The current falls as it warms; with the time constant τ the
// melting integral of the surge is half the peak squared times τ.
//
// # Where it holds
//
// Supplies without a working soft start, after some minutes off, so that capacitor and limiter are empty and cold.
//
// # Where it misleads
//
// The diodes' drop is left out: 1 % of the crest on 230 V, a tenth and more on 17 V. For a low-voltage rectifier the page of `rectifier`
// takes it off and gives a smaller first peak for the same circuit; this one is the upper bound.
//
// The bridge's diodes are left out: a volt or two do not count at mains. Behind a transformer of some volts they do, and the peak is
// well below this one: `rectifier` takes them in, and has 38.4 A where this page has 48.1 A for 17 V and 0.5 Ω.
//
// An NTC limiter helps only cold. Switched off and on at once it is still hot, at a tenth to a fiftieth of its ohms, and
// the inrush is nearly that without it: give its hot resistance and see.
//
// It also warms while the pulse runs, so that the true melting integral lies between those for its cold and its hot resistance. The peak, at the first instant, is right.
//
// The transformer's melting integral here is that of the first half wave; its further pulses come each period, smaller, for up to seconds in large toroids.
//
// An electronic ballast or a power-factor corrector has a capacitor too, and mostly a limiter with a relay across. If that
// relay does not close the limiter burns; if it sticks the fuse goes at switching on.
//
// A fuse that opened at switching on once in a hundred times may be sound and old, and the device as well: compare its
// melting integral with this one before anything else.
//
// # Sources disagree
//
// Transformers: 10 to 15 times the rated current, toroids up to 60 times (an encyclopedia article), 30 to 90 times (Powertronix, toroids).
// They depend on core, remanence and the mains, so use the resistances.
//
// Filaments: about 14 times (Lamptech), 10 to 12 times (a maker's note on lamp drivers), 15 times for a 100 W lamp at 120 V (encyclopedia). By the
// time they have warmed: 3 to 5 ms to twice the current for small lamps, 50 ms to nearly all of it for 100 W at 230 V.
//
// # Sources
//
// - Peak from crest and ohms, least cold ohms, ½CV² for the limiter, and its worked example: [ametherm].
// - Half peak squared times the time constant: [littelfuse-catalogue pulse chart 1].
// - Hot limiter 10 to 50 times lower: [tdk-ntc].
// - Flux at switching on, 10 to 60 times the rated current: [memory].
// - Filaments: [lamptech] and [lamp-article 144 Ω hot, 9.5 Ω cold].
package inrush
