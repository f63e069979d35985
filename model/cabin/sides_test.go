package cabin

import (
	"math/cmplx"
	"testing"

	"loudfor/model/air"
)

// Two sides alike are solved as one; sides that differ by a hair, in whatever makes an
// opening, are not, and give the same. The order of the openings is nothing to either.
func TestAlikeSides(t *testing.T) {
	const hair = 1e-7 // m or rad, far above rounding
	c := Cavity{Length: 2.5, Width: 1.4, Height: 1.1, Air: air.At(20), Admittance: 0.03, Exponent: 1, Ground: 0.2}
	door := Opening{Wall: Left, U: 0.3, V: 0.05, Width: 0.9, Height: 0.9, Leaf: Left.Usual()}
	window := Opening{Wall: Left, U: 1.4, V: 0.5, Width: 0.6, Height: 0.4}
	other := func(o Opening) Opening { o.Wall = Right; return o }
	unlike := func(change func(*Opening)) Opening {
		o := other(door)
		change(&o)
		return o
	}
	low := unlike(func(o *Opening) { o.Height -= hair })
	moved := unlike(func(o *Opening) { o.U += hair })
	turned := unlike(func(o *Opening) { o.Leaf.Angle += hair })
	source, ear := Patch{Center: Point{2.2, 0.6, 0}, Size: Point{0.2, 0.2, 0}}, Patch{Center: Point{0.4, 1.1, 0.7}}
	hz := []float64{22, 37, 48, 61, 90}
	for name, sets := range map[string][2][]Opening{
		"doors":               {{other(door), door}, {door, low}},
		"a door farther back": {{other(door), door}, {moved, door}},
		"a door farther open": {{other(door), door}, {door, turned}},
		"doors and windows":   {{door, window, other(window), other(door)}, {door, low, window, other(window)}},
	} {
		if _, ok := paired(sets[0]); !ok {
			t.Fatalf("%s: the sides are alike", name)
		}
		if _, ok := paired(sets[1]); ok {
			t.Fatalf("%s: the sides differ", name)
		}
		one, both := c.tiled(1, hz, source, ear, sets[0], coarse), c.tiled(1, hz, source, ear, sets[1], coarse)
		for i := range hz {
			if d := cmplx.Abs(one.Transfer[i]/both.Transfer[i] - 1); d > 1e-5 {
				t.Errorf("%s: %g Hz: the pressure is %g off", name, hz[i], d)
			}
			if d := cmplx.Abs(one.Back[i]-both.Back[i]) / cmplx.Abs(both.Back[i]); d > 1e-5 {
				t.Errorf("%s: %g Hz: the back-action is %g off", name, hz[i], d)
			}
		}
	}
	if _, ok := paired([]Opening{door, other(door), {Wall: Rear, Width: 0.5, Height: 0.3}}); ok {
		t.Error("a lid at the rear has no image")
	}
}
