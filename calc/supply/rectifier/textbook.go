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
