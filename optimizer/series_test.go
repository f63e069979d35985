package optimizer

import (
	"context"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
)

// Whatever part is asked for, the best build with it is the first of all
// builds of the brief, listed one by one, that hold it; and where there is
// none in that list, the search finds none.
func TestWithIsTheFirstThatHoldsIt(t *testing.T) {
	c := garage(t)
	cases, found, none, own := 25, 0, 0, 0
	if !long() {
		cases = 6
	}
	for seed := uint64(50_000); cases > 0; seed++ {
		p, car := c.small(seed)
		p.Distinct = DistinctParts
		cases--
		all := (&oracle{p: p, t: car2(t, p, car)}).run(1 << 30)
		g := rand.New(rand.NewPCG(seed, 7))
		parts := slices.Clone(p.Catalogue.Parts)
		g.Shuffle(len(parts), func(i, j int) { parts[i], parts[j] = parts[j], parts[i] })
		asked := [catalog.KindCount]int{}
		for _, part := range parts {
			if asked[part.Kind]++; asked[part.Kind] > 3 {
				continue
			}
			q := p
			q.With, q.Top = part.SKU, 1
			r, err := pickIn(context.Background(), q, car)
			if err != nil {
				t.Fatalf("seed %d, with %s: %v", seed, part.SKU, err)
			}
			at := slices.IndexFunc(all, func(b oracleBuild) bool { return slices.Contains(b.skus, part.SKU) })
			if at < 0 {
				none++
				if len(r.Builds) > 0 {
					t.Fatalf("seed %d: %s is in no build, and the search found %v", seed, part.SKU, r.Builds[0].soundKey())
				}
				continue
			}
			found++
			if part.Kind == catalog.KindAmplifier || part.Kind == catalog.KindConverter || part.Kind == catalog.KindBlocker {
				own++
			}
			if len(r.Builds) == 0 {
				t.Fatalf("seed %d: no build with %s, though there is %v", seed, part.SKU, all[at])
			}
			got := strings.Split(strings.TrimSuffix(r.Builds[0].soundKey(), "\x00"), "\x00")
			slices.Sort(got)
			if !slices.Equal(got, all[at].skus) {
				t.Fatalf("seed %d, with %s:\n got %v\nwant %v", seed, part.SKU, got, all[at].skus)
			}
		}
	}
	if found == 0 || none == 0 || own == 0 {
		t.Errorf("%d found, %d without a build, %d that could be idle", found, none, own)
	}
	t.Logf("%d parts in a build, %d in none, %d that could be idle", found, none, own)
}

// car2 is the task of a problem in the car of another one.
func car2(t *testing.T, p Problem, car *task) *task {
	t.Helper()
	full, err := readyIn(p, relaxed{}, car)
	if err != nil {
		t.Fatal(err)
	}
	return full
}
