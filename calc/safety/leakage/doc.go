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
// Touch: 0.5 mA after repair and in use (EN 50678 and EN 50699). Double-insulated: 0.25 mA for makers (IEC 60335-1) and in the
// 4th edition of the UK code, 5 mA in its 5th, 1 mA in AS/NZS 3760. North America (UL 8750): 0.5 mA, for
// stationary devices with an earth pin 0.75 mA, both with the earth open.
//
// Protective conductor: 3.5 mA, above 3.5 kW of heating 1 mA/kW up to 10 mA (EN); 5 mA (UK 5th
// edition, AS/NZS 3760); 0.75 mA portable, 3.5 mA stationary with motor, heating 0.75 mA/kW, at least
// 0.75 and at most 5 mA (IEC 60335-1, UK 4th edition, which puts IT devices at 3.5 mA).
//
// IT equipment may exceed 3.5 mA if the protective conductor current stays within 5 % of the input current of
// the line, and a warning stands beside the plug.
//
// What interference capacitors to earth alone let through is 2πf·C·V.
//
// # Where it holds
//
// The device on and at work, on its own mains volts, isolated from other paths to earth, with an instrument that
// weighs frequency as a body does. The equivalent method (mains on both wires together from a small transformer) sees a
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
// With the earth wire broken, the current of the earth wire goes through the person. 3.5 mA is felt
// clearly, and the start it gives is enough to fall from a ladder (common practice, no source). Prove the earth first.
//
// A tingle in one position of the plug and none in the other is the same fault or filter. Turn the plug, take the higher.
//
// # Sources disagree
//
// By twenty to one for a double-insulated device: 0.25 mA (makers, UK 4th edition) to 5 mA (UK 5th edition, which
// calls the higher limit a way not to fail sound devices unnecessarily). The right one is that of the law where the device is used.
//
// Heating: 0.75 mA/kW with at least 0.75 mA (IEC 60335-1) against 3.5 mA up to 3.5 kW (EN 50699): a
// 2 kW heater of 2 mA fails one and passes the other. Particular standards of makers allow 1 or 2 mA/kW
// for some stationary appliances.
//
// # Sources
//
// - 0.5 mA, 3.5 mA, 1 mA/kW above 3.5 kW, at most 10 mA: DGUV Information 203-071, appendix 5; chart of a test-instrument maker (Benning) for DIN VDE 0701-0702:2008.
// - UK 4th and 5th edition: page of a training company comparing the editions (pat-testing-training.net, 2020).
// - IEC 60335-1: post on a product-safety mailing list (older edition); 0.25 mA and the heating rule in full: clause 13.2 as quoted on a forum (angui.org).
// - 1 and 2 mA/kW for stationary appliances by particular standards: clauses 13.2 on docs.cntd.ru and angui.org.
// - AS/NZS 3760:2003, 5 mA and 1 mA: Leakage testing now mandatory, safetysolutions.net.au, 2004.
// - UL 8750, 8.7.1: quoted on a forum (cgets.net).
// - 5 % of the input current: IEC 60950-1, 5.1.7, quoted in a forum.
// - 2πf·C·V: 4.7 nF at 240 V and 50 Hz is 0.354 mA, thread on diyaudio.com.
package leakage
