package driver

import (
	"math"

	"loudfor/model/air"
)

// Efficiency and the level that follows from it. A driver in its pass band
// turns the fraction eta0 of the power it is given into sound; spread over a
// half sphere of one metre that is a level. The "112 dB" of the handbooks is
// nothing but rho, c and the reference pressure, and is computed here so that
// it moves with the temperature as everything else does.

// referenceVolts is the drive of the other customary sensitivity: 2.83 V is
// 1 W into 8 ohm (common practice, no source).
const referenceVolts = 2.83

// LevelOfWatt is the level in dB at 1 m of 1 W of sound radiated evenly into a
// half space: p^2 2 pi r^2/(rho c) = 1 W (L. Beranek and T. Mellow, Acoustics:
// Sound Fields and Transducers, chapter 1: intensity p^2/(rho c)).
// It is 112.2 dB at 20 C.
func LevelOfWatt(a air.Air) float64 {
	return air.Level(math.Sqrt(a.Density * a.SoundSpeed / (2 * math.Pi)))
}

// Efficiency is the reference efficiency eta0 = 4 pi^2 fs^3 Vas/(c^3 Qes), a
// ratio (R. H. Small, Direct-Radiator Loudspeaker System Analysis, 1972).
func (d Driver) Efficiency(a air.Air) float64 {
	c := a.SoundSpeed
	return 4 * math.Pi * math.Pi * d.Fs * d.Fs * d.Fs * d.Vas / (c * c * c * d.Qes)
}

// Sensitivity is the pass-band level in dB at 1 m, half space, with 1 W into
// the resistance of the coils.
func (d Driver) Sensitivity(a air.Air) float64 {
	return LevelOfWatt(a) + 10*math.Log10(d.Efficiency(a))
}

// Load is the nominal impedance in ohm of the whole driver with its coils
// joined with series of them in each string and the strings in parallel.
// It panics if series does not divide Coils.
func (d Driver) Load(series int) float64 { return d.CoilLoad * d.share(series) }

// share is the load of the driver in loads of one coil: s in series, C/s
// strings in parallel.
func (d Driver) share(series int) float64 {
	if series < 1 || d.Coils%series != 0 {
		panic("driver: coils cannot be joined so that every coil is treated alike")
	}
	return float64(series) * float64(series) / float64(d.Coils)
}
