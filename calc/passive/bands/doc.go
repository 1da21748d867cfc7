// Package bands reads the colour bands of a resistor, says whether they could also be
// read from the other end, and gives the bands for a value.
//
// # Method
//
// The colours count black 0, brown 1, red 2, orange 3, yellow 4, green 5, blue 6, violet 7,
// grey 8, white 9. Two digits and a multiplier make a value with three or four bands, three
// digits and a multiplier with five or six. The multiplier is ten to the colour's number; gold stands for
// 0.1, silver for 0.01, pink for 0.001. The next band is the tolerance: brown 1 %, red 2 %, green
// 0.5 %, blue 0.25 %, violet 0.1 %, gold 5 %, silver 10 %; none is 20 %. A sixth band is the temperature
// coefficient. One black band alone is a link of 0 Ω.
//
// The row is read from both ends. A digit is never gold or silver and the first is not black, so most rows
// make sense one way only. Where both ways do, both values stand here, with the series each belongs
// to: a value in no series is the less likely one.
//
// # Where it holds
//
// Leaded resistors coded by IEC 60062. ±5 % and wider have two digits, ±2 % and tighter have three.
//
// # Where it misleads
//
// Brown 1 % and a first digit of brown make five bands that read well both ways: brown, red, black, black,
// brown is 120 Ω, and brown, black, black, red, brown is 10 kΩ. The tolerance band stands a little apart or is wider.
// Measure: a resistor out of circuit never reads more than its mark and tolerance unless it is bad, and the
// ohm-meter settles which end was right.
//
// Heat turns red to brown, orange to red and everything to black. A burnt resistor is not read by colours
// but by its twin on the other channel, or the maker's diagram.
//
// Four bands on a body a little fatter than a resistor may be a choke, counted in µH. A single wide band,
// or a fifth after gold or silver, may be a failure rate or mark a fusible or flameproof part: such a part
// is replaced by its like only.
//
// A bridge of one black band is 0 Ω; a fusible resistor may look the same and is not a link.
//
// # Sources disagree
//
// Grey as tolerance: 0.05 % in the tables read, 0.01 % in IEC 60062 since 2016 (from memory). Orange: 0.05 % in IEC 60062:2016, 3 % in older tables.
// Yellow: 0.02 % in IEC 60062:2016, 4 % or "0 to +100 %" in older ones. The new figure is used and the result says so.
//
// One summary of IEC 60062:2016 gives violet 0.5 % and grey 0.1 %; three other tables give violet 0.1 %, which is used.
//
// Grey and white as multiplier are 10⁸ and 10⁹; one table gives 0.01 and 0.1, an old American practice.
//
// # Sources
//
// - Digits, multipliers and tolerances: [iec-60062].
// - Series: [iec-60063].
// - Colours of the temperature coefficient, the failure-rate band, older tolerances: [memory].
// - Two-letter colour names: [iec-60757].
package bands
