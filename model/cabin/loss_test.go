package cabin

import (
	"math"
	"math/cmplx"
	"slices"
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
	hz := drumTones
	source, dash := Piston(Point{2.125, 0.65, 0.325}, 0.0025), Point{0.225, 0.925, 0.775}
	plain, err := c.Respond(hz, source, dash, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range drummed[:6] {
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

// drummed is what panels of the sides, the rear and the roof do to the shut level
// at the dash, dB at drumTones: a full solve of the small car.
var drumTones = []float64{20, 25, 30, 35, 40, 46, 50, 60, 70, 80}

var drummed = []struct {
	resonance, roof, share float64
	want                   []float64
}{
	{25, 25, 0.1, []float64{-2.9, -5.4, 1.5, 0.8, 0.3, 0.0, -0.2, -0.7, 0.3, 0.7}},
	{25, 25, 0.3, []float64{-6.4, -13.7, 0.4, 2.5, 1.2, 0.1, -0.4, -1.8, -0.1, 2.2}},
	{40, 40, 0.1, []float64{-0.6, -0.7, -0.9, -1.2, -2.3, -0.3, -0.5, -1.1, 0.2, 0.8}},
	{40, 40, 0.3, []float64{-1.8, -2.0, -2.2, -2.6, -8.0, -0.8, -0.9, -2.6, -0.9, 2.5}},
	{60, 60, 0.1, []float64{-0.2, -0.3, -0.2, -0.2, -0.2, 0.0, 0.2, -4.1, -1.6, 1.2}},
	{60, 60, 0.3, []float64{-0.7, -0.7, -0.7, -0.6, -0.4, 0.2, 0.7, -10.1, -5.3, 3.2}},
	{35, 50, 0.1, []float64{-0.7, -0.9, -1.3, -1.8, 0.0, -0.4, -0.8, -1.2, 0.1, 0.8}},
	{35, 50, 0.3, []float64{-2.1, -2.5, -3.1, -6.2, -0.4, -1.4, -2.5, -2.8, -1.0, 2.5}},
}

// TestPanelBand: a car whose panels are stated as a guess has a shut band below
// 60 Hz that holds what panels of that kind really do, although nothing else is
// drawn here but the smooth error.
func TestPanelBand(t *testing.T) {
	b, _ := BodyNamed("small sedan")
	b.Cavity = Cavity{Length: 2.5, Width: 1.3, Height: 1.1, Admittance: 0.04226}
	b.Source, b.SourceArea = Point{2.125, 0.65, 0.325}, 0.0025
	b.Places = []NamedPlace{{"dash", Point{0.225, 0.925, 0.775}}}
	b.Spread = Spread{PanelShare: b.Spread.PanelShare, PanelResonance: b.Spread.PanelResonance, Shape: b.Spread.Shape}
	plain, err := b.Respond(drumTones, "dash", "shut", 20)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []Wall{Left, Right, Rear, Roof} {
		b.Cavity.Panels = append(b.Cavity.Panels, Panel{w, 0.17, 40})
	}
	const draws = 128
	list, err := b.Ensemble(drumTones, "dash", "shut", 20, draws, 1)
	if err != nil {
		t.Fatal(err)
	}
	inside, count := 0, 0
	for i, f := range drumTones {
		if f > 60 {
			continue
		}
		var changes []float64
		for _, r := range list {
			changes = append(changes, 20*math.Log10(cmplx.Abs(r.Transfer[i])/cmplx.Abs(plain.Transfer[i])))
		}
		slices.Sort(changes)
		for _, tc := range drummed {
			count++
			if tc.want[i] >= changes[draws/20] && tc.want[i] <= changes[draws-1-draws/20] {
				inside++
			}
		}
	}
	if share := float64(inside) / float64(count); share < 0.85 {
		t.Errorf("%.0f %% of what panels do lies in the 90 %% band", 100*share)
	} else {
		t.Logf("%.0f %% in the band", 100*share)
	}
}
