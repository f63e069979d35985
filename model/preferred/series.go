// Package preferred picks component values that can be bought: the series of
// preferred numbers of IEC 60063, and the capacitor that keeps bass from a
// small speaker.
//
//	preferred.Nearest(265e-6, preferred.E6)          // 220 uF
//	c := preferred.Blocker(4, 150)                   // 220 uF in series with 4 ohm
//	preferred.Corner(4, c)                           // blocks below 181 Hz
//
// Limits: Corner holds for a load that is a resistor. A speaker is none: near
// its resonance its impedance is several times nominal, and the capacitor
// blocks less there than the slope of 6 dB an octave promises.
package preferred

import "math"

// Series is a series of preferred numbers of IEC 60063: its steps per decade.
type Series int

const (
	E3  Series = 3  // steps of more than double: large electrolytic capacitors
	E6  Series = 6  // for parts of 20 %: electrolytic capacitors
	E12 Series = 12 // for parts of 10 %: film capacitors, coils
	E24 Series = 24 // for parts of 5 %: resistors
)

// tenths lists E24 of IEC 60063 in tenths. The values are historical: some
// (27 to 47, and 82) are not the rounded powers of the step. The
// coarser series are its every second, fourth and eighth member.
var tenths = [...]int{10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91}

// Values lists one decade of the series, from 1 up to below 10; nil for a
// series that IEC 60063 does not have here.
func Values(s Series) []float64 {
	switch s {
	case E3, E6, E12, E24:
	default:
		return nil
	}
	var values []float64
	for i := 0; i < len(tenths); i += len(tenths) / int(s) {
		values = append(values, float64(tenths[i])/10)
	}
	return values
}

// Nearest is the preferred value nearest to value by ratio (to 20 both 10 and
// 40 are equally near), the smaller one of two that are equally near. It is 0
// for a value that is not positive and finite, and for an unknown series.
func Nearest(value float64, s Series) float64 {
	low, high, ok := around(value, s)
	switch {
	case !ok:
		return 0
	case high/value < value/low:
		return high
	}
	return low
}

const (
	// onValue is how near a value counts as preferred itself: it guards
	// against the rounding of decimal powers.
	onValue = 1e-9

	// Beyond these, a decade up or down leaves the range of the numbers.
	smallest, largest = 1e-300, 1e300
)

// around gives the preferred values on either side of value.
func around(value float64, s Series) (low, high float64, ok bool) {
	decade := Values(s)
	if decade == nil || !(value >= smallest && value <= largest) {
		return 0, 0, false
	}
	power := int(math.Floor(math.Log10(value)))
	for p := power; p <= power+1; p++ {
		for _, v := range decade {
			candidate := scale(v, p)
			if candidate <= value*(1+onValue) {
				low = candidate
			}
			if high == 0 && candidate >= value*(1-onValue) {
				high = candidate
			}
		}
	}
	return low, high, true
}

// scale is v x 10^p, dividing for negative p because 10^-6 is not exact in
// binary and 10^6 is: 2.2 x 10^-4 then prints as 0.00022.
func scale(v float64, p int) float64 {
	if p < 0 {
		return v / math.Pow10(-p)
	}
	return v * math.Pow10(p)
}
