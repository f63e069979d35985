package optimizer

import (
	"context"
	"testing"
)

// No set of parts stands in a ranking twice; nothing else is missing, and what there is
// of a longer ranking comes in the same order.
func TestNoSetTwice(t *testing.T) {
	c := garage(t)
	twice := 0
	for seed := uint64(1); seed <= 3*caseCount(t, 100); seed++ {
		p, car := c.drawn(seed, mixedMost)
		if seed%3 == 0 {
			manyShops(&p, seed)
		}
		p.Distinct, p.Top = DistinctBass, 3
		long := p
		long.Top = 40
		all, _, err := pickRepeating(context.Background(), long, car)
		if err != nil {
			t.Fatal(err)
		}
		want := unrepeated(all.Builds)
		twice += len(all.Builds) - len(want)
		want = want[:min(p.Top, len(want))]
		got, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Builds) != len(want) {
			t.Fatalf("seed %d: %d builds, want %d", seed, len(got.Builds), len(want))
		}
		for i := range want {
			if a, b := &got.Builds[i], &want[i]; a.Rank != i+1 || a.Cost != b.Cost || a.Reading != b.Reading || a.Bass.Amplifier.SKU != b.Bass.Amplifier.SKU || !sameSKUs(a, b) {
				t.Fatalf("seed %d: rank %d is %v, want %v", seed, a.Rank, skus(a), skus(b))
			}
		}
	}
	if twice == 0 && !testing.Short() {
		t.Error("no set stood twice in any ranking: the cases say nothing")
	}
	t.Logf("%d repeats", twice)
}

func sameSKUs(a, b *Build) bool { return soundKey(a) == soundKey(b) }
