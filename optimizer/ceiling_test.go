package optimizer

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// No build, of all that can be listed, is louder than the ceiling of its group; and
// some are not far above what they bound, so that a bound lower by half a decibel would
// show.
func TestCeilingsHold(t *testing.T) {
	const seeds, close = 60, 0.3 // dB
	c := garage(t)
	nearest, held := math.Inf(1), 0
	for seed := uint64(30_000); seed < 30_000+seeds; seed++ {
		p, car := c.small(seed)
		p.Brief.Goal, p.Brief.Cap = catalog.GoalReading, catalog.Money{}
		k, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		_, groups := k.ordered()
		ceilings := map[string]build.Level{}
		for _, g := range groups {
			key := fmt.Sprint(g.Driver.Part.SKU, " x ", g.Drivers(), " in ", g.Boxes)
			ceilings[key] = max(ceilings[key], g.ceiling)
		}
		boxes := map[string]bool{}
		for _, part := range p.Catalogue.Parts {
			boxes[part.SKU] = part.Kind == catalog.KindEnclosure
		}
		loudest := map[string]oracleBuild{}
		for _, b := range (&oracle{p: p, t: k}).all() { // best first
			driver := b.pair[:slices.Index([]byte(b.pair), ' ')]
			drivers, inside := 0, 0
			for _, sku := range b.skus {
				if sku == driver {
					drivers++
				}
				if boxes[sku] {
					inside++
				}
			}
			if part := k.Shelf.BySKU[driver].Part; part.Kind == catalog.KindLoaded {
				inside, drivers = drivers, drivers*part.Loaded.Box.Drivers
			}
			key := fmt.Sprint(driver, " x ", drivers, " in ", inside)
			if _, seen := loudest[key]; !seen {
				loudest[key] = b
			}
		}
		for key, b := range loudest {
			ceiling, ok := ceilings[key]
			if !ok || b.level > ceiling {
				t.Fatalf("seed %d, %s: %.3f dB with %v, under a ceiling of %.3f dB", seed, key, b.level.DB(), b.skus, ceiling.DB())
			}
			nearest = min(nearest, (ceiling - b.level).DB())
			held++
		}
	}
	t.Logf("%d groups, the nearest to its ceiling by %.3f dB", held, nearest)
	if held < 100 || nearest > close {
		t.Errorf("%d groups, none nearer than %.3f dB to its ceiling: a lower one would not show", held, nearest)
	}
}
