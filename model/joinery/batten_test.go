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
