// Package bus gives the DC volts on the main capacitor of a mains supply, their tolerance, and the valley
// between the peaks under load.
//
// # Method
//
// Off load the capacitor stands at the peak of the mains: √2 times the RMS volts behind a bridge or a single
// diode, twice that behind a doubler. The mains' own tolerance is that of the bus.
//
// Under load the capacitor gives its energy between the peaks: C(V₁² − V²)/2 equals the watts times the time until the rising
// mains meets it again. That is solved exactly for a switch-mode load, which takes constant watts, with ideal diodes. Of a doubler each
// capacitor is followed in steps over some periods.
//
// A power factor corrector boosts the bus to a fixed voltage above every mains peak, some 380 to 400 V, and leaves a ripple of
// P/(2πfCV). Without it, or before it starts, the bus is at the mains' peak.
//
// Without mains the load draws the capacitor down: it holds up for C(V₁² − V₂²)/(2P), at worst from the valley.
//
// # Where it holds
//
// Straight from the mains, sine, after the inrush part has warmed. Two diodes take 1 to 2 V more.
//
// # Where it misleads
//
// A mains with flattened tops, as in most houses, peaks some per cent lower.
//
// A DC meter shows the mean, between valley and peak. A bus that reads well can still have
// deep valleys from a dried-out capacitor: look at its ripple in AC volts, through a capacitor rated for it.
//
// A supply that does not start keeps its bus at the peak for minutes or days after the plug is out.
//
// A doubler's selector at 115 V on 230 V mains puts 325 V on each capacitor made for 200.
//
// # Sources
//
// - 13.6 µF, 60 Hz, 90 V AC: valley 90, 96 and 117 V at 8.22, 7.07 and 2.46 W; 264 V AC: 373 V; 2 to 3 µF per watt for 90 to 264 V, 1 µF per watt for 195 to 265 V: [fairchild-an-6094].
// - Bridge and doubler from one selector give the same DC for 230 and 115 V: [own].
// - About 150 V on the capacitor for 110 V mains: [practice].
// - Bus of 380 V for 120 and 230 V mains with a corrector: [ti-tidud61e].
// - Valleys of bridge, doubler and single diode: [ngspice].
// - 10 % either way as the mains' tolerance: [en-50160 (memory)].
package bus
