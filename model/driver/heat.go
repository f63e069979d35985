package driver

import "math"

// Heat of the voice coil. The rated continuous power is taken to be the power
// that, dissipated in the coils for good, brings them to RatedRise. That gives
// the thermal resistance of the driver without any datum that cards do not
// state. Coil and magnet really are two bodies with two time constants; the
// one constant here is that of the coil, which governs bursts of seconds; the
// slow one of the magnet (many minutes) is inside the steady value.

const (
	// RatedRise is the coil's rise above ambient in kelvin at rated
	// continuous power: about what glue and former stand for good (common
	// practice, no source).
	RatedRise = 180.0

	// HeatTimeSpread is the relative standard deviation of HeatTime (VaryLarge).
	HeatTimeSpread = 0.4
)

// HeatResistance is the thermal resistance in K/W from the coils of the whole
// driver to the ambient: RatedRise over Power. Multiply by the power
// dissipated in all its coils.
func (d Driver) HeatResistance() float64 { return RatedRise / d.Power }

// HeatTime is the thermal time constant in seconds of the coil, from a prior
// by size class (common practice, no source; HeatTimeSpread): a burst of t
// seconds reaches 1 - exp(-t/HeatTime) of the steady rise.
func (d Driver) HeatTime() float64 { return priorAt(d.Size).heatTime * (1 + d.MoreHeatTime) }

// HeatShare is the fraction of the steady rise reached after a burst of that
// many seconds; 1 for a steady tone (+Inf), 0 for none.
func (d Driver) HeatShare(seconds float64) float64 {
	if !(seconds > 0) {
		return 0
	}
	return -math.Expm1(-seconds / d.HeatTime())
}
