package preferred

import "math"

// The bass blocker: a capacitor in series with a speaker is a first-order
// high-pass, f = 1/(2 pi R C).

// BlockerSeries is what bipolar electrolytic capacitors are sold in.
const BlockerSeries = E6

// Blocker is the nearest capacitance, F, of BlockerSeries for a first-order
// high-pass at hz into a load in ohm; 0 when either is not positive and finite.
func Blocker(load, hz float64) float64 { return BlockerIn(load, hz, BlockerSeries) }

// BlockerIn is Blocker in another series.
func BlockerIn(load, hz float64, s Series) float64 { return Nearest(pair(load, hz), s) }

// Corner is the frequency, Hz, below which a capacitance in F keeps bass from
// a load in ohm: down by 3 dB there, by 6 dB more an octave below. 0 when
// either is not positive and finite.
func Corner(load, capacitance float64) float64 { return pair(load, capacitance) }

// pair solves 2 pi R C f = 1 for C or for f, whichever of them is missing.
func pair(load, other float64) float64 {
	result := 1 / (2 * math.Pi * load * other)
	if !(load > 0 && other > 0 && result > 0) || math.IsInf(result, 0) {
		return 0
	}
	return result
}
