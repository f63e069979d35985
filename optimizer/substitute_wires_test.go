package optimizer

import (
	"context"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/setting"
)

// An amplifier for the front that takes speaker wires makes a line converter idle,
// so where a converter is asked for it is no substitute for one that takes none,
// however cheap and strong it is.
func TestSpeakerWiresAreNoSubstitute(t *testing.T) {
	c := garage(t)
	compared := 0
	for _, seed := range []uint64{5691, 5712, 8594} { // in which a search that takes it for one errs
		p, car := c.fronts(seed)
		p.Top = 1
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		all := (&oracle{p: p, t: full}).all()
		for _, part := range p.Catalogue.Parts {
			if part.Kind != catalog.KindConverter {
				continue
			}
			q := p
			q.With = part.SKU
			r, err := pickIn(context.Background(), q, car)
			if err != nil {
				t.Fatal(err)
			}
			without := func(b oracleBuild) bool { return !slices.Contains(b.skus, part.SKU) }
			want := (&oracle{p: p, t: full}).rank(slices.DeleteFunc(slices.Clone(all), without), p.Brief.Cap, p.Distinct, 1)
			if len(want) != len(r.Builds) {
				t.Fatalf("seed %d, with %s: %d builds, %d by enumeration", seed, part.SKU, len(r.Builds), len(want))
			}
			if len(want) == 1 {
				compared++
				sameBuilds(t, seed, "with "+part.SKU, []*Build{&r.Builds[0]}, want)
			}
		}
	}
	if compared < 3 {
		t.Errorf("%d compared", compared)
	}
}
