package chart

import (
	"fmt"
	"math"
)

// Octaves are the nominal third-octave centres of IEC 61260 around the bass
// range: the frequencies that people in audio know by heart.
var Octaves = []float64{5, 6.3, 8, 10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500}

// Frequencies is an axis from the first to the last frequency with those of the
// marks that lie on it.
func Frequencies(first, last float64, marks []float64) Axis {
	a := Axis{Label: "frequency, Hz", Unit: "Hz", Log: true, From: first, To: last}
	if a.To <= a.From {
		a.From, a.To = first*0.9, first*1.1
	}
	for _, hz := range marks {
		if onAxis(hz, first, last) {
			a.Ticks = append(a.Ticks, Tick{hz, fmt.Sprintf("%g", hz)})
		}
	}
	return a
}

// onAxis tells whether a frequency lies on an axis, but for rounding.
func onAxis(hz, first, last float64) bool { return hz >= first*0.999 && hz <= last*1.001 }

// Levels is an axis of whole steps around two levels, dB.
func Levels(low, high float64, words func(db float64) string) Axis {
	step := levelStep(low, high)
	a := Axis{Label: "level, dB", Unit: "dB", From: math.Floor(low/step) * step, To: math.Ceil(high/step) * step}
	if a.To-high < 0.2*step {
		a.To += step
	}
	a.To = max(a.To, a.From+step)
	for db := a.From; db <= a.To; db += step {
		a.Ticks = append(a.Ticks, Tick{db, words(db)})
	}
	return a
}

// levelStep is how far the lines of a level axis stand apart, dB.
func levelStep(low, high float64) float64 {
	switch span := high - low; {
	case span <= 8:
		return 1
	case span <= 16:
		return 2
	case span <= 40:
		return 5
	}
	return 10
}

// Sums is an axis of money with about so many round sums, none closer together
// than least.
func Sums(low, high, ticks, least float64, words func(sum float64) string) Axis {
	a := Axis{From: low, To: high}
	step := max(least, roundStep((high-low)/ticks))
	for sum := math.Ceil(low/step) * step; sum <= high; sum += step {
		a.Ticks = append(a.Ticks, Tick{sum, words(sum)})
	}
	return a
}

// roundStep is the next of 1, 2, 5, 10 ... times a power of ten.
func roundStep(least float64) float64 {
	if !(least > 0) {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(least)))
	for _, f := range []float64{1, 2, 5} {
		if f*power >= least {
			return f * power
		}
	}
	return 10 * power
}
