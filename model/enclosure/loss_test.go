package enclosure

import (
	"math"
	"testing"
)

// TestLossOfAPipe: a sharp-edged pipe flush with both walls loses half the dynamic
// pressure where the stream enters and all of it where it leaves, 1.5 in all; one that
// stands free at both ends 2 (I. Idelchik, Handbook of Hydraulic Resistance, chapter
// 3, from memory). A stream that goes to and fro enters at either end half the time.
func TestLossOfAPipe(t *testing.T) {
	for ends, want := range map[int]float64{2: 1.5, 1: 1.75, 0: 2} {
		if got := (Port{Count: 1, Diameter: 0.1, Length: 0.2, FlangedEnds: ends}).loss(); math.Abs(got-want) > 1e-12 {
			t.Errorf("%d ends in walls: %g times the dynamic pressure, want %g", ends, got, want)
		}
	}
}
