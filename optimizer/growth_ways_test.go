package optimizer_test

import (
	"context"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/growth"
)

// The best build of each way to power bass and doors is the first of all builds, listed
// one by one, whose amplifiers are those of the way: one of four channels or more; or
// smaller ones, of which one is for the bass.
func TestWaysByEnumeration(t *testing.T) {
	cases := 60
	if testing.Short() {
		cases = 16
	}
	var found, none [growth.WayCount]int
	narrowed := 0
	for seed := uint64(1); cases > 0; seed++ {
		draw := optimizer.SmallProblem
		if seed%2 == 0 {
			draw = optimizer.MixedProblem
		}
		p, series := draw(t, seed)
		channels := map[string]int{}
		for _, a := range p.Catalogue.ByKind(catalog.KindAmplifier) {
			channels[a.SKU] = a.Amplifier.Spec.Channels
		}
		if slices.ContainsFunc(p.Brief.Must, func(m catalog.Mention) bool { return channels[m.SKU] > 0 }) {
			continue // it may be idle
		}
		cases--
		one := p
		one.Brief.Amplifiers, one.Brief.Goal = 1, catalog.GoalReading+catalog.Goal(seed/2%2)
		all := optimizer.Enumerate(t, one, series).Within(one.Brief.Cap)
		for way := range growth.WayCount {
			var want *optimizer.Listed
			for i := range all {
				amps, right := 0, true
				for _, sku := range all[i].SKUs {
					if n := channels[sku]; n > 0 {
						amps++
						right = right && (n >= 4) == (way == growth.Together)
					}
				}
				if right && (amps == 1 || way == growth.Apart) {
					want = &all[i]
					break
				}
				if right {
					narrowed++
				}
			}
			got, whole, err := series.First(context.Background(), growth.Along(one, way))
			switch {
			case err != nil || !whole:
				t.Fatalf("seed %d, way %d: %v", seed, way, err)
			case (got == nil) != (want == nil):
				t.Fatalf("seed %d, way %d: %v, want %v", seed, way, got, want)
			case want == nil:
				none[way]++
			case !slices.Equal(got.SKUs(), want.SKUs):
				t.Fatalf("seed %d, way %d: %v at %g dB, want %v", seed, way, got.SKUs(), got.Objective, *want)
			default:
				found[way]++
			}
		}
	}
	t.Logf("%v found, %v have none; %d builds were passed over for a second amplifier", found, none, narrowed)
	if slices.Contains(found[:], 0) || none[growth.Apart]+none[growth.Together] == 0 {
		t.Error("the cases say little")
	}
}
