package joinery

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A drawn box has the volume that was asked for, fits the space, keeps the
// proportions where no limit binds, and can be built.
func TestDraw(t *testing.T) {
	free := 0
	rapid.Check(t, func(t *rapid.T) {
		w := Wish{
			Volume:      rapid.Float64Range(0.005, 0.2).Draw(t, "volume"),
			Proportions: UsualProportions,
			Design: Design{Thickness: 0.018, Drivers: rapid.IntRange(1, 2).Draw(t, "drivers"),
				Mount: Mount{Size: rapid.SampledFrom([]float64{0.2, 0.25, 0.3}).Draw(t, "size")}},
		}
		least := rapid.SampledFrom([]float64{0.2, 1.2}).Draw(t, "least") // every other space binds nothing
		for i := range w.Most {
			w.Most[i] = rapid.Float64Range(least, 1.2).Draw(t, "space")
		}
		d, err := Draw(w)
		if err != nil {
			var fault *Error
			if !errors.As(err, &fault) {
				t.Fatal(err)
			}
			return
		}
		if got := d.Inside().Volume(); math.Abs(got-w.Volume) > 1e-9 {
			t.Fatalf("inside %g m3, asked for %g", got, w.Volume)
		}
		for i, v := range d.Outside {
			if v > w.Most[i]+1e-9 {
				t.Fatalf("%v does not fit %v", d.Outside, w.Most)
			}
		}
		if _, err := d.Build(); err != nil {
			t.Fatalf("%v: %v", d.Outside, err)
		}
		in := d.Inside()
		if r := in[0] / in[1] * UsualProportions[1] / UsualProportions[0]; math.Abs(r-1) < 1e-9 {
			free++
		}
		// Rounded to what can be marked out, it still fits and can be built,
		// unless a limit was met to the last hair.
		if r := d.Rounded(); r.Outside[0] > d.Outside[0]+1e-6 || r.Outside[1] > d.Outside[1]+1e-6 || r.Outside[2] > d.Outside[2]+1e-6 {
			t.Fatalf("%v rounds up to %v", d.Outside, r.Outside)
		}
	})
	if free == 0 && !testing.Short() { // a few draws may miss it
		t.Error("no box kept its proportions")
	}
}

// Impossible wishes name the number that fails.
func TestDrawRefuses(t *testing.T) {
	w := Wish{Volume: 0.05, Proportions: UsualProportions, Most: Size{0.6, 0.4, 0.4}, Design: Design{Thickness: 0.018, Drivers: 1, Mount: Mount{Size: 0.3048}}}
	for _, c := range []struct {
		change func(*Wish)
		want   string
	}{
		{func(w *Wish) { w.Volume = 0.2 }, "volume"},
		{func(w *Wish) { w.Volume = 0.001 }, "volume"},
		{func(w *Wish) { w.Volume = math.NaN() }, "volume"},
		{func(w *Wish) { w.Most[2] = 0.25 }, "height of the space"},
		{func(w *Wish) { w.Most[1] = 0.1 }, "depth of the space"},
		{func(w *Wish) { w.Design.Drivers = 3 }, "width of the space"},
	} {
		changed := w
		c.change(&changed)
		_, err := Draw(changed)
		var fault *Error
		if !errors.As(err, &fault) || fault.Quantity != c.want {
			t.Errorf("%v, want a fault of the %s", err, c.want)
		}
	}
}
