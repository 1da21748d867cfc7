// Package hum tells from the pitch, the level and what changes it where an amplifier's
// hum comes from.
//
// # Method
//
// Full-wave supplies ripple at twice the mains frequency, half-wave supplies at the mains
// frequency itself. What is induced by fields, or flows around an earth loop, is at the mains
// frequency with a sharp buzz of harmonics. So the pitch splits the causes, and two trials split
// them further: does the volume control change it, and does it stop when the input is shorted
// or the signal lead pulled out?
//
// The level beside full output says how much: each 20 dB is a tenth of the volts. Plain above −50 dB, hardly heard below
// −75 dB: our choice.
//
// # Where it holds
//
// Amplifiers with a mains-frequency transformer. Measure with AC volts across the speaker terminals, or judge the pitch
// by ear: 50 Hz is near the lowest G of a bass, 100 Hz an octave above.
//
// # Where it misleads
//
// A small loudspeaker does not give 50 Hz: what is heard are the harmonics, and 100 Hz is heard from both.
//
// A switch-mode supply does not hum at the mains frequency; its noise is a hiss or a whine.
//
// Hum that comes after minutes is often a drying capacitor warming up, or a cold joint.
//
// Hum out of the case and not out of the loudspeaker is the transformer itself: loose, overloaded, or saturated by DC on the
// mains.
//
// A lifted earth silences a loop and may kill: the loop is opened in the signal lead or by a signal transformer, never in the earth.
//
// # Sources disagree
//
// An earth loop: 50 or 60 Hz with harmonics (recording magazine, sound trade magazine), or the buzz at twice that (amplifier kit maker: rectifier spikes
// that reach the signal earth). Both occur, so the two trials count more than the pitch.
//
// # Sources
//
// - 60, 120, 180 Hz, and the three ways in: [winer-1997].
// - 60 Hz soft, from the field of a transformer; 120 Hz buzzy, from rectifiers and earths; the two trials: [practice].
// - Ripple at f and 2f: [own the period of a rectified sine].
// - Notes: G1 is 49.0 Hz, B1 61.7 Hz, G2 98.0 Hz in equal temperament: [iso-16 A at 440 Hz].
package hum
