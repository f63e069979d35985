package hearing

import "math"

// The A-weighting by its defining formula, exact at every frequency, instead
// of a table of rounded values.

// Pole frequencies of the A-weighting, Hz (IEC 61672-1, annex E).
const (
	pole1 = 20.598997
	pole2 = 107.65265
	pole3 = 737.86223
	pole4 = 12194.217
)

// silent is what AWeight gives where the formula has no finite value, dB.
const silent = -400.0

// AWeight is the A-weighting in dB at a frequency in Hz, 0 dB at 1 kHz
// (IEC 61672-1, equation E.6). A frequency that is not positive, or not finite, is not heard:
// -400 dB.
func AWeight(hz float64) float64 {
	return max(silent, 20*math.Log10(response(hz)/response(1000)))
}

func response(hz float64) float64 {
	if !(hz > 0) || math.IsInf(hz, 1) {
		return 0
	}
	square := func(v float64) float64 { return v * v }
	// Each factor is finite at any frequency: f/sqrt(f^2+p^2) and its like.
	high := square(hz/math.Hypot(hz, pole1)) * (hz / math.Hypot(hz, pole2)) * (hz / math.Hypot(hz, pole3))
	low := square(pole4 / math.Hypot(hz, pole4))
	return high * low
}

// Weighted is the A-weighted level in dBA of a tone of a level in dB.
func Weighted(level, hz float64) float64 { return level + AWeight(hz) }
