// Package leads is the calculator "lead-null": the true low resistance behind a reading that holds the test
// leads as well, and whether the meter can tell it at all.
//
// # Method
//
// Press the probes together and read: these are the leads, their plugs and the meter's own offset. Take that off
// the reading. What stays uncertain is the percentage of the result, the counts of both readings, and how far
// the reading moves as the probes are pressed anew: ± (p·(R + 2·n·step) + 2·n·step + contact).
//
// With four wires the leads drop out: send a known current through the part, measure the volts
// directly on it with two further leads, and divide.
//
// # Where it holds
//
// Resistances below some 10 Ω: windings, cords, contacts, heater leads, earth paths, with the power off and the capacitors
// discharged. The same leads, plugs and range for both readings.
//
// # Where it misleads
//
// The contact of the probe tips is not among the nulled: it changes at each touch. Scrape, press, and watch whether
// the figure stands still.
//
// Below a few tenths of an ohm the counts are most of the result. The ratio of two such readings says nothing.
//
// A few milliamperes do not prove an earth path: one strand of the wire left reads well and burns off under a
// fault. The test of an earth bond sends at least 0.2 A, better 10 A.
//
// A meter with its null key still pressed takes the old leads off every later reading.
//
// # Sources disagree
//
// When leads are worn out: above 0.5 Ω by the help page of a meter maker (Fluke), above 1 Ω by the
// introduction of another (GVDA), which calls 0.2 to 0.5 Ω typical. The stricter one is used.
//
// # Sources
//
// - Leads worn out: [fluke-leads above 0.5 Ω]; typical 0.2 to 0.5 Ω: [gvda].
// - Shorted leads up to 0.3 Ω on a 200 Ω range, null key: [peaktech-2040].
// - Null, and four wires: [agilent-tip-1].
// - Counts of both readings added as the worst case: [own].
package leads
