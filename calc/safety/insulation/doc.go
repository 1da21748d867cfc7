// Package insulation is the calculator "insulation": whether the resistance from the mains wires to the metal
// that can be touched is high enough, by each named rule side by side.
//
// # Method
//
// Line and neutral of the plug together against earth (class I), or against each metal part in turn
// (class II and III), at 500 V direct current with the switch on. The reading is compared with the least value
// of each rule; the highest of them decides unless another is chosen.
//
// After repair and in use, EN 50678 and EN 50699 (limits of VDE 0701-0702): class I 1 MΩ, with heating elements
// 0.3 MΩ, class II 2 MΩ, class III (safety extra-low voltage) 0.25 MΩ, proof of safe separation, as
// across a transformer, 2 MΩ. UK code of practice: class I 1 MΩ, class II 2 MΩ. Australia and New Zealand (AS/NZS 3760): 1 MΩ for both.
//
// Mains volts over this resistance is the direct part of the leakage; the greater part is often capacitance, which
// this test does not see (`leakage`).
//
// # Where it holds
//
// Devices with a plug up to 500 V test volts. Reading still rising after some seconds: the charge of
// capacitors; wait. Hold the test on for discharge before touching.
//
// # Where it misleads
//
// An electronic switch or a relay keeps the test from reaching what lies behind: the reading is high and
// says nothing. Such a device needs the leakage measured with mains on.
//
// Surge parts and filters conduct at 500 V: test at 250 V, or measure the leakage instead. A failing surge part is no
// excuse to skip both.
//
// A sheathed heating element takes up moisture in store: a new one may read 0.1 MΩ and recover after an
// hour at heat with earth connected (common practice, no source). It passes only when it has recovered.
//
// A meter of ±15 % that shows 1.1 MΩ has not proved 1 MΩ. One maker's table asks for 1.15 MΩ on the
// display for 1 MΩ.
//
// Just passing is no sign of health: sound dry insulation reads tens of MΩ and more. A reading that has fallen to a
// tenth since last year is a finding (common practice, no source).
//
// # Sources disagree
//
// Heating elements: 0.3 MΩ for all of them in DGUV Information 203-071; only above 3.5 kW, and then with the
// leakage measured too, in the manual of a tester's maker (Gossen Metrawatt). At or below 3.5 kW the verdict
// between 0.3 and 1 MΩ says so.
//
// Class II: 2 MΩ in Europe, 1 MΩ in AS/NZS 3760. The committee itself noted that this does not agree with its own
// limits of leakage (draft DR 3760 of 2010).
//
// # Sources
//
// - 1, 0.3, 2 and 0.25 MΩ, 2 MΩ for safe separation: [dguv-203-071]; the same by class: [fluke-6200]; and [din-vde-0701-0702; superseded, carried over into EN 50678 and EN 50699].
// - 0.3 MΩ above 3.5 kW with leakage measured; 500 V; the least shown values 1.15, 0.38 and 2.25 MΩ: [metratester-5].
// - UK 1 and 2 MΩ: [iet-code-5].
// - AS/NZS 1 MΩ at 500 V, or 250 V with surge parts: [as-nzs-3760].
// - North America: no figure was found.
package insulation
