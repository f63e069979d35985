package joinery

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Between walls and battens no more is free than stays stiff, but where the drivers are:
// there as little as the room for a batten beside them allows. None stands in their way,
// nor in another's.
func TestRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length, thick := rapid.Float64Range(0.1, 1.5).Draw(t, "length"), rapid.SampledFrom([]float64{0.015, 0.018, 0.025}).Draw(t, "thickness")
		most := 20 * thick
		from, to := 0.0, 0.0
		if rapid.Bool().Draw(t, "drivers") {
			from = rapid.Float64Range(0, length/2).Draw(t, "from")
			to = from + rapid.Float64Range(0, length-from).Draw(t, "drivers' room")
		}
		at := rows(length, thick, most, from, to)
		if !slices.IsSorted(at) {
			t.Fatalf("%v", at)
		}
		end := 0.0 // of what is free, so far
		for i := range len(at) + 1 {
			next := length
			if i < len(at) {
				next = at[i]
				if next < to-1e-9 && next+thick > from+1e-9 {
					t.Fatalf("%v: one in the drivers' way, between %g and %g", at, from, to)
				}
			}
			if next < end-1e-9 {
				t.Fatalf("%v: one in another's way", at)
			}
			beside := to > from && end < to && next > from && from-end < thick+1e-9 && next-to < thick+1e-9
			if next-end > most+2*fit && !beside {
				t.Fatalf("%v of %g m: %g m are free, at most %g are stiff; drivers between %g and %g", at, length, next-end, most, from, to)
			}
			end = next + thick
		}
	})
}

// 15 mm hold 30 cm. The back of a chamber of 28 cm beside a slot is held by the wall of
// that; beside a tube, which holds nothing, it is as wide as the box inside, 40 cm, and
// 41 high: it gets a batten.
func TestWhatAPortHolds(t *testing.T) {
	for name, c := range map[string]struct {
		port    func(*Design)
		battens int
	}{
		"slot": {func(d *Design) { d.Slot, d.PortLength = 0.105, 0.2 }, 0},
		"tube": {func(d *Design) { d.Tube, d.PortLength = 0.08, 0.2 }, 1},
	} {
		d := Design{Outside: Size{0.43, 0.33, 0.44}, Thickness: 0.015, Drivers: 1, Mount: Mount{Size: 0.254, Cutout: 0.23, Depth: 0.13, Displacement: 0.002}}
		c.port(&d)
		b, err := d.Build()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if b.Battens != c.battens {
			t.Errorf("%s: %d battens, want %d", name, b.Battens, c.battens)
		}
	}
}
