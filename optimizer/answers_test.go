package optimizer

import (
	"context"
	"slices"
	"strings"
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
	cheaper, changed, shops, alike, kept, useless, partly := 0, 0, 0, 0, 0, 0, 0
	for seed := uint64(91_000); cases > 0; seed++ {
		p, car := c.small(seed)
		switch {
		case seed%2 == 0:
			p, car = c.mixed(seed)
		case seed%3 == 0:
			dealt(&p, seed)
		}
		slices.SortFunc(p.Catalogue.Parts, func(a, b *catalog.Part) int { return strings.Compare(a.SKU, b.SKU) }) // as a catalogue is read
		within := []float64{1, 0, 3}[seed%3]
		p.Distinct = DistinctParts
		plain := car.Setting.Problem
		plain.Brief, plain.Vehicle = p.Brief, p.Vehicle
		s := &Series{p: plain, car: car, known: make(map[string]*uncertainty.Sample)}
		if b, _, _ := s.First(context.Background(), p); seed%4 == 3 && b != nil { // one piece more than it needs
			for _, l := range b.Lines {
				if k := l.Part.Kind; k == catalog.KindSubwoofer || k == catalog.KindEnclosure {
					p.Brief.Owned = append(slices.Clone(p.Brief.Owned), catalog.Mention{SKU: l.Part.SKU, Count: l.Count + 1})
				}
			}
		}
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
		for sku, owned := range ownedPieces(p) {
			k, held := leftOf(got.Idle, sku), piecesOf(all[0].skus, sku)
			if (k == nil) != (held >= owned) || k != nil && k.Idle != owned-held {
				t.Fatalf("seed %d: %d of %d pieces of %s are held, said to be idle: %+v", seed, held, owned, sku, k)
			}
			if k == nil || held > 0 && k.Part.Kind != catalog.KindSubwoofer && k.Part.Kind != catalog.KindEnclosure {
				continue
			}
			need := 1
			if held > 0 {
				need = owned
			}
			at := slices.IndexFunc(all, func(b oracleBuild) bool { return piecesOf(b.skus, sku) >= need })
			switch {
			case at < 0 && (k.Best != nil || k.None != (held == 0)):
				t.Fatalf("seed %d: no build uses %d of %s, and it is said: %+v", seed, need, sku, k)
			case at >= 0 && (k.Best == nil || k.None || !slices.Equal(k.Best.Build.SKUs(), all[at].skus) || build.Round(k.Best.Build.Objective) != all[at].level):
				t.Fatalf("seed %d: the best with %d of %s is %v at %g dB, not %+v", seed, need, sku, all[at].skus, all[at].level.DB(), k.Best)
			case held > 0:
				partly++
			case at < 0:
				useless++
			default:
				kept++
			}
		}
	}
	t.Logf("%d have a cheaper build, %d another one by the other goal, %d are about several shops, in %d more cost the same than are kept; owned and idle: %d could be kept, %d not, of %d some is used; goals %v", cheaper, changed, shops, alike, kept, useless, partly, goals)
	if cheaper == 0 || changed == 0 || shops == 0 || goals[catalog.GoalReading] == 0 || goals[catalog.GoalMusic] == 0 || count >= 60 && (alike == 0 || kept == 0 || useless == 0 || partly == 0) {
		t.Error("the cases say little")
	}
}

func leftOf(all []Kept, sku string) *Kept {
	if i := slices.IndexFunc(all, func(k Kept) bool { return k.Part.SKU == sku }); i >= 0 {
		return &all[i]
	}
	return nil
}

func piecesOf(skus []string, sku string) (n int) {
	for _, s := range skus {
		if s == sku {
			n++
		}
	}
	return n
}

func ownedPieces(p Problem) map[string]int {
	own := map[string]int{}
	for _, m := range p.Brief.Owned {
		own[m.SKU] += max(m.Count, 1)
	}
	return own
}
