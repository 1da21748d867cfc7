package rectifier

// The textbooks' and makers' rules: what the solved circuit is compared with.

// RippleEstimate is the textbook ripple in volts, peak to peak: a constant current
// in amperes draws farads down from one charge to the next, charges times a
// second (twice the mains frequency for full wave).
func RippleEstimate(amps, charges, farads float64) float64 { return amps / (charges * farads) }

// CapacitorFor is the same the other way round: the farads for a ripple in volts,
// C = I / (2 f U) for full wave. Standard constant-current discharge.
func CapacitorFor(amps, charges, ripple float64) float64 { return amps / (charges * ripple) }

// Amperes of DC for one RMS ampere of the winding, capacitor input. Hammond
// Manufacturing, design guide for rectifier use.
const HalfWaveShare, CentreTapShare = 0.28, 1.00

// BridgeFactor is the RMS amperes of a winding for one ampere of DC behind a
// bridge. Common practice, no source.
const BridgeFactor = 1.8

// FullLoadVolts is the mean DC at full load that the same guide promises for an
// AC voltage: of the winding for a half wave, of one half of it for a centre tap
// (whose table counts end to end).
func FullLoadVolts(centreTap bool, ac float64) float64 {
	if centreTap {
		return 0.45 * (2 * ac)
	}
	return 0.90 * ac
}

// HalfWaveWinding is the winding for a half wave with capacitor: its RMS volts and
// amperes and its volt-amperes for DC volts and amperes, with one volt for the
// diode. ATC-Frost Magnetics, method of determining secondary current ratings in
// DC circuits.
func HalfWaveWinding(volts, amps float64) (ac, rms, va float64) {
	return 0.88 * (volts + 1), 2.6 * amps, 2.3 * (float64(volts*amps) + float64(1*amps))
}

// CentreTapWinding is the same for a full wave with centre tap: RMS volts from end
// to end, and RMS amperes.
func CentreTapWinding(volts, amps float64) (endToEnd, rms float64) {
	return 1.7 * (volts + 1), 1.2 * amps
}
