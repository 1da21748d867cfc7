// Package regulator computes the heat in a linear regulator, whether it holds, and where its volts end.
//
// # Method
//
// A linear regulator turns the volts that it drops into heat: (in − out) times the load current, plus the input volts times its
// own current. The junction follows from the thermal resistances to the air.
//
// The input at its lowest (mains low, valley of the ripple) must stay above the output by the dropout, else
// the output sags and hums. Heat goes by its mean.
//
// The most current is what brings the junction to its highest.
//
// # Where it holds
//
// Series regulators of three terminals and pass transistors, steady load. Enter the mean DC volts at the regulator's input, measured under load.
//
// # Where it misleads
//
// At its limit a regulator does not die but shuts down, cools and tries again: volts that come and go with a rhythm
// of seconds are heat, or a shorted load.
//
// The input volts fall under load. Reckoned from the off-load volts the heat comes out far too high.
//
// More mains is more heat: 10 % more at the input may be a third more in the regulator.
//
// A tab is not always ground: it is on a 7805, the output on an LM317, the input on a 7905. Insulate it from a sink that touches the case.
//
// Replacing it by one of lower dropout does not lessen the heat. Only fewer volts in, or a switching regulator, does.
//
// # Sources disagree
//
// Junction to air of TO-220 without sink: 50 K/W (a rule in use), 60 K/W (data sheet LM78M05, where up to there no sink is needed), 62 K/W (from memory).
// One answer on the web takes 20 K/W without a sink, which is that of a small sink: 65 °C there, 149 °C by 62 K/W.
//
// # Sources
//
// - P = (in − out)·I + in·I_own, and the highest K/W as rise over P; highest junction 125 °C: [lm78m05].
// - Worked examples: [own the same sum].
// - Dropout of 2 V for common types: [memory].
package regulator
