// Package resistance gives a battery's internal resistance from its volts at two loads.
//
// # Method
//
// R = (V₁ − V₂)/(I₂ − I₁), with V₁ at the light load and V₂ at the heavy one. A load given in ohms draws V/R.
// The light load may be none at all, though with one the rest effects of an idle cell are left out.
//
// Standards fix the moments: lithium cells 10 s at 0.2 C and then 1 s at 1 C. Read at the same moments
// each time, or the figures do not compare.
//
// The line through both readings gives the volts without load, and their quotient with R the current
// into a short, as a warning of what a slipped spanner draws.
//
// A verdict needs something to compare with: the maker's figure or the same type new, by the same method. Up to
// 1.3 times is in order, above 1.5 times worn, between them a case for a capacity test.
//
// # Where it holds
//
// Read at the battery's own terminals, with leads of their own (four-wire), warm, more than half charged. The difference of
// the volts must be many times the meter's last digit: write a tolerance, and the result carries it.
//
// # Where it misleads
//
// There is no good figure as such: it depends on type, size, charge and temperature. A cell twice as large has half.
//
// A low resistance is no proof of capacity. Modern lead-acid and lithium cells keep it while their capacity
// goes. A high one is proof of trouble, in the battery or in a clamp.
//
// A data sheet's milliohms are mostly taken with alternating current of 1 kHz; direct current gives more, up to twice. Such a
// reference only says "in order" where the reading is not above it.
//
// # Sources disagree
//
// How much above new is too much: 1.3 to 1.5 times, in users' rules for stationary batteries (from memory). Both stand: below, in order; above, worn.
//
// A table of seven new alkaline cells is headed "at 25 mA" and gives 3.285 Ω for 1.596 and 1.546 V; at 25 mA
// that would be 2.0 Ω. All seven agree with 15.2 mA: the heading is wrong, not the cells.
//
// # Sources
//
// - Two loads, 0.2 C for 10 s, then 1 C for 1 s: [iec-61960-3].
// - Compare with birth, not with a figure; resistance is not capacity: [battery-university BU-902].
// - Worked example 8.8 V, 0.62 A, 4.2 Ω: [f-alpha experiment 13]. Seven cells: [own on readings of volts and current].
// - 14 Ah block 13.5 mΩ: [sw12140e]. Lithium cell below 80 mΩ: [battsys].
// - Direct current gives up to twice the 1 kHz figure; 1.3 to 1.5 times as worn: [memory].
package resistance
