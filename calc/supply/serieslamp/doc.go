// Package serieslamp finds where a filament lamp in series with a device under test
// settles, and what its light says.
//
// The lamp goes in series with the line conductor of a suspect at its first switching on after a repair. If the suspect
// is shorted the lamp takes the mains and lights; nothing burns. If it draws little the lamp stays
// dark and cold, and the device gets nearly all the volts.
//
// # Method
//
// The lamp follows the lamp law: its current goes with the power 0.55 of its volts. The point is
// sought where lamp and load carry the same current and their volts make up the mains.
//
// A resistor or heater is taken at its ohms, another lamp by the same law, a motor as its running impedance at the power factor
// given, and once more standing still with twice to seven times the running current (from memory).
//
// A rectifier with its capacitor draws pulses. The filament is too slow to follow them, so the lamp is
// a resistance set by its RMS current, and the closed form for an endless capacitor holds:
// tan θ − θ = πR/(2R_load), with the capacitor at the peak times cos θ.
//
// A switch-mode supply takes the same watts at any volts, so fewer volts make it draw more. Up to some watts there is a point
// where it runs; above them there is none, and it collapses, tries again or hangs, healthy as it is.
//
// # Where it holds
//
// Filament lamps only, at mains frequency, after the first second. A halogen lamp serves as well.
//
// # Where it misleads
//
// It limits, it does not isolate. Everything in the device is at mains as before, with the lamp dark or bright; and a
// lamp in the neutral would leave all of it live.
//
// At the first instant the cold filament lets pass ten to sixteen times its rated current: a weak
// switch or rectifier can still die. It limits to the lamp's current only after some hundredths of a second.
//
// Bright is bad only if a healthy load would leave the lamp dim. A heater or a big motor lights a small lamp
// fully, in perfect health: look at the verdict.
//
// A flash that dies away within a second is a capacitor charging, or a transformer's or motor's first rush, and healthy. One that
// comes back again and again is a supply that tries to start: fault, or lamp too small.
//
// Dark does not prove health: an open fuse, switch, thermal link or a supply that does not start is dark as well.
// Measure the volts across the device.
//
// A device run for long at few volts can suffer: motors that do not turn get hot, supplies hunt.
//
// # Sources
//
// - Current of the lamp: [standard-handbook-ee lamp rerating, exponent 0.55].
// - Rectifier behind a resistance: [own closed form for an endless capacitor].
// - What dark, bright and a flash mean with radios and amplifiers: [de-boer-29a].
// - Starting current of motors two to seven times the running one: [memory].
// - Words for the light by the lamp's volts (dark below a tenth, full above nine tenths): our choice. A lamp of about the device's own watts: [practice].
package serieslamp
