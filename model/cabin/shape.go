package cabin

import "math"

// ShapeTerms is how many terms the smooth error of a car has.
const ShapeTerms = 5

// shape is the part of the error that no box can have: a smooth random curve
// in dB over the logarithm of frequency, of unit variance at every frequency.
// A constant and the first harmonics of a four-octave period make its
// neighbourhood about an octave wide: a car differs from a box in broad humps,
// not from one twelfth of an octave to the next.
type shape [ShapeTerms]float64 // standard deviations of the terms below

// shapeOctaves is the period; it spans 20 to 320 Hz.
const shapeOctaves = 4

// The variances of the constant and of the two harmonics; their sum is one.
const (
	shapeLevel  = 0.4
	shapeSlow   = 0.35
	shapeFaster = 0.25
)

// at is the curve at a frequency, for a spread of one.
func (s shape) at(hz float64) float64 {
	x := 2 * math.Pi * math.Log2(hz/20) / shapeOctaves
	return math.Sqrt(shapeLevel)*s[0] +
		math.Sqrt(shapeSlow)*(s[1]*math.Cos(x)+s[2]*math.Sin(x)) +
		math.Sqrt(shapeFaster)*(s[3]*math.Cos(2*x)+s[4]*math.Sin(2*x))
}

// factor is the pressure ratio of the curve at a frequency for a spread in dB.
func (s shape) factor(hz, spread float64) complex128 {
	return complex(math.Pow(10, spread*s.at(hz)/20), 0)
}
