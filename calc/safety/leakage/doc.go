// Package leakage is the calculator "leakage": whether the current that flows to earth or through a person
// touching the device is small enough, by each named rule side by side.
//
// # Method
//
// Two currents are told apart. The touch current flows from metal that is not earthed through whoever touches it;
// the protective conductor current flows in the earth wire of a class I device. The reading, the higher of
// both positions of the plug, is held against each rule for its class and kind. The lowest limit decides
// unless another rule is chosen.
//
// Touch: 0.5 mA after repair and in use (EN 50678 and EN 50699), and for makers of IT and audio (IEC 62368-1). Double-insulated: 0.25 mA
// for makers of household appliances (IEC 60335-1), 5 mA in the UK code, 0.25 mA in its superseded 4th edition, 1 mA in AS/NZS 3760. North
// America: 0.5 mA, for stationary devices with an earth pin 0.75 mA (UL 101, from memory), both with the earth open; LED lighting
// has the same 0.5 mA in UL 8750.
//
// Protective conductor: 3.5 mA, above 3.5 kW of heating 1 mA/kW up to 10 mA (EN); 5 mA (UK code, AS/NZS 3760); household appliances
// 0.75 mA portable, 3.5 mA stationary with motor, heating 0.75 mA/kW, at least 0.75 and at most 5 mA (IEC 60335-1).
//
// Each rule is held only against devices it speaks of, and a superseded one decides only where it is chosen.
//
// Above 3.5 mA IT equipment could once pass within 5 % of its input current, with a warning beside the plug. That was for stationary
// equipment, permanently connected or by an industrial plug, in a standard that is withdrawn. With an ordinary plug it is not offered.
//
// What interference capacitors to earth alone let through is 2πf·C·V.
//
// # Where it holds
//
// The device on and at work, on its own mains volts, isolated from other paths to earth, with an instrument that
// weighs frequency as a body does [iec-60990]. The equivalent method (mains on both wires together from a small transformer) sees a
// symmetrical filter twice, and nothing behind an electronic switch.
//
// # Where it misleads
//
// A clamp around the earth wire misses what flows by other ways: a water pipe, a data cable. A clamp around line and
// neutral together misses nothing, but adds the wiring before it.
//
// A multimeter on its milliampere range from metal to earth is no body: it has no weighting, and it is a short
// if a fault is there.
//
// With the earth wire broken, the current of the earth wire goes through the person. Up to 0.5 mA there is usually no
// reaction, above it a start, which is enough to fall from a ladder [iec-60479-1 zones AC-1 and AC-2]. Prove the earth first.
//
// A tingle in one position of the plug and none in the other is the same fault or filter. Turn the plug, take the higher.
//
// # Sources disagree
//
// By twenty to one for a double-insulated device: 0.25 mA (makers) to 5 mA (UK code, 5th edition, which calls the higher limit a way not to
// fail sound devices unnecessarily). The British makers of testers keep to 0.5 mA, since more may startle [gambica-touch]. The right
// one is that of the law where the device is used.
//
// Heating: 0.75 mA/kW with at least 0.75 mA (IEC 60335-1) against 3.5 mA up to 3.5 kW (EN 50699): a
// 2 kW heater of 2 mA fails one and passes the other. Particular standards of makers allow 1 or 2 mA/kW
// for some stationary appliances.
//
// # Sources
//
// - 0.5 mA touch: [en-50678], [en-50699] and [iec-62368-1 (summary)], as [gambica-touch] tells. 3.5 mA, 1 mA/kW above 3.5 kW, at most 10 mA: [dguv-203-071], [ht-pt01] and [din-vde-0701-0702; superseded, carried over into EN 50678 and EN 50699].
// - UK 5 mA: [iet-code-5]; 0.25, 0.75 and 3.5 mA before it: [iet-code-4; superseded].
// - Makers, 0.25, 0.5, 0.75 and 3.5 mA and the heating rule in full: [iec-60335-1 13.2]. 1 and 2 mA/kW for some stationary appliances by their particular standards: [iec-60335-1 parts 2 (summary)].
// - 5 mA and 1 mA: [as-nzs-3760].
// - North America, 0.5 and 0.75 mA: [ul-101 (memory)]; LED lighting alone: [ul-8750 8.7.1].
// - 5 % of the input current, for stationary equipment permanently connected or by an industrial plug: [iec-60950-1 5.1.7; withdrawn].
// - 2πf·C·V: [own 4.7 nF at 240 V and 50 Hz is 0.354 mA].
package leakage
