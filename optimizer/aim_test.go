package optimizer

import (
	"context"
	"math/rand/v2"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/testing/generate"
)

// The aims leave nothing out: neither with targets kept for all drivers nor with
// those that each driver makes for itself.
func TestAimsLeaveNothingOut(t *testing.T) {
	cases := 12
	if !long() {
		cases = 4
	}
	c := garage(t)
	for n := range cases {
		r := rand.New(rand.NewPCG(uint64(n), 0x61696d))
		tightness := []generate.Tightness{generate.Loose, generate.Tight}[r.IntN(2)]
		p, car := large(c, 200+r.IntN(300), 200+r.Int64N(1500), tightness, catalog.GoalReading)
		p.Catalogue = generate.Catalogue(200+r.IntN(300), uint64(n), tightness)
		p.Distinct = Distinct(r.IntN(2))
		for _, part := range p.Catalogue.Parts {
			if part.Kind == catalog.KindSubwoofer && r.IntN(3) == 0 {
				part.Subwoofer.Displacement *= 0.5 + r.Float64()
			}
		}
		run := func(sharing int, ladder bool) *search {
			k, err := readyIn(p, setting.Relaxation{}, car)
			if err != nil {
				t.Fatal(err)
			}
			k.sharing, k.ladder, k.rack = sharing, ladder, []int{rackSize, 1, 5}[n%3]
			return k.search(context.Background())
		}
		for _, ladder := range []bool{false, true} {
			plain := run(-1, ladder)
			if len(plain.total.best) == 0 {
				t.Fatalf("case %d: nothing found", n)
			}
			for _, sharing := range []int{0, sharing, 1 << 30} {
				aimed := run(sharing, ladder)
				if took := len(aimed.aims.of) > 0; took == ladder {
					t.Fatalf("case %d, ladder %v, sharing from %d groups: an aim taken is %v", n, ladder, sharing, took)
				}
				if got, want := len(aimed.total.best), len(plain.total.best); got != want {
					t.Fatalf("case %d, ladder %v, sharing from %d groups: %d builds, want %d", n, ladder, sharing, got, want)
				}
				for i := range plain.total.best {
					a, b := &aimed.total.best[i], &plain.total.best[i]
					if a.level != b.level || a.price != b.price || a.parts.CompareSKUs(b.parts) != 0 {
						t.Fatalf("case %d, ladder %v, sharing from %d groups, rank %d: %s at %v, want %s at %v", n, ladder, sharing, i+1, pricing.SKUs(a.parts), a.level, pricing.SKUs(b.parts), b.level)
					}
				}
			}
		}
	}
}
