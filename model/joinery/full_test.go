package joinery

import (
	"math"
	"testing"
)

// The largest volume that a space allows, to the last bit and a hair beyond it, is
// drawn as the box that fills the space; the least as the smallest that can be built.
func TestDrawAtTheLimits(t *testing.T) {
	w := Wish{
		Proportions: UsualProportions, Most: Size{0.6, 0.4, 0.35},
		Design: Design{Thickness: 0.018, Drivers: 1, Mount: Mount{Size: 0.25}},
	}
	least, most, err := w.Volumes()
	if err != nil {
		t.Fatal(err)
	}
	for name, volume := range map[string]float64{"all": most, "a hair more than all": most * (1 + fit/2)} {
		w.Volume = volume
		d, err := Draw(w)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for i, v := range d.Outside {
			if math.Abs(v-w.Most[i]) > 1e-6 {
				t.Errorf("%s: %v does not fill %v", name, d.Outside, w.Most)
			}
		}
	}
	w.Volume = least
	if d, err := Draw(w); err != nil || math.Abs(d.Inside().Volume()-least) > 1e-9 {
		t.Errorf("the least: %v, %v", d.Inside().Volume(), err)
	}
	for _, volume := range []float64{most * (1 + 2*fit), least * (1 - 2*fit)} {
		w.Volume = volume
		if _, err := Draw(w); err == nil {
			t.Errorf("%g m3 was drawn; the limits are %g and %g", volume, least, most)
		}
	}
}
