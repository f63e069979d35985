package optimizer

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"loudfor/catalog"
)

// outlet is a random problem with the state of another shop: parts are dearer or fewer
// there, those of the first builds more often than chance would have it, and now and
// then one is cheaper.
func outlet(c *cars, seed uint64) (Problem, *task, *catalog.Catalogue, Result) {
	p, car := c.small(seed)
	if seed%7 == 0 {
		dealt(&p, seed)
	}
	if seed%11 == 0 {
		manyShops(&p, seed)
	}
	deals, shops := p.Catalogue.Deals, p.Catalogue.Shops
	p.Catalogue = catalog.New(p.Catalogue.Currency, p.Catalogue.Parts)
	p.Catalogue.Deals, p.Catalogue.Shops = deals, shops
	g := rand.New(rand.NewPCG(seed, 0x6f75746c))
	p.Bare, p.Distinct, p.Top = true, DistinctParts, []int{1, 3, 100}[g.IntN(3)]
	r, err := pickIn(context.Background(), p, car)
	if err != nil {
		return p, car, p.Catalogue, r
	}
	chance := []float64{0.02, 0.1, 0.4}[g.IntN(3)]
	var often []string
	for i := range r.Builds[:min(len(r.Builds), 1+g.IntN(8))] {
		often = append(often, skus(&r.Builds[i])...)
	}
	var parts []*catalog.Part
	for _, part := range p.Catalogue.Parts {
		if g.Float64() > chance && (!slices.Contains(often, part.SKU) || g.IntN(3) > 0) {
			continue
		}
		q := *part
		switch g.IntN(6) {
		case 0:
			q.Stock = g.IntN(3)
			if part.Stock != catalog.Unlimited {
				q.Stock = min(q.Stock, part.Stock)
			}
		case 1:
			q.Priced = false
		default:
			q.Price.Minor += q.Price.Minor * int64(g.IntN(20)) / 100
		}
		if g.IntN(200) == 0 {
			q.Price.Minor /= 2
		}
		parts = append(parts, &q)
	}
	return p, car, p.Catalogue.With(parts...), r
}

// What a ranking tells of a shop is what a search finds there, for all rules.
func TestForemostIsWhatTheSearchFinds(t *testing.T) {
	c := garage(t)
	cases := caseCount(t, 1500) // LOUDFOR_ORACLE_CASES=10000 takes five minutes
	shared := new(Shared)
	told, moved, dropped, none, short, searched := 0, 0, 0, 0, 0, 0
	for seed := firstSeed(t); seed < firstSeed(t)+cases; seed++ {
		p, car, to, r := outlet(c, seed)
		p.Shared = shared
		ranking := RankedOf(r.Builds)
		all := len(ranking) < p.Top
		place, cost, ok, err := Foremost(p, to, ranking, all)
		if err != nil {
			t.Fatal(err)
		}
		if !ok {
			searched++
			continue
		}
		told++
		q := p
		q.Catalogue = to
		var want Best
		if want = answer(t, q, car); place < 0 {
			none++
			if len(want.Parts) > 0 {
				t.Fatalf("seed %d: said to be none, but there is %v", seed, want)
			}
			continue
		}
		got := ranking[place]
		if !slices.EqualFunc(got.Parts, want.Parts, func(a, b catalog.Mention) bool { return a.SKU == b.SKU && a.Count == b.Count }) {
			t.Fatalf("seed %d: place %d, %v; by a search %v", seed, place, got.Parts, want)
		}
		if cost != want.Cost {
			t.Fatalf("seed %d: for %v; by a search %v", seed, cost, want.Cost)
		}
		if place > 0 {
			moved++
		}
		if place > 0 && want.Cost.Minor < ranking[0].Cost.Minor {
			dropped++
		}
		if all {
			short++
		}
	}
	t.Logf("%d told, %d from behind the first, %d of them cheaper than it was, %d have no build, %d from all builds there are; %d left to a search", told, moved, dropped, none, short, searched)
	if cases < 200 { // a case asked for by its seed
		return
	}
	if told < int(cases)/5 || moved == 0 || dropped == 0 || none == 0 || short == 0 || searched == 0 {
		t.Error("the cases say little")
	}
}
