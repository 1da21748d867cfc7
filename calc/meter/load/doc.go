// Package load is the calculator "meter-load": what a meter shows when its own resistance changes the
// circuit, and what was there without it.
//
// # Method
//
// A voltmeter lies in parallel with what it measures. Seen from its probes the circuit is a source behind
// one resistance, R: of a divider the two resistors in parallel. The meter of resistance Rm shows
// Rm/(Rm + R) of the true volts, so the truth is the reading times 1 + R/Rm.
//
// An ammeter lies in series. With all resistances of the loop together R, it shows R/(R + Rs) of the true
// current, where Rs is its shunt, its fuse and its leads; the volts it takes are its burden.
//
// # Where it holds
//
// Direct current and resistors; at mains frequency for circuits below some 100 kΩ. The volts or the current
// must come from a source that does not regulate: a regulated supply behind the meter hides the burden.
//
// # Where it misleads
//
// Two open wires side by side read tens of volts on a 10 MΩ meter by capacitance alone. Such ghost volts vanish
// under a load of some kΩ; a true supply does not.
//
// On AC a meter adds some 100 pF (common practice, no source), which at audio frequencies is less than its 10 MΩ.
//
// A needle meter's resistance goes with its range: 20 kΩ/V on the 10 V range is 200 kΩ. If the same point
// reads differently on two ranges, the meter loads it.
//
// A milliampere range with its fuse is often several ohms: useless in a loop of a few volts and ohms. Measure
// the volts on a resistor that is there already instead.
//
// # Sources
//
// - Loading of a divider, and the correction V = VM + R1·R2/(Rv·(R1 + R2))·VM: [own the divider that a meter makes].
// - Ammeter of 0.5 Ω in 10 V and 10 Ω shows 0.952381 A: [gwinstek-gdm-9060 burden voltage].
package load
