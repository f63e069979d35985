package supply

import "testing"

// A fuse as large as the cable carries protects it, and one as large as the current
// carries it: a size is its own on both sides, and the next one is not.
func TestFuseAtItsSize(t *testing.T) {
	exact := 0
	for i, size := range fuses {
		if got := LargestFuse(size); got != size {
			t.Errorf("a cable for %g A: fuse of %g A", size, got)
		}
		if got := SmallestFuse(size); got != size {
			t.Errorf("a current of %g A: fuse of %g A", size, got)
		}
		if i == 0 {
			continue
		}
		smaller := fuses[i-1]
		if got := SmallestFuse(smaller * 1.0001); got != size {
			t.Errorf("a current just above %g A: fuse of %g A", smaller, got)
		}
		// The tolerance belongs to it, what lies beyond does not.
		edge := size / (1 + FuseTolerance)
		if edge*(1+FuseTolerance) == size {
			exact++
			if got := LargestFuse(edge); got != size {
				t.Errorf("a cable for %g A, all of the tolerance below a fuse: %g A", edge, got)
			}
		}
		if got := LargestFuse(edge * 0.9999); got != smaller {
			t.Errorf("a cable for %g A: fuse of %g A, want %g A", edge*0.9999, got, smaller)
		}
	}
	if exact < 10 {
		t.Errorf("only %d sizes have an edge in these numbers", exact)
	}
}
