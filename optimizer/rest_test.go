package optimizer

import (
	"math/rand/v2"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
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
		for range 12 {
			key := restKey{speaker: r.IntN(2) == 0, least: build.Silent}
			if r.IntN(3) > 0 {
				key.least = build.Level(80_000 + r.IntN(40_000))
			}
			if r.IntN(2) == 0 {
				key.amp = amps[r.IntN(len(amps))]
			}
			most := r.Int64N(k.Limit)
			all, some := k.rests.list(key, k.Limit).all, k.rests.list(key, most).all
			var want []rest
			for _, x := range all {
				if x.price <= min(ample(most), k.Limit) {
					want = append(want, x)
				}
			}
			if !slices.EqualFunc(some, want, func(a, b rest) bool {
				return a.price == b.price && a.level == b.level && a.twin == b.twin && a.parts.CompareSKUs(b.parts) == 0
			}) {
				t.Fatalf("case %d: %d rests for up to %d, want %d of %d", n, len(some), min(ample(most), k.Limit), len(want), len(all))
			}
			if len(some) > 0 && len(some) < len(all) {
				shorter++
				if key.amp != nil {
					beside++
				}
			}
		}
	}
	if shorter < 20 || beside < 5 {
		t.Fatalf("%d lists that were cut, %d of them beside an amplifier", shorter, beside)
	}
}
