// Package circuit draws a device's chain as the circuit it is: blocks on a wire
// from plug to work done, ways side by side, and the conductor back. On it stand
// the suspicion of each block, what a test reaches, where the meter's probes go,
// and what is behind the cover that is opened next.
//
// One layout serves both sizes. A Chain is a row of parts, each a block or a
// group of ways. The row is laid into columns; where they end the wire turns and
// runs back below (wide: 7 columns of 120 by 92, pocket: 4 of 63 by 60, for a
// telephone). Within a group each way has its own lanes; entry and exit of the
// group are nodes in the gaps between columns, so that every line down runs
// where no block is.
//
//	L --[plug]--[cord]--o--[switch]--[element]--o--.
//	                    '--[thermal link]-------'  |      lanes of a group
//	N ---------------------------------------------'      the way back
//
// Drawings carry classes and places only; colour and stroke come from the
// stylesheet, so that dark pages, paper and forced colours need no other
// drawing. Every drawing says itself in words (title and description). Widths of
// letters are reckoned for a face of normal width (.7 em), so that no label
// leaves its block whatever face a machine has.
package circuit
