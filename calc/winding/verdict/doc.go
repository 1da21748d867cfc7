// Package verdict judges a winding by its ohms: open, or not open, and whether the reading is plausible for its
// power. It never says "good", because ohms cannot.
//
// # Method
//
// A reading of OL, or of a hundred times what is plausible, is an open winding: a broken wire, a lifted joint, or the one-shot link
// that sits in the winding in series.
//
// What is plausible follows from the size. A mains transformer loses the share r of its volts at
// rated load, by its VA; some 35 to 65 % of that in each winding. So a winding of U volts reads
// about R = share·r·U²/VA, less up to a quarter because it reads cold and is rated warm. The
// window is wide, a factor of ten, for makes and kinds differ so much.
//
// One shorted turn in a winding of N takes 1/N of its resistance. What a meter cannot see are as many turns as its error
// and the change of copper by temperature, 0.39 % per kelvin, take: N·(error + 0.0039·ΔT).
//
// # Where it holds
//
// Single-phase mains transformers, primary or secondary, plug out, and nothing in parallel. With four wires or the leads' ohms taken off below a
// few ohms.
//
// # Where it misleads
//
// "Its ohms are right, so it is good": a shorted turn changes 0.1 % in a thousand, carries a large current, and cooks
// the winding. Right ohms prove that the wire is whole, nothing more.
//
// What shows shorted turns: no load on any secondary, the primary through a series lamp or with an ammeter; a
// sound transformer draws a few per cent of its rated current, a shorted one lights the lamp and warms. Ring test and a sister part beside it are good as well.
//
// A winding below 1 Ω cannot be told from a short with two leads. A secondary for much current reads a few milliohms.
//
// Open may be only the thermal link, and it opened for a reason. It is never bridged.
//
// Ohms say nothing of the insulation between windings and to the core: that is a test of its own.
//
// # Sources disagree
//
// For a primary one teaching book has tens of ohms (large) to several hundred (small), another page has 1 to about
// 10 Ω and calls more than that bad. Both are right for some size: by the law here 230 V reads near 12 Ω at 200 VA, 300 Ω at 20 VA and some kΩ at 3 VA; at
// 120 V it is a quarter of that.
//
// # Sources
//
// - Primary tens to several hundreds of ohms, secondary several to tens, infinite is open: [mikroe-textbook transformers and coils].
// - Shorted turns make a transformer useless, whatever its ohms; a secondary reads few ohms, the primary more: [practice].
// - Law by size, the same as for regulation; shares of the windings: [memory].
// - Temperature coefficient of copper 0.00393 per kelvin at 20 °C: [iec-60028].
package verdict
