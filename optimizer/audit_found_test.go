package optimizer

import (
	"math"
	"slices"
	"testing"

	"loudfor/catalog"
	every "loudfor/optimizer/audit"
	"loudfor/optimizer/setting"
)

// What refutes a claim is a build that can be had, at the price that is said of it; and the premises that are handed over leave no part of it out.
func TestWhatRefutesIsABuild(t *testing.T) {
	c := garage(t)
	refuted := 0
	for seed := uint64(1); seed <= 15; seed++ {
		p, car := c.small(seed)
		if seed%3 == 0 {
			dealt(&p, seed)
		}
		p.Distinct = DistinctParts
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		got := auditOf(t, p, car, nil)
		if got.Better == nil {
			continue
		}
		refuted++
		var skus []string
		for _, m := range got.Better.Parts {
			for range m.Count {
				skus = append(skus, m.SKU)
			}
		}
		slices.Sort(skus)
		found := false
		for _, b := range (&oracle{p: p, t: full}).run(math.MaxInt) {
			// Against the claim that there is none its level does not matter.
			found = found || slices.Equal(b.skus, skus) && b.cost == got.Better.Cost.Minor
		}
		if !found {
			t.Errorf("seed %d: %+v is no build", seed, got.Better)
		}
		named := map[string]bool{}
		for _, part := range every.PremisesOf(every.Question{Problem: p, Room: full.Room}).Parts {
			named[part.SKU] = true
		}
		for _, sku := range skus {
			if !named[sku] {
				t.Errorf("seed %d: the premises leave %s out", seed, sku)
			}
		}
		for _, it := range full.Shelf.Kinds[catalog.KindFront] {
			if it.Offered() && p.Brief.Front == catalog.FrontEither && !named[it.Part.SKU] {
				t.Errorf("seed %d: the premises leave the pair %s out", seed, it.Part.SKU)
			}
		}
	}
	if refuted < 5 {
		t.Errorf("%d claims that there is no build were refuted", refuted)
	}
}
