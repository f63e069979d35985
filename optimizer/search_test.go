package optimizer

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"testing"
)

// cases is how many random problems the oracle is asked about. More with
// LOUDFOR_ORACLE_CASES=2000.
const cases = 200

// caseCount is how many of the full number of cases are tried.
func caseCount(t testing.TB, full int) uint64 {
	if s := os.Getenv("LOUDFOR_ORACLE_CASES"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 {
			t.Fatalf("LOUDFOR_ORACLE_CASES=%q", s)
		}
		return uint64(n)
	}
	switch {
	case long():
		return uint64(full)
	case testing.Short():
		return uint64(max(1, full/raceShare))
	}
	return uint64(max(1, full/shortShare))
}

// shortShare of the cases is what a run is content with that is not the full one,
// raceShare where the race detector makes each take ten times as long.
const shortShare, raceShare = 5, 20

func firstSeed(t testing.TB) uint64 {
	if s := os.Getenv("LOUDFOR_ORACLE_SEED"); s != "" {
		n, err := strconv.ParseUint(s, 10, 64)
		if err != nil {
			t.Fatalf("LOUDFOR_ORACLE_SEED=%q", s)
		}
		return n
	}
	return 1
}

func skus(b *Build) (list []string) {
	for _, l := range b.Lines {
		for range l.Count {
			list = append(list, l.Part.SKU)
		}
	}
	slices.Sort(list)
	return list
}

func show(r Result) string {
	s := r.Outcome.String() + "\n"
	for i := range r.Builds {
		b := &r.Builds[i]
		s += fmt.Sprintf("%d: %.3f dB, %d, %v\n", b.Rank, b.Objective, b.Cost.Minor, skus(b))
	}
	return s
}

// The first five builds of every case, in objective, price and order.
func TestOracle(t *testing.T) {
	c := garage(t)
	solved, ranked, looked := 0, 0, 0
	for seed := firstSeed(t); seed < firstSeed(t)+caseCount(t, cases); seed++ {
		p, car := c.small(seed)
		n, _, seen := compareWithOracle(t, seed, p, car)
		ranked, looked = ranked+n, looked+seen
		if n > 0 {
			solved++
		}
	}
	t.Logf("%d problems have builds, %d builds compared, %d combinations looked at", solved, ranked, looked)
	if solved < int(caseCount(t, cases))/3 {
		t.Errorf("only %d problems have a solution: the cases say little", solved)
	}
}
