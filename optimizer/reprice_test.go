package optimizer

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// repriced is a random problem with a second state of its catalogue: some
// prices, stocks and shops are others. Parts of the best build are among them
// more often than chance would have it.
func repriced(c *cars, seed uint64) (Problem, *task, *catalog.Catalogue) {
	p, car := c.small(seed)
	if seed%3 == 0 {
		dealt(&p, seed)
	}
	deals := p.Catalogue.Deals
	if seed%2 == 0 { // several shops for a part; going there costs something now and then
		manyShops(&p, seed)
		if seed%5 > 0 {
			p.Catalogue.Shops, p.Brief.MostStores = nil, 0
		}
	}
	shops := p.Catalogue.Shops
	p.Catalogue = catalog.New(p.Catalogue.Currency, p.Catalogue.Parts)
	p.Catalogue.Deals, p.Catalogue.Shops = deals, shops
	g := rand.New(rand.NewPCG(seed, 0x72657072))
	chance := []float64{0.03, 0.1, 0.4}[g.IntN(3)]
	direction := g.IntN(4) // most lists go one way
	var used []string
	if b, err := First(context.Background(), p); err == nil && b != nil && g.IntN(2) == 0 {
		used = skus(b)
	}
	var parts []*catalog.Part
	for _, part := range p.Catalogue.Parts {
		if g.Float64() > chance && (!slices.Contains(used, part.SKU) || g.IntN(3) > 0) {
			continue
		}
		q := *part
		if n := len(q.Offers); n > 0 && g.IntN(2) == 0 {
			q.Offers = slices.Clone(q.Offers)
			switch o := &q.Offers[g.IntN(n)]; g.IntN(3) {
			case 0:
				o.Stock = g.IntN(3)
			case 1:
				q.Offers = q.Offers[:n-1]
			default:
				o.Price.Minor = o.Price.Minor * int64(70+g.IntN(61)) / 100
			}
			parts = append(parts, &q)
			continue
		}
		switch g.IntN(8) {
		case 0:
			q.Stock = g.IntN(3)
		case 1:
			q.Store = []string{"North Counter", "South Counter", "Yard"}[g.IntN(3)]
		case 2:
			q.Priced = direction != 0
		default:
			factor := int64(70 + g.IntN(61))
			switch direction {
			case 0:
				factor = 100 + factor%30
			case 1:
				factor = 100 - factor%60
			}
			q.Price.Minor = q.Price.Minor * factor / 100
		}
		parts = append(parts, &q)
	}
	return p, car, p.Catalogue.With(parts...)
}

func answer(t *testing.T, p Problem, car *task) Best {
	t.Helper()
	p.Top, p.Distinct, p.Known, p.Shared, p.Bare = 1, DistinctParts, nil, nil, true
	if touring(&p) {
		r, err := pickIn(context.Background(), p, car)
		if err != nil || len(r.Builds) == 0 {
			return Best{}
		}
		return BestOf(&r.Builds[0])
	}
	task, err := readyIn(p, setting.Relaxation{}, car)
	if err != nil {
		t.Fatal(err)
	}
	s := task.search(context.Background())
	if len(s.total.best) == 0 {
		return Best{}
	}
	b, err := task.finish(&s.total.best[0])
	if err != nil {
		t.Fatal(err)
	}
	return BestOf(&b)
}

// What is said to be unaffected is, and the changes that matter are those that
// the definition gives, each tried with a full search by itself.
func TestRepricedAgainstFullSearches(t *testing.T) {
	c := garage(t)
	shared := new(Shared)
	unaffected, changed, matter, harmless, toured := 0, 0, 0, 0, 0
	for seed := firstSeed(t); seed < firstSeed(t)+max(12, caseCount(t, 60)); seed++ {
		p, car, to := repriced(c, seed)
		q := p
		q.Catalogue = to
		before, after := answer(t, p, car), answer(t, q, car)
		p.Shared = shared
		if Unaffected(p, to, before) {
			unaffected++
			if touring(&p) {
				toured++
			}
			if !before.Same(after) {
				t.Fatalf("seed %d: said to be unaffected, but %v became %v", seed, before, after)
			}
		}
		if !before.Same(after) {
			changed++
		}
		var want, seen []string
		for i, part := range p.Catalogue.Parts {
			next := to.Parts[i]
			if part == next {
				continue
			}
			one, undone := p, q
			one.Catalogue, undone.Catalogue = p.Catalogue.With(next), to.With(part)
			if !answer(t, one, car).Same(before) || !answer(t, undone, car).Same(after) {
				want = append(want, part.SKU)
			} else {
				harmless++
			}
		}
		got, err := Matters(context.Background(), p, to, before, after)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(got, want) {
			t.Fatalf("seed %d: %v matter, by definition %v\nbefore %v\nafter %v", seed, got, want, before, after)
		}
		if seen = Shown(p, to, before, after); len(seen) > 0 {
			for _, sku := range seen {
				if !slices.Contains(want, sku) {
					t.Fatalf("seed %d: %s is said to matter", seed, sku)
				}
			}
		}
		matter += len(want)
	}
	t.Logf("%d unaffected, %d of them with several shops, %d changed, %d changes matter, %d do not", unaffected, toured, changed, matter, harmless)
	if unaffected == 0 || toured == 0 || changed == 0 || matter == 0 || harmless == 0 {
		t.Error("the cases say little")
	}
}

