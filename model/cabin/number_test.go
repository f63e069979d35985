package cabin

import (
	"math"
	"testing"

	"loudfor/model/air"
)

// Along each edge every axial mode up to the top is there, and none above it: the
// n-th of rigid walls l apart is at n c / 2 l (Kuttruff, Room Acoustics).
func TestNumberOfModes(t *testing.T) {
	c := Cavity{Length: 2.4, Width: 1.36, Height: 1.12, Air: air.At(20)}
	for _, top := range []float64{100, 600, 1000} {
		m := c.modes(top, nil)
		for axis, l := range c.lengths() {
			at := func(n int) float64 { return float64(n) * c.Air.SoundSpeed / (2 * l) }
			if last := m.number[axis] - 1; at(last) > top || at(last+1) <= top {
				t.Errorf("up to %g Hz along %g m: %d modes, of %.1f Hz and, left out, %.1f Hz", top, l, last, at(last), at(last+1))
			}
		}
	}
}

// A mode far above the frequencies asked for is left to the static remainder, with
// an error of (f/f_n)^2 of its share; so what is summed goes up to 600 Hz, and to two
// and a half times the highest frequency.
func TestModesReachFarEnough(t *testing.T) {
	c := Cavity{Length: 2.4, Width: 1.36, Height: 1.12, Air: air.At(20)}
	for highest, least := range map[float64]float64{100: 600, 240: 600, 400: 1000} {
		s := c.system(Patch{}, Patch{}, nil, 1, []float64{20, highest, 50})
		above := float64(s.modes.number[0]) * c.Air.SoundSpeed / (2 * c.Length)
		if above <= least || above > least+c.Air.SoundSpeed/(2*c.Length)+1e-9 || math.IsNaN(above) {
			t.Errorf("up to %g Hz: the first mode left out is at %.1f Hz, want it just above %g Hz", highest, above, least)
		}
	}
}
