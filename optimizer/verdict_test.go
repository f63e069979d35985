package optimizer_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
)

// What is said of a part agrees with the list of all builds: whether it is in
// the best one, or in others, or only above the cap, or nowhere; which is the
// best that holds it; what the cheapest costs; and at which price the best one
// changes.
func TestVerdictsByEnumeration(t *testing.T) {
	cases := 30
	if !optimizer.Long() {
		cases = 4
	}
	ctx := context.Background()
	seen := map[advice.Answer]int{}
	broke := 0
	for seed := uint64(80_000); cases > 0; seed++ {
		p, series := optimizer.SmallProblem(t, seed)
		if seed%2 == 0 {
			p.Brief.Cap.Minor /= 2 // so that parts are above it
		}
		desk, err := advice.AskIn(ctx, series, p)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		best := desk.Best()
		all := optimizer.Enumerate(t, p, series)
		if (best == nil) != (len(all) == 0) || best != nil && !slices.Equal(best.SKUs(), all[0].SKUs) {
			t.Fatalf("seed %d: the best build", seed)
		}
		if best == nil {
			continue
		}
		cases--
		free := p
		free.Brief.Cap = catalog.Money{}
		whatever := optimizer.Enumerate(t, free, series)
		g := rand.New(rand.NewPCG(seed, 11))
		parts := slices.Clone(p.Catalogue.Parts)
		g.Shuffle(len(parts), func(i, j int) { parts[i], parts[j] = parts[j], parts[i] })
		asked := [catalog.KindCount]int{}
		for _, part := range parts {
			if asked[part.Kind]++; asked[part.Kind] > 2 {
				continue
			}
			v, err := desk.Part(ctx, part.SKU)
			if err != nil {
				t.Fatalf("seed %d, %s: %v", seed, part.SKU, err)
			}
			seen[v.Answer]++
			holds := func(b optimizer.Listed) bool { return slices.Contains(b.SKUs, part.SKU) }
			at, any := slices.IndexFunc(all, holds), slices.IndexFunc(whatever, holds)
			want := advice.Forbidden
			switch {
			case at == 0:
				want = advice.InBest
			case at > 0:
				want = advice.Possible
			case any >= 0:
				want = advice.AboveCap
			}
			if v.Answer != want {
				t.Fatalf("seed %d, %s: %s, want %s", seed, part.SKU, v.Answer, want)
			}
			switch v.Answer {
			case advice.Possible:
				if !slices.Equal(v.With.Build.SKUs(), all[at].SKUs) {
					t.Fatalf("seed %d: with %s\n got %v\nwant %v", seed, part.SKU, v.With.Build.SKUs(), all[at].SKUs)
				}
			case advice.AboveCap:
				cheapest := whatever[any].Cost
				for _, b := range whatever {
					if holds(b) {
						cheapest = min(cheapest, b.Cost)
					}
				}
				if v.Cheapest.Minor != cheapest || v.Over.Minor != cheapest-p.Brief.Cap.Minor {
					t.Fatalf("seed %d, %s: the cheapest costs %s, want %d", seed, part.SKU, v.Cheapest, cheapest)
				}
			case advice.Forbidden:
				if len(v.Rules)+len(v.Conflicts) == 0 {
					t.Fatalf("seed %d: %s is forbidden by nothing", seed, part.SKU)
				}
			}
			if v.Range == nil || asked[part.Kind] > 1 {
				continue
			}
			first := func(minor int64) []string {
				q := p
				shelf := *p.Catalogue
				shelf.Parts = slices.Clone(shelf.Parts)
				priced := *part
				priced.Price.Minor = minor
				shelf.Parts[slices.Index(shelf.Parts, part)] = &priced
				q.Catalogue = &shelf
				if list := optimizer.Enumerate(t, q, series); len(list) > 0 {
					return list[0].SKUs
				}
				return nil
			}
			if r := v.Range; !r.Free {
				broke++
				if !slices.Equal(first(r.Least.Minor), all[0].SKUs) {
					t.Fatalf("seed %d: at %s for %s the best build is another already", seed, r.Least, part.SKU)
				}
				if below := first(r.Least.Minor - 1); !slices.Equal(below, r.Below.SKUs()) || slices.Equal(below, all[0].SKUs) {
					t.Fatalf("seed %d: below %s for %s: %v, want %v", seed, r.Least, part.SKU, r.Below.SKUs(), below)
				}
			}
		}
	}
	t.Logf("answers: %v; %d break prices", seen, broke)
	if optimizer.Long() && len(seen) == 0 {
		t.Error("not every answer came up")
	}
}
