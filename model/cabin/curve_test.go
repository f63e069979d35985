package cabin

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestCurveAt: a measured curve goes through its points, straight over the logarithm
// of frequency between two of them, and holds its ends.
func TestCurveAt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "points")
		c := &Curve{Hz: make([]float64, n), Gain: make([]float64, n)}
		f := rapid.Float64Range(10, 40).Draw(t, "first")
		for i := range n {
			c.Hz[i], c.Gain[i] = f, rapid.Float64Range(-20, 20).Draw(t, "gain")
			f *= rapid.Float64Range(1.05, 2).Draw(t, "step")
		}
		for i := range n {
			if got := c.at(c.Hz[i]); math.Abs(got-c.Gain[i]) > 1e-9 {
				t.Fatalf("%v: %g at point %d", c, got, i)
			}
			if i == 0 {
				continue
			}
			share := rapid.Float64Range(0, 1).Draw(t, "share")
			got := c.at(c.Hz[i-1] * math.Pow(c.Hz[i]/c.Hz[i-1], share))
			if want := (1-share)*c.Gain[i-1] + share*c.Gain[i]; math.Abs(got-want) > 1e-7 {
				t.Fatalf("%v: %g, %g of the way to point %d: %g", c, got, share, i, want)
			}
		}
		if low, high := c.at(c.Hz[0]/2), c.at(c.Hz[n-1]*2); low != c.Gain[0] || high != c.Gain[n-1] {
			t.Fatalf("%v: beyond its ends %g, %g", c, low, high)
		}
	})
}
