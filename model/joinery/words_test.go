package joinery

import "testing"

// An opening is told in millimetres.
func TestOpeningInMillimetres(t *testing.T) {
	round := Opening{Name: "driver", Diameter: 0.282, Centre: [2]float64{0.2, 0.155}}
	if got, want := round.String(), "driver: 282 mm across, centre 200 mm from the left, 155 mm up"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	square := Opening{Name: "slot", Sides: [2]float64{0.3, 0.04}, Centre: [2]float64{0.15, 0.038}}
	if got, want := square.String(), "slot: 300 x 40 mm, centre 150 mm from the left, 38 mm up"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
