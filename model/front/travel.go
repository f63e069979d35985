package front

import (
	"math"

	"loudfor/model/air"
)

// Travel. In a door a speaker works as in an infinite baffle. Fed with a
// constant voltage its cone moves as the second-order low-pass 1/|D|, its
// sound pressure as the high-pass (f/fs)^2/|D| of the same
//
//	D = 1 - (f/fs)^2 + j (f/fs)/Q
//
// (R. H. Small, Direct-radiator loudspeaker system analysis, 1972: the
// displacement and response functions of the closed box, of which the infinite
// baffle is the limit.) Pressure and travel are bound together by the piston,
// p = rho 2 pi f^2 Sd x/r with x rms, so that the sensitivity in the passband
// fixes the travel of 1 W at every frequency:
//
//	x_peak = sqrt 2 p_1W |H| / (2 pi rho Sd fs^2 |D|)
//
// with p_1W at 1 m and H the high-pass. The full sine may come at any
// frequency that the bass of music has, so the worst counts.

const (
	// LowestMusic is the lowest frequency at which music fills the voltage,
	// Hz: the lowest third-octave band of the music goal.
	LowestMusic = 31.5

	// travelGrid is the number of frequencies an octave that are tried; the
	// curve is smooth, and between two of them it rises less than 1 %.
	travelGrid = 12

	// highest frequency of music at which anybody looks for travel, Hz.
	highest = 20e3
)

var travelStep = math.Exp2(1.0 / travelGrid)

// TravelWatts is the power a side, W, into Load, at which the cone reaches
// Xmax at the worst frequency of music; what is not stated is assumed.
func (s Stage) TravelWatts() float64 { return s.complete(nil).travelWatts() }

func (s Stage) travelWatts() float64 {
	// 1 W at the worst frequency, relative to a constant voltage at 0 Hz.
	worst := 0.0
	// Above both corners the travel only falls.
	last := min(2*max(s.Fs, s.HighPass, LowestMusic), highest)
	for hz := LowestMusic; hz <= last; hz *= travelStep {
		worst = max(worst, s.motion(hz))
	}
	pressure := air.Pressure(s.Sensitivity)
	density := air.At(20).Density
	perRootWatt := math.Sqrt2 * pressure * math.Sqrt(worst) / (2 * math.Pi * density * s.Sd * s.Fs * s.Fs)
	ratio := s.Xmax / perRootWatt
	// NaN and overflow come of numbers that no speaker has.
	if watts := ratio * ratio; watts < boundless {
		return watts
	}
	return boundless
}

// boundless is a power that never limits, W.
const boundless = 1e12

// motion is |H|^2/|D|^2 at a frequency.
func (s Stage) motion(hz float64) float64 {
	u := hz / s.Fs
	real, imaginary := 1-u*u, u/doorQ
	return 1 / ((real*real + imaginary*imaginary) * s.highPassed(hz))
}

// highPassed is the power before the high-pass over that behind it, at a
// frequency: 1 + (corner/f)^(2 order), Butterworth; 1 without a filter.
func (s Stage) highPassed(hz float64) float64 {
	if s.HighPass <= 0 {
		return 1
	}
	corner, power := s.HighPass/hz, 1.0
	for range s.Order {
		power *= corner * corner
	}
	return 1 + power
}
