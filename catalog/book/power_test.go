package book

import (
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"
)

// cutsVariable, if set, has the power cut after every single act.
const cutsVariable = "LOUDFOR_BOOK_CUTS"

func clockAtNoon() time.Time { return noon }

// Whenever the power fails, what was confirmed is there, on a disk that keeps only
// what was synced as on one that keeps more. And the test can tell: of a book that
// does not sync its log, quotes are lost.
func TestPowerFails(t *testing.T) {
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 0))
	quotes, many := 12, 25
	if os.Getenv(cutsVariable) != "" {
		quotes, many = 40, 1<<30
	}
	for _, c := range []struct {
		setting string
		safe    bool
	}{{"", true}, {"&_pragma=synchronous(normal)", false}, {"&_pragma=synchronous(off)", false}} {
		path, before, acts := overLayer(t, c.setting, quotes)
		var cuts []int
		for n := range len(acts) + 1 {
			cuts = append(cuts, n)
		}
		r.Shuffle(len(cuts), func(i, j int) { cuts[i], cuts[j] = cuts[j], cuts[i] })
		cuts = cuts[:min(many, len(cuts))]
		for n, a := range acts { // the moments at which most is at stake
			if a.kind == confirms && (c.safe || n%3 == 0) {
				cuts = append(cuts, n+1)
			}
		}
		slices.Sort(cuts)
		n := lost(t, path, before, acts, cuts, r)
		t.Logf("settings %q: %d acts, %d cuts, three disks each: %d books lost something", c.setting, len(acts), len(cuts), n)
		if c.safe && n > 0 || !c.safe && n == 0 {
			t.Errorf("settings %q: %d of %d books lost something", c.setting, n, 3*len(cuts))
		}
	}
}
