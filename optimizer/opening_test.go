package optimizer

import (
	"context"
	"strings"
	"testing"

	"loudfor/catalog"
)

// TestOpeningInWords: the opening of a boot that no box goes through is told by its own
// numbers.
func TestOpeningInWords(t *testing.T) {
	c := garage(t)
	told := 0
	for seed := uint64(1); seed <= 20; seed++ {
		p, car := c.small(seed)
		p.Vehicle.Boot = [2]float64{0.03, 0.05}
		for _, part := range p.Catalogue.Parts {
			if part.Enclosure != nil {
				e := *part.Enclosure
				e.Outside = catalog.Size3{Width: 0.5, Depth: 0.4, Height: 0.3}
				part.Enclosure = &e
			}
			if part.Loaded != nil {
				l := *part.Loaded
				l.Outside = catalog.Size3{Width: 0.5, Depth: 0.4, Height: 0.3}
				part.Loaded = &l
			}
		}
		r, err := pickIn(context.Background(), p, car)
		if err != nil || len(r.Builds) > 0 {
			t.Fatalf("seed %d: %d builds, %v", seed, len(r.Builds), err)
		}
		for _, set := range r.Conflicts {
			for _, q := range set {
				if q.Kind == RequireBoot {
					if told++; !strings.Contains(q.Words, "opening of 3 x 5 cm") {
						t.Errorf("seed %d: %q", seed, q.Words)
					}
				}
			}
		}
	}
	if told == 0 {
		t.Error("no conflict with a boot")
	}
}
