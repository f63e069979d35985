package workshop

import (
	"slices"
	"testing"

	"loudfor/model/joinery"
)

// TestThroughEachWay: of the six ways in which two edges of a box go with those of an
// opening, each lets in a box that goes in no other.
func TestThroughEachWay(t *testing.T) {
	all := through(joinery.Size{1, 1, 1}, [2]float64{0.3, 0.6})
	for _, box := range []joinery.Size{{0.3, 0.6, 1}, {0.6, 0.3, 1}, {0.3, 1, 0.6}, {0.6, 1, 0.3}, {1, 0.3, 0.6}, {1, 0.6, 0.3}} {
		if !slices.Contains(all, box) || len(all) != 6 {
			t.Errorf("%v is not in %v", box, all)
		}
	}
}
