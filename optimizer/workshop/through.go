package workshop

import (
	"slices"

	"loudfor/model/joinery"
)

// A box has to go through the opening of the boot, one of its faces ahead. So
// two of its sides are held by the opening, which two and which by which is
// free: six sizes at most, and a box goes in if and only if it stays within one
// of them.

// through are the largest boxes of a position of the space that go through an
// opening; without one the position itself.
func through(space joinery.Size, opening [2]float64) (all []joinery.Size) {
	if opening == ([2]float64{}) {
		return []joinery.Size{space}
	}
	within := func(a, b joinery.Size) bool { return a[0] <= b[0] && a[1] <= b[1] && a[2] <= b[2] }
	for _, face := range [6][2]int{{0, 2}, {0, 1}, {1, 2}, {2, 0}, {1, 0}, {2, 1}} {
		s := space
		s[face[0]], s[face[1]] = min(s[face[0]], opening[0]), min(s[face[1]], opening[1])
		if slices.ContainsFunc(all, func(t joinery.Size) bool { return within(s, t) }) {
			continue
		}
		all = append(slices.DeleteFunc(all, func(t joinery.Size) bool { return within(t, s) }), s)
	}
	return all
}
