// Package offset judges the DC volts at an amplifier's loudspeaker output.
//
// # Method
//
// DC through a voice coil warms it without a sound and pushes the cone out of the middle:
// P = V²/R with the coil's DC resistance, which is about 0.8 of the nominal impedance.
//
// Within 50 mV all is well; to 100 mV watch it; from a few hundred millivolts something is wrong; a protection relay
// of common design opens at 0.6 to 2 V; a rail at the output means a shorted output device, and the coil burns in seconds.
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
// What is still good differs: 20 mV with one service manual, 50 mV by common practice, 100 mV with others. Above 100 mV all agree
// that the cause is to be found.
//
// # Sources
//
// - 50 and 100 mV: common practice, no source.
// - 0.6 to 2 V for protection relays: from data sheets of protection circuits, from memory.
// - Coil resistance 0.8 of nominal: IEC 60268-5 lets the impedance fall to 0.8 of nominal; the DC resistance from memory.
package offset
