package cabin

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A flat piston's mean with itself is that of two spans in one place, which the
// general formula takes for points that are all but in one place.
func TestClosedSelf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(0.3, 6).Draw(t, "length")
		at := rapid.Float64Range(0, 1).Draw(t, "at") * length
		g := rapid.Float64Range(0.1, 200).Draw(t, "g")
		a := span{at, at}
		y := a.lo + 1e-12
		got, want := closedMean(a, a, length, g), closedMean(a, span{y, y}, length, g)
		if math.Abs(got/want-1) > 1e-8 {
			t.Fatalf("%g, beside it %g", got, want)
		}
		// The closed form itself: cosh(g y) cosh(g (L - y)) / (g sinh(g L)).
		if g*length < 300 {
			plain := math.Cosh(g*at) * math.Cosh(g*(length-at)) / (g * math.Sinh(g*length))
			if math.Abs(got/plain-1) > 1e-9 {
				t.Fatalf("%g, in plain %g", got, plain)
			}
		}
	})
}
