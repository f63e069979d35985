package driver

import "math"

// The electrical side of a blocked voice coil. Above the bass the coil is not
// an ideal inductor: eddy currents in the pole piece shunt part of its flux.
// The LR-2 structure is used: Re + Le in series with L2 parallel R2 (M. Dodd,
// W. Klippel and J. Oclee-Brown, Voice Coil Impedance as a Function of
// Frequency and Displacement, AES convention 2004; from memory). It is the
// simplest network that is passive, has a finite inductance at zero frequency
// and a falling one above.
//
// A card gives one number, read near 1 kHz. Two further assumptions turn it
// into three: the shunted inductance equals the stated one, and its corner is
// near 500 Hz (common practice, no source; the spread of Le covers them). They
// make the inductance at bass frequencies 1.8 times the stated one, which is
// what the fall of about f^-0.3 that W. M. Leach (Loudspeaker Voice-Coil
// Inductance Losses, 2002; from memory) reports would make of it near 150 Hz.

const (
	// TemperatureCoefficient is the relative growth of the resistance of
	// copper for each kelvin above 20 C (IEC 60028).
	TemperatureCoefficient = 0.00393

	statedInductanceHz = 1000.0 // where cards state Le; common practice, no source
	shuntedShare       = 1.0    // L2 over the stated Le
	shuntCorner        = 500.0  // R2/(2 pi L2), Hz
	splitSpread        = 0.3    // relative standard deviation of the split

	// A stated Le is credible, and worth splitting, when Le/Re lies in this
	// range in seconds: car subwoofers run from 0.1 to 1.5 ms (common
	// practice, no source).
	leastCoilTime = 0.05e-3
	mostCoilTime  = 3e-3
)

// HotResistance is the resistance in ohm of one coil that is rise kelvin above
// 20 C.
func (d Driver) HotResistance(rise float64) float64 {
	return d.Re * (1 + TemperatureCoefficient*rise)
}

// CoilImpedance is the impedance in ohm of one blocked coil (no motion) at the
// angular frequency w in rad/s and rise kelvin above 20 C:
// Re(1 + 0.00393 rise) + j w Le + (j w L2 parallel R2).
//
// It is the coil's share with all coils of the driver carrying the same
// current, so that the mutual inductance is already in it: s coils in series
// have s times this impedance and p in parallel 1/p of it.
func (d Driver) CoilImpedance(w, rise float64) complex128 {
	re, im := d.HotResistance(rise), w*d.Le
	if d.L2 > 0 && d.R2 > 0 {
		x := w * d.L2 / d.R2
		re += d.R2 * x * x / (1 + x*x)
		im += d.R2 * x / (1 + x*x)
	}
	return complex(re, im)
}

// splitInductance turns a stated Le into the LR-2 triple that has exactly the
// stated inductance at the frequency where cards state it.
func splitInductance(stated float64) (le, l2, r2 float64) {
	l2 = shuntedShare * stated
	r2 = 2 * math.Pi * shuntCorner * l2
	x := statedInductanceHz / shuntCorner
	return stated - l2/(1+x*x), l2, r2
}
