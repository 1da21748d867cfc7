// Package plate reads a rating plate: from the volts and one or two of watts, volt-amperes, amperes and
// power factor it gives the others.
//
// # Method
//
// Volt-amperes are volts times amperes; watts are volt-amperes times the power factor, which is never above one.
// So the volts and two of the rest give all. With one of the rest alone the power factor must be entered
// or is unknown, and only bounds can be said: watts are at most the volt-amperes, amperes at least watts over volts.
//
// A motor's plate that gives horsepower or kilowatts of output states what the shaft gives. Divided by
// the efficiency that is the watts it takes.
//
// The ohms that V²/P gives are set beside it: those of a heater, and only of a heater.
//
// # Where it holds
//
// Single-phase AC, RMS values, at the rated load; DC with a power factor of one.
//
// # Where it misleads
//
// A plate states the most, with margins: a supply marked 2 A may draw 0.3 A on the bench. Less than its plate is no fault.
//
// Volts times amperes are not watts. The amperes of a switch-mode supply without correction, or of a small
// motor, are nearly twice what its watts suggest, and fuse and cord feel the amperes.
//
// Two ranges on a plate, such as 220–240 V and 1850–2200 W, belong together end by end and are computed so: one heater,
// not every mixture of the four numbers.
//
// Horsepower printed on vacuum cleaners and hand tools is often the most it ever gave for a moment, and can
// be more than its cord can carry.
//
// Efficiency reckoned from volts times amperes comes out absurdly low, since that leaves the power factor out.
//
// # Sources
//
// - P = V·I·(power factor), and the same with horsepower of 746 W and efficiency: [own].
// - 800 W and 8.0 A at 120 V: [knight-physics chapter 32, problem 67].
// - Usual power factors of kinds of load, amperes of motors by horsepower at an efficiency of 50 %: [memory].
package plate
