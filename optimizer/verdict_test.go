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
// best that holds it; what the cheapest costs; and between which of its prices
// the best one stays, and what follows it.
func TestVerdictsByEnumeration(t *testing.T) {
	cases := 100
	if !optimizer.Long() {
		cases = 10
	}
	ctx := context.Background()
	seen := map[advice.Answer]int{}
	ends := map[string]int{}
	for seed := uint64(80_000); cases > 0; seed++ {
		p, series := optimizer.SmallProblem(t, seed)
		listing := optimizer.Enumerate(t, p, series)
		whatever := listing.Within(catalog.Money{})
		g := rand.New(rand.NewPCG(seed, 11))
		if seed%2 == 0 && len(whatever) > 0 {
			p.Brief.Cap.Minor = whatever[g.IntN(len(whatever))].Cost // so that parts are above it
		}
		desk, err := advice.AskIn(ctx, series, p)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		best := desk.Best()
		all := listing.Within(p.Brief.Cap)
		if (best == nil) != (len(all) == 0) || best != nil && !slices.Equal(best.SKUs(), all[0].SKUs) {
			t.Fatalf("seed %d: the best build", seed)
		}
		if best == nil {
			continue
		}
		cases--
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
			r := v.Range
			if r == nil {
				continue
			}
			first := func(minor int64) []string {
				if list := listing.Priced(part.SKU, minor).Within(p.Brief.Cap); len(list) > 0 {
					return list[0].SKUs
				}
				return nil
			}
			until := func(what string, end, next int64, follows *optimizer.Build) {
				ends[what]++
				if !slices.Equal(first(end), all[0].SKUs) {
					t.Fatalf("seed %d: at %d for %s the best build is another already", seed, end, part.SKU)
				}
				var want []string
				if follows != nil {
					want = follows.SKUs()
				}
				if got := first(next); !slices.Equal(got, want) || slices.Equal(got, all[0].SKUs) {
					t.Fatalf("seed %d: at %d for %s the best build is %v, want %v", seed, next, part.SKU, got, want)
				}
			}
			switch {
			case !r.Free:
				until("least", r.Least.Minor, r.Least.Minor-1, r.Below)
			case !slices.Equal(first(0), all[0].SKUs):
				t.Fatalf("seed %d: %s as a gift changes the best build", seed, part.SKU)
			}
			switch {
			case !r.Open && !r.Dead:
				until("most", r.Most.Minor, r.Most.Minor+1, r.Above)
			case !r.Open:
				until("dead", r.Most.Minor, r.Most.Minor+1, nil)
			case !slices.Equal(first(1e9), all[0].SKUs):
				t.Fatalf("seed %d: %s for ten millions changes the best build", seed, part.SKU)
			}
		}
	}
	t.Logf("answers: %v; ends of prices: %v", seen, ends)
	if optimizer.Long() && (len(seen) < 4 || len(ends) < 3) {
		t.Error("not every answer or end came up")
	}
}
