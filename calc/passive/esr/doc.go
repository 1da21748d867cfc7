// Package esr judges the series resistance (ESR) of an electrolytic capacitor against its data sheet or two
// published tables that disagree.
//
// # Method
//
// With the data sheet's highest ESR, that decides: up to it the part passes, over twice it is worn.
//
// Without it two tables for new aluminium electrolytics at 20 °C stand side by side, by capacitance and rated volts; between their
// rows and columns the values are interpolated on logarithms. Below the lower table is fine by both; between them the
// tables differ and the verdict says so; over twice the larger is worn by both.
//
// From tan δ (dissipation factor) the ESR is tan δ / (2π·f·C), at the frequency for which tan δ is stated, 100 or 120 Hz, and
// nowhere else.
//
// # Where it holds
//
// Standard aluminium electrolytics, cold and discharged, 1 µF to 10 mF, up to 250 V. Rated volts below 10 V take the column of
// 10 V, and the result says so.
//
// # Where it misleads
//
// Low-ESR, polymer and tantalum parts are far below both tables when new: fine by the table may still be ten
// times too much there. Use the data sheet, or a new part of the same series, or the twin in the same device.
//
// In circuit everything in parallel lowers the reading: a bad one beside a good one reads good. A reading that is too high stands.
//
// tan δ at 120 Hz says nothing of 100 kHz. For 220 µF with tan δ 0.10 the formula gives 0.72 mΩ at 100 kHz; the data sheet
// of that part states 0.18 Ω, 250 times more.
//
// A capacitor may read good ESR with half its capacitance gone, or leak. Measure the capacitance as well, and take no
// bulging or leaking part for good, whatever it reads.
//
// Cold raises ESR: at 0 °C some twice, at −25 °C some ten times (from memory).
//
// Leads of 0.1 Ω drown a large capacitor: short the tips and null them first.
//
// # Sources disagree
//
// 100 µF 25 V: 0.32 Ω at worst when new (table A), 1.40 Ω (table B), a factor of 4.4. 10 µF 63 V: 2.4 Ω against 9.3 Ω.
// Neither says which series its values are from, so both are guidance only.
//
// Table A is not even in itself: it has 0.12 Ω for 1000 µF 10 V and 0.23 Ω for 4700 µF 10 V, and 6.0 Ω for 2.2 µF 25 V beside 15 Ω for
// 4.7 µF.
//
// Table B prints 0.09 Ω for 100 µF 63 V on one page; the guide of an ESR meter that has the same table prints 0.93 Ω, which fits its neighbours
// 1.10 and 0.77 and is used.
//
// # Sources
//
// - Table A, worst case when new, and "wary of more than double": [esr-chart]. Table B: [peak-esr70].
// - ESR from tan δ: [own tan δ/(2πfC)]; that tan δ at 120 Hz says nothing at 100 kHz: [own against a data sheet's 0.18 Ω].
// - End of life at twice to three times the first ESR: [memory makers' endurance tests].
package esr
