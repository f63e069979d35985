package uncertainty

import (
	"math"
	"testing"
)

// TestHalfWidth: nine in ten of numbers spread evenly from 20 to 30 lie within 4.5 of
// the middle; of three, what lies between is on the line between neighbours.
func TestHalfWidth(t *testing.T) {
	var even []float64
	for i := range 1001 {
		even = append(even, 20+float64((i*389)%1001)/100) // in disorder
	}
	for _, c := range []struct {
		sample []float64
		want   float64
	}{{even, 4.5}, {[]float64{7, 7, 7}, 0}, {[]float64{100, 102, 101}, 0.9}, {[]float64{50}, 0}} {
		if got := HalfWidth(c.sample); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%d numbers: %g, want %g", len(c.sample), got, c.want)
		}
	}
	if even[0] != 20 || even[1] != 23.89 {
		t.Error("the sample was changed")
	}
}
