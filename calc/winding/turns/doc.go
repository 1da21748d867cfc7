// Package turns computes a transformer's turns ratio from measured volts, and shows how little the
// resistances of its windings say about it.
//
// # Method
//
// Off load the volts of two windings are as their turns: n = U₁/U₂. Any small AC does, on
// any winding, as long as the core is not driven beyond its rated volts.
//
// A winding of N turns in copper of total cross-section A has N wires of A/N each, so its
// resistance goes with N²·(mean length of a turn)/A. The ratio of resistances is therefore
// n²/(m·a), with m the length of a secondary turn over that of a primary turn and a the copper of the
// primary over that of the secondary. It is near the square of the turns ratio, never the ratio.
//
// With the secondary wound over the primary m is 1 to 1.5; side by side or in a toroid it is near 1.
//
// A few turns of thin insulated wire put around the core give the volts of a turn, and
// from them the turns of every winding.
//
// # Where it holds
//
// Windings on one core, measured off load. The ratio found is up to a few per cent too large where the small
// magnetising current already drops volts in a primary of many ohms (transformers of few VA).
//
// # Where it misleads
//
// "The ohms show the step-down": at 7:1 with equal copper the resistances stand 33 to 50:1, and
// who takes that for the turns expects 2.4 to 3.6 V where 17 V are healthy.
//
// The square root of the resistance ratio is nearer, and reads up to 18 % low with equal copper. With
// unequal copper, several windings or leads of 0.2 Ω left in a 0.5 Ω reading it is off further.
//
// The ratio does not tell good from bad finely either: a shorted turn loads the core rather than changing the ratio much. It
// hums, warms and draws current off load.
//
// Under load the volts fall by the regulation, 10 to 30 % in a small transformer; a ratio from loaded
// volts is too large by that.
//
// # Sources
//
// - Volts as turns: [bicron].
// - Resistance as N²·(mean length of turn)/area, with 20:1 and m of 1.3 and 1.5: [own].
// - Rated 12 V at 117 V: [avel-lindberg]. Worked ratio: [theraja example 7.16].
// - 17 V as healthy for a 12 V lead-acid charger, at about 7:1 from 120 V: [practice].
// - m from 1 to 1.5: [memory].
package turns
