// Package air gives the properties of the medium that everything in model
// radiates into, and the sound pressure scale.
//
//	a := air.At(20)         // 20 degrees Celsius
//	a.Density, a.SoundSpeed // 1.204 kg/m3, 343.2 m/s
//	air.Level(1)            // 94 dB: the level of 1 Pa rms
//
// It treats air as a dry ideal gas at one standard atmosphere: altitude and
// humidity (below 0.3 % in the speed of sound) are left out.
package air

import "math"

const (
	// ReferencePressure is 20 uPa rms, the zero of the sound pressure level
	// (ISO 1683, IEC 61672-1).
	ReferencePressure = 20e-6

	// StandardPressure is the standard atmosphere, Pa (ISO 2533).
	StandardPressure = 101325

	// HeatRatio is the ratio of specific heats of air, gamma.
	HeatRatio = 1.4

	// gasConstant is the specific gas constant of dry air, J/(kg K)
	// (ISO 2533: 287.05287).
	gasConstant = 287.05287

	zeroCelsius = 273.15
)

// Air is the medium at one temperature.
type Air struct {
	Density    float64 // kg/m3
	SoundSpeed float64 // m/s
}

// At gives dry air at a temperature in degrees Celsius and standard pressure:
// rho = P/(R T), c = sqrt(gamma R T) (L. Beranek and T. Mellow, Acoustics:
// Sound Fields and Transducers, chapter 1).
func At(celsius float64) Air {
	t := celsius + zeroCelsius
	return Air{
		Density:    StandardPressure / (gasConstant * t),
		SoundSpeed: math.Sqrt(HeatRatio * gasConstant * t),
	}
}

// Level is the sound pressure level in dB of an rms pressure in Pa.
func Level(pressure float64) float64 {
	return 20 * math.Log10(pressure/ReferencePressure)
}

// Pressure is the rms pressure in Pa of a sound pressure level in dB.
func Pressure(level float64) float64 {
	return ReferencePressure * math.Pow(10, level/20)
}
