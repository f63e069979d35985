package front

import (
	"math"
	"testing"
)

// TestPriorsOfASize holds what is assumed of a size against speakers of other sizes than
// that which the formulas start from, and against the range of all: 78 to 95 dB at 1 W
// and 1 m (common practice, no source).
func TestPriorsOfASize(t *testing.T) {
	oval := math.Sqrt(0.15 * 0.23)
	for _, c := range []struct {
		prior              prior
		size, want, within float64
	}{
		{sensitivityPrior, 0.1, 86, 0.5}, {sensitivityPrior, oval, 90, 0.5}, {fsPrior, 0.1, 107, 0.5},
		// A cone of 0.78 x 165 mm: 130 cm2.
		{sdPrior, 0.165, 0.01301, 1e-5},
	} {
		if got := c.prior.value(c.size); math.Abs(got-c.want) > c.within {
			t.Errorf("%s of %g m: %g, want %g", c.prior.quantity, c.size, got, c.want)
		}
	}
	for mm := 10; mm <= 500; mm++ {
		if s := sensitivityPrior.value(float64(mm) / 1000); s < 78 || s > 95 {
			t.Errorf("%d mm: %g dB", mm, s)
		}
	}
}
