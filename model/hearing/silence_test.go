package hearing

import (
	"math"
	"testing"
)

// What cannot be heard has the weight that the documentation names.
func TestSilence(t *testing.T) {
	for _, hz := range []float64{0, -50, math.Inf(1), math.NaN(), 1e-9} {
		if got := AWeight(hz); got != -400 {
			t.Errorf("at %g Hz: %g dB", hz, got)
		}
	}
}