// A build known beforehand and a memory shared with other problems change
// nothing of the ranking, whatever the build.
func TestKnownAndSharedChangeNothing(t *testing.T) {
	c := garage(t)
	shared := new(Shared)
	ctx := context.Background()
	for seed := uint64(9000); seed < 9000+caseCount(t, 25); seed++ {
		p, car := c.small(seed)
		p.Catalogue = catalog.New(p.Catalogue.Currency, p.Catalogue.Parts)
		want, err := pickIn(ctx, p, car)
		if err != nil {
			t.Fatal(err)
		}
		p.Shared = shared
		known := [][]catalog.Mention{nil, {{SKU: "none", Count: 1}}}
		for i := range want.Builds {
			known = append(known, build.Mentions(want.Builds[i].Lines))
		}
		g := rand.New(rand.NewPCG(seed, 1))
		var junk []catalog.Mention
		for range 6 {
			junk = append(junk, catalog.Mention{SKU: p.Catalogue.Parts[g.IntN(len(p.Catalogue.Parts))].SKU, Count: 1 + g.IntN(2)})
		}
		for i, k := range append(known, junk) {
			p.Known = k
			got, err := Pick(ctx, p)
			if err != nil {
				t.Fatal(err)
			}
			if show(got) != show(want) {
				t.Fatalf("seed %d, known %d: %s\nwant %s", seed, i, show(got), show(want))
			}
		}
	}
}

// Compare gives what Pick gives for the same builds.
func TestCompareIsWhatPickSays(t *testing.T) {
	c := garage(t)
	ctx := context.Background()
	for seed := uint64(9100); seed < 9110; seed++ {
		p, car := c.small(seed)
		p.Bare = false
		r, err := pickIn(ctx, p, car)
		if err != nil {
			t.Fatal(err)
		}
		builds := slices.Clone(r.Builds)
		for i := range builds {
			builds[i].Difference, builds[i].Tie, builds[i].Reading.Band, builds[i].Music.Band = Difference{}, false, 0, 0
		}
		if err := Compare(ctx, p, builds); err != nil {
			t.Fatal(err)
		}
		for i, b := range builds {
			want := r.Builds[i]
			if got, want := fmt.Sprint(b.Difference, b.Tie, b.Reading, b.Music), fmt.Sprint(want.Difference, want.Tie, want.Reading, want.Music); got != want {
				t.Fatalf("seed %d, build %d: %s, want %s", seed, i, got, want)
			}
		}
	}
}

// A change that makes nothing better leaves an answer as it is where its pieces can be
// had for what they cost.
func TestUnaffectedPieceByPiece(t *testing.T) {
	usd := func(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: "USD"} }
	offer := func(store string, minor int64, stock int) catalog.Offer {
		return catalog.Offer{Store: store, Price: usd(minor), Stock: stock}
	}
	whole := func(offers ...catalog.Offer) *catalog.Catalogue {
		o := offers[0]
		return catalog.New("USD", []*catalog.Part{{SKU: "S", Kind: catalog.KindSubwoofer, Priced: true, Limit: catalog.Unlimited, Store: o.Store, Price: o.Price, Stock: o.Stock, Offers: offers[1:]}})
	}
	was := whole(offer("near", 100, 2), offer("far", 150, 2))
	for name, c := range map[string]struct {
		to         *catalog.Catalogue
		unaffected [5]bool // with so many pieces in the answer
		owned      int
	}{
		"nothing changed":     {was, [5]bool{true, true, true, true, true}, 0},
		"dearer":              {whole(offer("near", 110, 2), offer("far", 150, 2)), [5]bool{true, false, false, false, false}, 0},
		"dearer, one owned":   {whole(offer("near", 110, 2), offer("far", 150, 2)), [5]bool{true, true, false, false, false}, 1},
		"dearer elsewhere":    {whole(offer("near", 100, 2), offer("far", 160, 2)), [5]bool{true, true, true, false, false}, 0},
		"fewer":               {whole(offer("near", 100, 1), offer("far", 150, 2)), [5]bool{true, true, false, false, false}, 0},
		"fewer elsewhere":     {whole(offer("near", 100, 2), offer("far", 150, 1)), [5]bool{true, true, true, true, false}, 0},
		"gone":                {whole(offer("near", 100, 0), offer("far", 150, 0)), [5]bool{true, false, false, false, false}, 0},
		"gone, two owned":     {whole(offer("near", 100, 0), offer("far", 150, 0)), [5]bool{true, true, true, false, false}, 2},
		"cheaper":             {whole(offer("near", 90, 2), offer("far", 150, 2)), [5]bool{}, 0},
		"more":                {whole(offer("near", 100, 3), offer("far", 150, 2)), [5]bool{}, 0},
		"cheaper and fewer":   {whole(offer("near", 90, 1), offer("far", 150, 1)), [5]bool{}, 0},
		"the other way round": {whole(offer("far", 150, 2), offer("near", 100, 2)), [5]bool{true, true, true, true, true}, 0},
	} {
		p := Problem{Catalogue: was, Brief: catalog.Brief{Cap: usd(1_000)}}
		if c.owned > 0 {
			p.Brief.Owned = []catalog.Mention{{SKU: "S", Count: c.owned}}
		}
		for n, want := range c.unaffected {
			var best Best
			if n > 0 {
				best.Parts = []catalog.Mention{{SKU: "S", Count: n}}
			}
			if got := Unaffected(p, c.to, best); got != want {
				t.Errorf("%s, %d pieces: %v, want %v", name, n, got, want)
			}
		}
	}
}
