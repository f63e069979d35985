package advice

import (
	"context"
	"reflect"
	"testing"
)

// TestRolesAndWastes: what is asked about one part is what the talk says of it; and of
// the wastes the cheapest build is the cheapest of all that a meter does not tell from
// the best, said once: as that of one part, or, where no one part's goes as far, last
// and of several.
func TestRolesAndWastes(t *testing.T) {
	ctx := context.Background()
	series, err := garage()
	if err != nil {
		t.Fatal(err)
	}
	asked, wasted, several := 0, 0, 0
	for seed := uint64(1); seed <= 40; seed++ {
		d, err := AskIn(ctx, series, random(seed))
		if err != nil {
			t.Fatal(err)
		}
		best := d.Best()
		if best == nil {
			continue
		}
		if seed <= 6 {
			all, err := d.rolesOf(ctx, "")
			if err != nil || len(all) != len(best.Lines) {
				t.Fatalf("%d roles of %d lines, %v", len(all), len(best.Lines), err)
			}
			for i, l := range best.Lines {
				one, err := d.rolesOf(ctx, l.Part.SKU)
				if err != nil || len(one) != 1 || !reflect.DeepEqual(one[0], all[i]) || one[0].Part != l.Part {
					t.Fatalf("seed %d: the role of %s is %+v, %v", seed, l.Part.SKU, one, err)
				}
				asked++
			}
		}
		wastes, err := d.wastes(ctx)
		if err != nil {
			t.Fatal(err)
		}
		builds, err := d.from(ctx, d.p, best.Objective-Unheard+0.001)
		if err != nil {
			t.Fatal(err)
		}
		least, cheapest := best.Cost.Minor, best.Cost.Minor
		if len(builds) > 0 {
			least = min(least, builds[0].Cost.Minor)
		}
		for i, w := range wastes {
			if w.Part == nil {
				several++
				if i != len(wastes)-1 || w.Build.Cost.Minor >= cheapest {
					t.Errorf("seed %d: what is said of several parts is said already", seed)
				}
			}
			cheapest = min(cheapest, w.Build.Cost.Minor)
		}
		if cheapest != least {
			t.Errorf("seed %d: the wastes leave %d, the least is %d", seed, cheapest, least)
		}
		wasted += len(wastes)
	}
	if asked < 20 || wasted == 0 || several == 0 {
		t.Errorf("%d parts asked about, %d wastes, %d of several parts", asked, wasted, several)
	}
}
