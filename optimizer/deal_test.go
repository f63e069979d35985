package optimizer

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"
)

// compareWithOracle holds the first builds of a problem against enumeration.
func compareWithOracle(t *testing.T, seed uint64, p Problem, car *task) (ranked, dealsTaken int) {
	t.Helper()
	got, err := pickIn(context.Background(), p, car)
	if err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	full, err := readyIn(p, relaxed{}, car)
	if err != nil {
		t.Fatal(err)
	}
	o := &oracle{p: p, t: full}
	want := o.run(p.Top)
	same := len(want) == len(got.Builds)
	for i := 0; same && i < len(want); i++ {
		b := &got.Builds[i]
		same = round(b.Objective) == want[i].level && slices.Equal(skus(b), want[i].skus) && b.Cost.Minor == want[i].cost
		dealsTaken += len(b.Deals)
	}
	if !same {
		s := ""
		for i, w := range want {
			s += fmt.Sprintf("%d: %.3f dB, %d, %v\n", i+1, w.level.dB(), w.cost, w.skus)
		}
		t.Fatalf("LOUDFOR_ORACLE_SEED=%d: goal %d front %d\nsearch: %s\noracle:\n%s", seed, p.Brief.Goal, p.Brief.Front, show(got), s)
	}
	checkProof(t, p, got)
	return len(want), dealsTaken
}

// The first five builds with deals, labour and taxes by kind, over all the
// other rules; and where nothing can be built, the price that a cap would need.
func TestOracleWithDeals(t *testing.T) {
	c := garage(t)
	solved, ranked, taken := 0, 0, 0
	for seed := firstSeed(t); seed < firstSeed(t)+caseCount(t, cases); seed++ {
		p, car := c.small(seed)
		dealt(&p, seed)
		n, deals := compareWithOracle(t, seed, p, car)
		ranked, taken = ranked+n, taken+deals
		if n > 0 {
			solved++
		}
	}
	t.Logf("%d problems have builds, %d builds compared, %d deals in them", solved, ranked, taken)
	if solved < int(caseCount(t, cases))/3 || taken < ranked/20 {
		t.Errorf("%d solved, %d builds, %d deals: the cases say little", solved, ranked, taken)
	}
}

// The cheapest build of all, which a conflict about the cap names.
func TestCheapestWithDeals(t *testing.T) {
	c := garage(t)
	for seed := uint64(1); seed <= 60; seed++ {
		p, car := c.small(seed)
		dealt(&p, seed)
		p.Brief.Cap.Minor, p.Brief.Cap.Currency, p.Top, p.Distinct = 0, "", 1, DistinctParts
		full, err := readyIn(p, relaxed{}, car)
		if err != nil {
			t.Fatal(err)
		}
		sum, ok := full.cheapest()
		want := int64(math.MaxInt64)
		for _, b := range (&oracle{p: p, t: full}).run(math.MaxInt) {
			want = min(want, b.cost)
		}
		if ok != (want < math.MaxInt64) || ok && full.till.figure(sum) != want {
			t.Fatalf("seed %d: %d (%v), by enumeration %d", seed, full.till.figure(sum), ok, want)
		}
	}
}
