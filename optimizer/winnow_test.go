package optimizer

import (
	"context"
	"math/rand/v2"
	"testing"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/testing/generate"
)

// Block by block, what is found for music is what is found when every pair of the
// class is computed with every kit and rest: mouths, rows, glances and envelopes
// leave out nothing that enters a ranking.
func TestNothingIsLostOfABlock(t *testing.T) {
	cases := 6
	if !long() {
		cases = 2
	}
	c := garage(t)
	entered, settled := 0, 0
	for n := range cases {
		r := rand.New(rand.NewPCG(uint64(n), 0x626c6f63))
		p, car := large(c, 250, 400+r.Int64N(900), generate.Tight, catalog.GoalMusic)
		p.Catalogue = generate.Catalogue(250, uint64(n), []generate.Tightness{generate.Tight, generate.Loose}[n%2])
		p.Brief.Front = []catalog.FrontRule{catalog.FrontReplace, catalog.FrontEither, catalog.FrontKeep}[n%3]
		p.Distinct = Distinct(n / 3 % 2)
		k, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		s := k.search(context.Background())
		best := s.total.best
		if len(best) == 0 {
			t.Fatalf("case %d: nothing found", n)
		}
		var ignored ledger
		groups := k.groups(&ignored)
		s.bound(groups)
		for range 150 {
			g := groups[r.IntN(len(groups))]
			if len(g.class.Choices) == 0 {
				continue
			}
			// A ranking in which the last is no louder than the best, or dearer.
			s.total.size, s.total.best = 2, nil
			if r.IntN(10) > 0 {
				last := best[r.IntN(len(best))]
				last.level -= build.Level(r.IntN(2) * r.IntN(3000))
				last.price, last.parts, last.bass = last.price+r.Int64N(last.price), nil, [2]*pricing.Item{}
				s.total.best = []candidate{{level: last.level + 1}, last}
			}
			s.leastFront = build.Silent
			if last := s.total.last(); last != nil {
				s.leastFront = last.level
			}
			box := g.housing[r.IntN(len(g.housing))]
			ready := func() *worker {
				w := &worker{search: s, group: g, box: box, price: g.Price(box), find: new(find)}
				w.ranking.copy(&s.total)
				w.tune()
				w.row = w.rowOf(g.class)
				return w
			}
			w, plain := ready(), ready()
			if !plain.HoldsMusts(&g.Block, box) || !plain.FitsHole(&g.Block, box) || bass.PrepareInto(&plain.prepared, plain.Setup(&g.Block, box), &plain.bandRoom) != nil {
				continue
			}
			if w.inTune(g) && w.audible(box.Opening) {
				w.hearBlock(w.ChoiceSlots())
			}
			plain.prepared.Glance(bass.Music(), &plain.comb, &plain.glance)
			for i := range g.class.Choices {
				plain.amp = g.class.Choices[i].Amp
				plain.pair(&g.class.Choices[i])
			}
			settled++
			got, want := w.ranking.best, plain.ranking.best
			if len(got) != len(want) {
				t.Fatalf("case %d, %s in %s: %d builds, want %d", n, g.Driver.Part.SKU, box.Part.SKU, len(got), len(want))
			}
			for i := range want {
				if got[i].level != want[i].level || got[i].price != want[i].price || got[i].parts.CompareSKUs(want[i].parts) != 0 {
					t.Fatalf("case %d, rank %d: %s at %d for %d, want %s at %d for %d", n, i+1,
						pricing.SKUs(got[i].parts), got[i].level, got[i].price, pricing.SKUs(want[i].parts), want[i].level, want[i].price)
				}
				if want[i].parts != nil {
					entered++
				}
			}
		}
	}
	if entered < 10*cases || settled < 50*cases {
		t.Fatalf("of %d blocks %d builds entered a ranking: the cases say little", settled, entered)
	}
}
