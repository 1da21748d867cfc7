// Package link judges a thermal link (thermal fuse) and finds the rated
// functioning temperatures that may stand in its place.
//
// The mark on the old part goes first: Tf as printed, with its volts, amps, kind and
// mounting. Only where no mark can be read is a window computed from temperatures.
//
// # Method
//
// The worst temperature of the link's body in ordinary use is the highest in normal use plus
// the overshoot of the thermostat plus the link's own heating by its current. The link
// must hold there: its holding temperature Th, where known, must not lie below it; else Tf less
// the tolerance (the lowest temperature at which it may open) must not.
//
// So the window's low end for Tf is that worst temperature plus the tolerance. Its high end is
// the highest temperature the protected part may reach, less the difference from the
// hottest spot to where the link feels. Where that highest temperature is not given the class of
// insulation stands for it, which is the strict reading.
//
// After opening, heat flows on: the peak must stay below Tm, up to which an opened
// link stays open.
//
// A part differs, whatever its temperature, if it closes again by itself where the old one was
// one-shot, or is mounted in another way: on the surface or in free air it feels other temperatures than
// one buried in a winding.
//
// # Where it holds
//
// One-shot thermal links to IEC 60691 and self-resetting cut-outs in place of their like, at rated current
// or less, mounted as the old one was, with leads soldered cool (clamped between joint and body).
//
// # Where it misleads
//
// Th is often 20 to 40 K below Tf, more than the tolerance: without it the window is too
// wide at its low end. Look Th up.
//
// A temperature measured on the case is not that of the link's body. The difference from hot
// spot to link is the weakest number here; measure it with a probe where you can.
//
// A link that opened did its work. The reason (blocked air, stuck thermostat, shorted turns, wrong fuse) is
// still there, and a new link alone ends the same way.
//
// A surface thermostat of a guessed rating is not equal to an embedded one-shot link.
//
// # Sources disagree
//
// The tolerance of Tf: +0/−10 K (two link makers, for IEC 60691), +0/−5 K (one importer), ±7 K (regulation of
// Japan). We use +0/−10 K, the widest below.
//
// The holding temperature: 24 h at rated current in a maker's glossary; later editions use 168 h
// (from memory).
//
// # Sources
//
// - Tolerance, Th and Tm (10 minutes without closing again): [uchihashi] and [iec-60691 +0/−10 K].
// - Range of Tf made, pellet 73 to 240 °C, alloy 76 to 187 °C: [sefuse].
// - Choose above the highest temperature in normal use with overshoot: [own by a link maker's selection rule].
// - Usual values of Tf in between: [memory].
// - Self-resetting is no equal of one-shot, surface no equal of embedded: [practice].
package link
