package units

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Every finite value that a key may hold is written exactly, in some unit.
func TestExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for d := range writtenUnits {
			si := math.Exp(rapid.Float64Range(math.Log(1.1e-15), math.Log(0.9e12)).Draw(t, "log"))
			q, err := Parse(Exact(si, d), d)
			if err != nil || q.SI != si {
				t.Fatalf("%v is written %q and read %v, %v", si, Exact(si, d), q.SI, err)
			}
			lengths, err := Lengths(ExactLengths(si, 0.3048, 1), 3)
			if err != nil || lengths[0].SI != si || lengths[1].SI != 0.3048 {
				t.Fatalf("%v is written %q: %v", si, ExactLengths(si, 0.3048, 1), err)
			}
		}
	})
}
