package cabin

import (
	"math"
	"math/cmplx"
	"testing"

	"loudfor/model/air"
)

// TestPanels holds the first-order panels against a full solve of the shut small
// car of testdata/open-doors.json with all sides, roof and rear giving way at one
// frequency, a tenth of them moving (the change of the level at the dash,
// computed for this project).
func TestPanels(t *testing.T) {
	// To first order; the more of a panel moves, the more its dip is overdone.
	overdone := map[float64]float64{0.1: 0.6, 0.3: 2} // dB
	c := Cavity{Length: 2.5, Width: 1.3, Height: 1.1, Admittance: 0.04226, Air: air.Air{Density: 1.204, SoundSpeed: 343.2}}
	hz := []float64{20, 25, 30, 35, 40, 46, 50, 60, 70, 80}
	source, dash := Piston(Point{2.125, 0.65, 0.325}, 0.0025), Point{0.225, 0.925, 0.775}
	plain, err := c.Respond(hz, source, dash, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		resonance, share float64
		want             []float64
	}{
		{25, 0.1, []float64{-2.9, -5.4, 1.5, 0.8, 0.3, 0.0, -0.2, -0.7, 0.3, 0.7}},
		{25, 0.3, []float64{-6.4, -13.7, 0.4, 2.5, 1.2, 0.1, -0.4, -1.8, -0.1, 2.2}},
		{40, 0.1, []float64{-0.6, -0.7, -0.9, -1.2, -2.3, -0.3, -0.5, -1.1, 0.2, 0.8}},
		{40, 0.3, []float64{-1.8, -2.0, -2.2, -2.6, -8.0, -0.8, -0.9, -2.6, -0.9, 2.5}},
		{60, 0.1, []float64{-0.2, -0.3, -0.2, -0.2, -0.2, 0.0, 0.2, -4.1, -1.6, 1.2}},
		{60, 0.3, []float64{-0.7, -0.7, -0.7, -0.6, -0.4, 0.2, 0.7, -10.1, -5.3, 3.2}},
	} {
		c.Panels = nil
		for _, w := range []Wall{Left, Right, Roof, Rear} {
			c.Panels = append(c.Panels, Panel{w, tc.share, tc.resonance})
		}
		r, err := c.Respond(hz, source, dash, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range hz {
			got := 20 * math.Log10(cmplx.Abs(r.Transfer[i])/cmplx.Abs(plain.Transfer[i]))
			if most := overdone[tc.share]; math.Abs(got-tc.want[i]) > most {
				t.Errorf("%g Hz, %g of the area: %g Hz moves by %.1f dB, the full solve by %.1f", tc.resonance, tc.share, f, got, tc.want[i])
			}
		}
	}
}
