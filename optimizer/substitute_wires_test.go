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
	p, car := c.fronts(1242)
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
		with := func(b oracleBuild) bool { return slices.Contains(b.skus, part.SKU) }
		q := p
		q.With = part.SKU
		r, err := pickIn(context.Background(), q, car)
		if err != nil {
			t.Fatal(err)
		}
		want := (&oracle{p: p, t: full}).rank(slices.DeleteFunc(slices.Clone(all), func(b oracleBuild) bool { return !with(b) }), p.Brief.Cap, p.Distinct, 1)
		if len(want) != 1 || len(r.Builds) != 1 {
			t.Fatalf("with %s: %d builds, %d by enumeration", part.SKU, len(r.Builds), len(want))
		}
		sameBuilds(t, 1242, "with "+part.SKU, []*Build{&r.Builds[0]}, want)
	}
}
