// Package offset judges the DC volts at an amplifier's loudspeaker output.
//
// # Method
//
// DC through a voice coil warms it without a sound and pushes the cone out of the middle:
// P = V²/R with the coil's DC resistance, which is about 0.8 of the nominal impedance.
//
// Within 50 mV all is well; to 100 mV watch it; from a few hundred millivolts something is wrong; a protection relay
// opens at 0.6 to 3 V, by its design; a rail at the output means a shorted output device, and the coil burns in seconds.
//
// # Where it holds
//
// Amplifiers coupled to the loudspeaker without a capacitor, measured with the speaker unplugged or a dummy resistor in
// its place, input shorted, after a minute. With an output capacitor the volts before the capacitor are half the supply and
// must be; those behind it are 0 after it has charged.
//
// # Where it misleads
//
// Bridged and most class D outputs stand at half the supply against the chassis: measure between the two
// output terminals, not to earth.
//
// A meter on AC or a thump at switching on says nothing of DC.
//
// A small offset that drifts as it warms is a mismatched input pair, not yet a danger; one that follows the
// volume control is a leaking coupling capacitor before it.
//
// # Sources disagree
//
// What is still good: under 10 mV (kit maker), 10 to 20 mV at the very most (repair shop), 50 mV (common practice), 100 mV (video notes; "most
// amplifiers" in a forum). One maker sets it to 0 ± 1 mV. A woofer itself would bear some 300 mV: the forum's
// own numbers (10 % of 6.5 mm, 5.5 Ω, 8.2 N/A, 1.34 mm/N) give 0.33 V and not the 0.4 V printed with them. Above 100 mV
// find the cause: it is the amplifier that is ill, not yet the speaker.
//
// The relay's limit: 1.5 to 3 V (electronics blog), 0.6 to 2 V (data sheets, from memory); both stand.
//
// # Sources
//
// - Under 10 mV: [akitika-gt-108]. 0 ± 1 mV: [laney-cd650]. 50 mV, 100 mV, and 1.5 to 3 V for the relay: [practice].
// - Cone: [own the force of the coil over the stiffness of its suspension]. 0.6 to 2 V for protection relays: [memory].
// - Coil resistance 0.8 of nominal: [iec-60268-5 the impedance may fall to 0.8 of nominal (memory)].
package offset
