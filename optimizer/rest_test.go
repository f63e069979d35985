package optimizer

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/testing/generate"
)

// A list up to a sum is that without one, as far as the sum goes: what a rest is
// left out for costs less than it does.
func TestRestsUpToASum(t *testing.T) {
	c := garage(t)
	shorter, beside := 0, 0
	for n := range 8 {
		r := rand.New(rand.NewPCG(uint64(n), 0x72657374))
		p, car := large(c, 200, 1000, generate.Tight, catalog.GoalMusic)
		p.Catalogue = generate.Catalogue(200, uint64(n), []generate.Tightness{generate.Loose, generate.Tight}[n%2])
		p.Brief.Front = []catalog.FrontRule{catalog.FrontReplace, catalog.FrontEither}[n/2%2]
		k, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		amps := slices.DeleteFunc(slices.Clone(k.Shelf.Kinds[catalog.KindAmplifier]), func(it *pricing.Item) bool { return !it.Offered() })
		slices.SortStableFunc(amps, func(a, b *pricing.Item) int { return cmp.Compare(a.Lower(1), b.Lower(1)) })
		for range 12 {
			key := completion.Key{Speaker: r.IntN(2) == 0, Least: build.Silent}
			if r.IntN(3) > 0 {
				key.Least = build.Level(80_000 + r.IntN(40_000))
			}
			if r.IntN(2) == 0 {
				key.Amp = amps[r.IntN(len(amps))]
			}
			most := r.Int64N(k.Limit)
			all, some := k.rests.List(key, k.Limit).All, k.rests.List(key, most).All
			var want []completion.Completion
			for _, x := range all {
				if x.Price <= min(completion.Ample(most), k.Limit) {
					want = append(want, x)
				}
			}
			if !slices.EqualFunc(some, want, func(a, b completion.Completion) bool {
				return a.Price == b.Price && a.Level == b.Level && a.Twin == b.Twin && a.Parts.CompareSKUs(b.Parts) == 0
			}) {
				t.Fatalf("case %d: %d rests for up to %d, want %d of %d", n, len(some), min(completion.Ample(most), k.Limit), len(want), len(all))
			}
			if len(some) > 0 && len(some) < len(all) {
				shorter++
				if key.Amp != nil {
					beside++
				}
			}
		}
	}
	if shorter < 20 || beside < 5 {
		t.Fatalf("%d lists that were cut, %d of them beside an amplifier", shorter, beside)
	}
}
