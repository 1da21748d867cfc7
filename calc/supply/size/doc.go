// Package size is the calculator "transformer-size": which transformer and reservoir capacitor give
// wanted DC volts and amperes.
//
// # Method
//
// The steady state of the rectifier and its capacitor is solved as on the page of the rectifier, and the transformer is
// sought for which it gives what is wanted. Its own resistance follows from its size by the law of
// regulation, so size, volts and resistance are found together: the RMS current of the winding times its loaded
// volts are the volt-amperes, and these say how far it falls.
//
// Plain: the mean DC at full load is the wanted one. Before a linear regulator: the lowest volts between two
// charges are the wanted output plus the dropout, with the mains at its lowest.
//
// The capacitor is the one with which the ripple at full load is the share entered.
//
// Without a capacitor the mean of the rectified sine less the diodes is the wanted one, and the current follows the
// load: 1.11 times the DC for a bridge.
//
// Beside it stands a maker's rule: volts, amperes and volt-amperes by factors.
//
// # Where it holds
//
// Mains transformers of some VA up to about a kVA, silicon or Schottky diodes, and a load that takes a constant current.
//
// # Where it misleads
//
// A label gives volts at its rated load, with a resistor. Off load it is higher by the regulation, and the capacitor
// must stand that peak at the highest mains.
//
// The RMS current of the winding is 1.6 to 2.2 times the DC. A transformer chosen by the DC amperes runs hot.
//
// Less ripple is not better for the transformer: a larger capacitor makes narrower and higher pulses.
//
// Regulation varies by half either way between makes. Enter it from the data sheet where there is one.
//
// An audio amplifier draws its full current for moments only; half the size is usual there.
//
// # Sources disagree
//
// Bridge with a capacitor, RMS amperes for one ampere of DC: 1.8 (the makers' rule here), 1/0.62 = 1.61 in another maker's guide, as the solved
// cases have it for small transformers; larger ones with less resistance have 2 and more.
//
// # Sources
//
// - Makers' factors: [atc-frost]; for the bridge with a capacitor as a toroid maker reprints them: 0.8 · (V + 2), 1.8 · I, 1.4 · (W + 2 · I): [petra-toroid].
// - I_dc = 0.62 I_ac for a bridge with capacitor: [hammond-guide].
// - The law of regulation by size, and 10 % less mains: [memory].
// - Mean and RMS of a rectified sine: [own].
package size
