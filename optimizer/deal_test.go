package optimizer

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/verify"
)

// compareWithOracle holds the first builds of a problem against enumeration.
func compareWithOracle(t *testing.T, seed uint64, p Problem, car *task) (ranked, dealsTaken, seen int) {
	t.Helper()
	got, err := pickIn(context.Background(), p, car)
	if err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	full, err := readyIn(p, setting.Relaxation{}, car)
	if err != nil {
		t.Fatal(err)
	}
	o := &oracle{p: p, t: full}
	want := o.run(p.Top)
	same := len(want) == len(got.Builds)
	for i := 0; same && i < len(want); i++ {
		b := &got.Builds[i]
		same = build.Round(b.Objective) == want[i].level && slices.Equal(skus(b), want[i].skus) && b.Cost.Minor == want[i].cost
		dealsTaken += len(b.Deals)
	}
	if !same {
		s := ""
		for i, w := range want {
			s += fmt.Sprintf("%d: %.3f dB, %d, %v\n", i+1, w.level.DB(), w.cost, w.skus)
		}
		t.Fatalf("LOUDFOR_ORACLE_SEED=%d: goal %d front %d\nsearch: %s\noracle:\n%s", seed, p.Brief.Goal, p.Brief.Front, show(got), s)
	}
	checkProof(t, p, got)
	return len(want), dealsTaken, o.seen
}

// The first five builds with deals, labour and taxes by kind, over all the
// other rules; and where nothing can be built, the price that a cap would need.
func TestOracleWithDeals(t *testing.T) {
	c := garage(t)
	solved, ranked, taken := 0, 0, 0
	for seed := firstSeed(t); seed < firstSeed(t)+caseCount(t, cases); seed++ {
		p, car := c.small(seed)
		dealt(&p, seed)
		n, deals, _ := compareWithOracle(t, seed, p, car)
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
	for seed := uint64(1); seed <= caseCount(t, 60); seed++ {
		p, car := c.small(seed)
		dealt(&p, seed)
		p.Brief.Cap.Minor, p.Brief.Cap.Currency, p.Top, p.Distinct = 0, "", 1, DistinctParts
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		sum, ok := full.cheapest()
		want := int64(math.MaxInt64)
		for _, b := range (&oracle{p: p, t: full}).run(math.MaxInt) {
			want = min(want, b.cost)
		}
		if ok != (want < math.MaxInt64) || ok && full.Tax.Figure(sum) != want {
			t.Fatalf("seed %d: %d (%v), by enumeration %d", seed, full.Tax.Figure(sum), ok, want)
		}
	}
}

// The ladder with deals, step by step.
func TestLadderWithDeals(t *testing.T) {
	c := garage(t)
	for seed := uint64(1); seed <= caseCount(t, 60); seed++ {
		p, car := c.small(seed)
		dealt(&p, seed)
		p.Distinct = DistinctParts
		got, err := ladderIn(context.Background(), p, car)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		want := pareto((&oracle{p: p, t: full}).run(math.MaxInt))
		same := len(want) == len(got.Steps)
		for i := 0; same && i < len(want); i++ {
			b := &got.Steps[i].Build
			same = build.Round(b.Objective) == want[i].level && slices.Equal(skus(b), want[i].skus) && b.Cost.Minor == want[i].cost
		}
		if !same {
			t.Fatalf("seed %d\n%s\nby enumeration %v", seed, showLadder(got), want)
		}
	}
}

// Whatever is in the basket, the best division of the deals is the one that
// trying all of them finds; no deal raises a price; and the bounds hold: each
// piece's least price, and what a build is cheaper without a piece.
func TestPayIsTheLeast(t *testing.T) {
	c := garage(t)
	rapid.Check(t, func(r *rapid.T) {
		seed := rapid.Uint64Range(1, 300).Draw(r, "seed")
		p, car := c.small(seed)
		dealt(&p, seed)
		p.Brief.Drivers, p.Brief.Boxes, p.Brief.Amplifiers = 4, 4, 3
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			r.Fatal(err)
		}
		// Mostly parts in deals.
		var uses []pricing.Use
		for _, d := range p.Catalogue.Deals {
			for _, m := range d.Parts {
				uses = append(uses, pricing.Use{Item: full.Shelf.BySKU[m.SKU], Count: rapid.IntRange(0, 4).Draw(r, m.SKU)})
			}
		}
		for range rapid.IntRange(0, 3).Draw(r, "others") {
			uses = append(uses, pricing.Use{Item: full.Shelf.Items[rapid.IntRange(0, len(full.Shelf.Items)-1).Draw(r, "other")], Count: 1})
		}
		uses = slices.DeleteFunc(uses, func(u pricing.Use) bool { return !u.Item.Part.Priced }) // cannot be bought
		parts := pricing.Collect(uses...)
		var list []*catalog.Part
		used, bought := verify.Cart{}, verify.Cart{}
		limit, worth := int64(0), int64(0)
		inSearch := true
		for _, u := range parts {
			list = append(list, u.Item.Part)
			used[u.Item.Part.SKU], bought[u.Item.Part.SKU] = u.Count, max(0, u.Count-u.Item.Owned)
			limit += u.Item.Lower(u.Count)
			inSearch = inSearch && u.Count-u.Item.Owned <= full.BuyableIn(u.Item)
		}
		sum := full.Exact(parts)
		if due := verify.Due(&p, list, used, bought); (sum+full.Tax.Fixed)*full.Tax.Unit != due {
			r.Fatalf("%d x %d, by trying all %d", sum+full.Tax.Fixed, full.Tax.Unit, due)
		}
		if !inSearch {
			return
		}
		if limit > sum {
			r.Fatalf("the least price of %s is %d, its price %d", pricing.SKUs(parts), limit, sum)
		}
		for i, u := range parts {
			less := slices.Clone(parts)
			less[i].Count--
			worth = sum - full.Exact(less)
			if u.Item.Marginal() > worth || u.Item.List(1) < u.Item.Lower(1) || u.Item.Lower(1) < u.Item.Marginal() {
				r.Fatalf("%s is worth %d, the least price %d, the list price %d; without it the build is %d cheaper",
					u.Item.Part.SKU, u.Item.Marginal(), u.Item.Lower(1), u.Item.List(1), worth)
			}
		}
	})
}
