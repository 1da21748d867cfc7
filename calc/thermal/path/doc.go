// Package path follows the heat from a semiconductor's junction to the air: how hot junction, case and sink
// get, and which heat sink is needed.
//
// # Method
//
// Heat flows as current does: each step gets hotter by the watts times its thermal resistance. The junction is at the air's
// temperature plus P times the sum of junction to case, case to sink and sink to air.
//
// Without a sink the one resistance junction to air of the package stands for all.
//
// The sink needed is what is left of (highest junction less air) over P, less the other two. A
// measured case temperature gives the junction at once: case plus P times junction to case.
//
// # Where it holds
//
// Steady heat, one part on the sink, air that stays as warm as entered.
//
// # Where it misleads
//
// The air is that at the sink. Inside a closed case it is 10 to 30 K above the room.
//
// A sink's number holds for its watts and its fins upright in free air: lying flat, dusty or at few watts it is worse.
//
// Junction to case is the package's best figure; a part on a board relies on its copper, from 40 to over 90 K/W.
//
// Several parts on one sink add their watts there, though each has its own junction to case.
//
// A sink that is cool under a hot part tells of a bad joint: no paste, a loose screw, a torn pad. Paste that dried counts.
//
// The tab is often live. Insulate it, and measure to the sink before switching on.
//
// # Sources
//
// - All worked chains: [own watts times K/W].
// - Copper of a board 47 to 103 K/W for TO-252: [lm78m05].
package path
