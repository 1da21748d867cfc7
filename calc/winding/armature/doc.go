// Package armature reads a row of bar-to-bar readings around a commutator: an open coil, a bad joint, a shorted
// coil, all alike, or cannot tell.
//
// # Method
//
// The coils of an armature make one closed ring, and each bar is a point on it. An ohmmeter
// between neighbouring bars sees p coils one way and all others the other way: in a lap winding p is 1, in a wave
// winding p is half the number of poles. With N bars and r ohms a coil a sound one reads r·p·(N − p)/N everywhere.
//
// What is judged is not the figure but the pattern, against the median of all readings:
//
// - One coil open: p places read what is left of the ring, (N − p)·r; N − 1 times as much as the others in a lap winding, never endless unless two coils are open.
// - One bar off its wires: the two places at that bar are high or endless, both alike.
// - A joint of some ohms: a place some tenths above the rest.
// - One coil shorted: p places low, near nothing in a lap winding, half the rest in a wave winding of four poles.
//
// With a steady current fed to two bars a half turn apart (lap) or a pole pitch apart (wave), and millivolts read from
// bar to bar, the pattern differs: an open coil takes all of the drop in its path, so that it reads high and the others of its path
// read nothing. Nothing there is no short. The two bars that are fed are simple ends and not judged apart.
//
// # Where it holds
//
// Simplex windings of brushed motors, armature out or brushes lifted, commutator clean, all readings in one go round, in order. A coil of
// a hand tool has some tenths of an ohm to a few ohms, a starter's only milliohms, which a two-lead ohmmeter does not read.
//
// # Where it misleads
//
// The meter's last figure counts: coils of three steps or less cannot be judged. Feed a steady current of 1 A from a limited supply and read millivolts.
//
// One shorted turn of twenty takes 5 %, less than contact and dirt do. All alike never means
// good: a growler, or the current and sparking under load, tells of turns. Nor does it show a short to the shaft: test each bar to the shaft, and the insulation.
//
// Two coils to a slot are not quite alike. A pattern that repeats every second or third bar is how it was wound.
//
// A dirty groove between two bars bridges them: low there. Scrape it clean before calling a coil shorted.
//
// One burnt bar each half turn points to an open coil there, and so does a spark that runs around.
//
// # Sources disagree
//
// An army manual has joints welded anew from 10 % above the average, and calls half a per cent below the average a shorted coil. It
// speaks of a locomotive's machine of 20 and more connections, read from one bar to the shaft: no rule for the small armature
// of a tool, read from bar to bar. Here the bound is settable, 10 % both ways to begin with, as a first guess of the trade.
//
// A training sheet of the fleet promises an off-scale reading for an open coil. That holds for millivolts with a fed current;
// an ohmmeter on a lap winding shows N − 1 coils in series, a finite figure.
//
// # Sources
//
// - Patterns: lap, one zero or very low reading for each shorted coil, one high reading between several zeros for each open one; wave, P/2 of each: [navy-251-36].
// - 10 % above the average for joints, half a per cent below for shorts, of traction armatures of 20 and more bars, measured from one bar to the shaft: [tm-55-2210-223-34]. From bar to bar on a small armature it is a first guess; contact and temperature make more: [practice].
// - Ring of resistances: [own], and by [ngspice] in the tests.
package armature
