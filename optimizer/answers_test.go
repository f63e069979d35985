package optimizer

import (
	"context"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/uncertainty"
)

// The three answers by enumeration: of all builds of the brief, listed one by
// one, the first; the cheapest of those that are good enough beside it, and the
// best of these at that price; and the first by the other goal. Half of the cases
// have all rules, with several shops and their trips; of the others a third have deals.
func TestAnswersByEnumeration(t *testing.T) {
	c := garage(t)
	count := int(caseCount(t, 60))
	cases := count
	var goals [2]int
	cheaper, changed, shops, alike := 0, 0, 0, 0
	for seed := uint64(91_000); cases > 0; seed++ {
		p, car := c.small(seed)
		switch {
		case seed%2 == 0:
			p, car = c.mixed(seed)
		case seed%3 == 0:
			dealt(&p, seed)
		}
		within := []float64{1, 0, 3}[seed%3]
		p.Distinct = DistinctParts
		plain := car.Setting.Problem
		plain.Brief, plain.Vehicle = p.Brief, p.Vehicle
		s := &Series{p: plain, car: car, known: make(map[string]*uncertainty.Sample)}
		got, err := s.Answers(context.Background(), p, within)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		all := (&oracle{p: p, t: car2(t, p, car)}).run(1 << 30)
		if len(all) == 0 {
			if len(got.Builds) > 0 || got.Value != nil || got.Other != nil {
				t.Fatalf("seed %d: answers where nothing can be built", seed)
			}
			continue
		}
		cases--
		goals[p.Brief.Goal]++
		if !got.Whole || got.Value == nil || got.Other == nil || !slices.Equal(got.Builds[0].SKUs(), all[0].skus) {
			t.Fatalf("seed %d: not whole, or another is the loudest: %+v", seed, got)
		}
		want, same := all[0], 0
		for _, b := range all {
			if enough := b.level >= all[0].level-build.Round(within); enough && (b.cost < want.cost || b.cost == want.cost && b.level > want.level) {
				want = b
			}
		}
		for _, b := range all {
			if b.cost == want.cost && b.level >= all[0].level-build.Round(within) {
				same++
			}
		}
		v := got.Value.Build
		if touring(&p) {
			shops++
		} else if same > pricedAlike {
			alike++
		}
		if v.Cost.Minor != want.cost || build.Round(v.Objective) != want.level || !slices.Equal(v.SKUs(), want.skus) {
			t.Fatalf("seed %d, within %g dB: %v, %s at %g dB, want %v, %d at %g dB", seed, within, v.SKUs(), v.Cost, v.Objective, want.skus, want.cost, want.level.DB())
		}
		if want.cost < all[0].cost {
			cheaper++
		}
		q := p
		q.Brief.Goal = other(p.Brief.Goal)
		first := (&oracle{p: q, t: car2(t, q, car)}).run(1)[0]
		if o := got.Other.Build; !slices.Equal(o.SKUs(), first.skus) || build.Round(o.Objective) != first.level {
			t.Fatalf("seed %d: by the other goal %v at %g dB, want %v at %g dB", seed, o.SKUs(), o.Objective, first.skus, first.level.DB())
		}
		if !slices.Equal(first.skus, all[0].skus) {
			changed++
		}
	}
	t.Logf("%d have a cheaper build, %d another one by the other goal, %d are about several shops, in %d more cost the same than are kept; goals %v", cheaper, changed, shops, alike, goals)
	if cheaper == 0 || changed == 0 || shops == 0 || goals[catalog.GoalReading] == 0 || goals[catalog.GoalMusic] == 0 || count >= 60 && alike == 0 {
		t.Error("the cases say little")
	}
}
