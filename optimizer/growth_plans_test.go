package optimizer_test

import (
	"cmp"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/growth"
)

// Plans in steps are held against looking at every plan there is: every build of the
// first step, with each every choice of what to sell, with each every build of the
// second, and so on. Nothing is dropped and nothing is bounded; the builds of each
// step are those that the oracle of the builds lists one by one, and the order of
// plans is written down once more from the documentation.

type everyPlan struct {
	t      testing.TB
	p      optimizer.Problem
	series *optimizer.Series
	builds map[string][]optimizer.Listed // by what is in the customer's hands
	price  map[string]int64              // of a piece, for its resale
	free   []int64                       // level of the best from nothing, by step
	best   *listedPlan
	seen   int
}

type listedPlan struct {
	skus   [][]string
	levels []int64
	spent  int64 // less sales
	thrown int64
}

func (e *everyPlan) every(own map[string]int, limit int64) (within []optimizer.Listed) {
	var hands []catalog.Mention
	for sku, n := range own {
		if n > 0 {
			hands = append(hands, catalog.Mention{SKU: sku, Count: n})
		}
	}
	slices.SortFunc(hands, func(a, b catalog.Mention) int { return strings.Compare(a.SKU, b.SKU) })
	key := fmt.Sprint(hands)
	all, known := e.builds[key]
	if !known {
		q := e.p
		q.Brief.Owned, q.Brief.Steps, q.Brief.Cap = hands, nil, catalog.Money{}
		all = optimizer.Enumerate(e.t, q, e.series).Within(catalog.Money{})
		e.builds[key] = all
	}
	for _, b := range all {
		if b.Cost <= limit {
			within = append(within, b)
		}
	}
	return within
}

// go on with a plan: bought is what was bought so far and not sold, of it gone was
// sold; spent is without sales.
func (e *everyPlan) grow(plan listedPlan, held map[string]int, ever map[string]int, sales int64) {
	step := len(plan.skus)
	if step == len(e.p.Brief.Steps) {
		e.judge(plan, ever, sales)
		return
	}
	sell := func(sold map[string]int) {
		rest, own, brought := map[string]int{}, map[string]int{}, sales
		for _, m := range e.p.Brief.Owned {
			own[m.SKU] += max(m.Count, 1)
		}
		for sku, n := range held {
			rest[sku] = n - sold[sku]
			own[sku] += rest[sku]
			brought += int64(sold[sku]) * (e.price[sku] * e.p.Brief.Resale / 1_000_000)
		}
		for _, b := range e.every(own, e.p.Brief.Steps[step].Minor-plan.spent+brought) {
			e.seen++
			next := listedPlan{append(slices.Clone(plan.skus), b.SKUs), append(slices.Clone(plan.levels), b.Level), plan.spent + b.Cost, 0}
			now, all := map[string]int{}, map[string]int{}
			for sku, n := range rest {
				now[sku] = n
			}
			for sku, n := range ever {
				all[sku] = n
			}
			for _, sku := range b.SKUs {
				if own[sku]--; own[sku] < 0 { // bought
					now[sku]++
					all[sku]++
				}
			}
			for _, sku := range b.SKUs {
				own[sku]++
			}
			e.grow(next, now, all, brought)
		}
	}
	if e.p.Brief.Resale == 0 {
		sell(nil)
		return
	}
	var skus []string
	for sku, n := range held {
		if n > 0 {
			skus = append(skus, sku)
		}
	}
	slices.Sort(skus)
	var choose func(i int, sold map[string]int)
	choose = func(i int, sold map[string]int) {
		if i == len(skus) {
			sell(sold)
			return
		}
		for n := range held[skus[i]] + 1 {
			sold[skus[i]] = n
			choose(i+1, sold)
		}
		sold[skus[i]] = 0
	}
	choose(0, map[string]int{})
}

func (e *everyPlan) judge(plan listedPlan, ever map[string]int, sales int64) {
	own := map[string]int{}
	for _, m := range e.p.Brief.Owned {
		own[m.SKU] += max(m.Count, 1)
	}
	uses := map[string]int{}
	for _, sku := range plan.skus[len(plan.skus)-1] {
		uses[sku]++
	}
	for sku, n := range ever {
		plan.thrown += int64(min(n, max(0, own[sku]+n-uses[sku]))) * e.price[sku]
	}
	plan.thrown -= sales
	plan.spent -= sales
	if e.best == nil || e.compare(&plan, e.best) < 0 {
		e.best = &plan
	}
}

func (e *everyPlan) short(a *listedPlan) (worst int64) {
	for i, l := range a.levels {
		worst = max(worst, e.free[i]-1000-l)
	}
	return worst
}

func (e *everyPlan) compare(a, b *listedPlan) int {
	end := func() int {
		x, y := slices.Clone(a.levels), slices.Clone(b.levels)
		slices.Reverse(x)
		slices.Reverse(y)
		return slices.Compare(y, x)
	}
	var c int
	switch e.p.Brief.Order.String() {
	case "first":
		c = cmp.Compare(b.levels[0], a.levels[0])
	case "fair":
		c = cmp.Or(cmp.Compare(e.short(a), e.short(b)), cmp.Compare(a.thrown, b.thrown))
	}
	if c = cmp.Or(c, end(), cmp.Compare(a.spent, b.spent)); c != 0 {
		return c
	}
	for i := range a.skus {
		if c := cmp.Or(cmp.Compare(len(a.skus[i]), len(b.skus[i])), slices.Compare(a.skus[i], b.skus[i])); c != 0 {
			return c
		}
	}
	return 0
}

// pieces is the least that a piece of each part can cost, by the documentation: what
// the cheapest shop asks; or what a deal leaves of it, a set in proportion to what its
// parts cost alone, and of parts with different taxes nothing.
func piecePrices(p *optimizer.Problem) map[string]int64 {
	alone, least := map[string]int64{}, map[string]int64{}
	kinds := map[string]catalog.Kind{}
	for _, part := range p.Catalogue.Parts {
		kinds[part.SKU] = part.Kind
		if !part.Priced || part.Limit == 0 || slices.ContainsFunc(p.Brief.Never, func(m catalog.Mention) bool { return m.SKU == part.SKU }) {
			continue
		}
		for _, o := range append([]catalog.Offer{{Store: part.Store, Price: part.Price, Stock: part.Stock}}, part.Offers...) {
			if old, known := alone[part.SKU]; p.Brief.Sells(o.Store) && o.Stock != 0 && (!known || o.Price.Minor < old) {
				alone[part.SKU] = o.Price.Minor
			}
		}
	}
	for sku, price := range alone {
		for _, d := range p.Catalogue.Deals {
			for _, m := range d.Parts {
				if m.SKU != sku {
					continue
				}
				with := price
				switch d.Form {
				case catalog.DealFrom:
					with = d.Price.Minor
				case catalog.DealEvery:
					with = d.Reduced(alone[sku])
				case catalog.DealSet:
					var all int64
					mixed := false
					for _, n := range d.Parts {
						all += int64(n.Count) * alone[n.SKU]
						mixed = mixed || p.Brief.TaxOn(kinds[n.SKU]) != p.Brief.TaxOn(kinds[sku])
					}
					if with = 0; all > 0 && !mixed {
						with = d.Price.Minor * alone[sku] / all
					}
				}
				price = min(price, with)
			}
		}
		least[sku] = price
	}
	return least
}

// steps gives a small problem money in steps, near what its builds cost, so that few
// builds are within the first.
func steps(t testing.TB, g *rand.Rand, p *optimizer.Problem, series *optimizer.Series) bool {
	q := *p
	q.Brief.Cap = catalog.Money{}
	all := optimizer.Enumerate(t, q, series).Within(catalog.Money{})
	if len(all) == 0 {
		return false
	}
	slices.SortStableFunc(all, func(a, b optimizer.Listed) int { return cmp.Compare(a.Cost, b.Cost) })
	few := 1 + g.IntN(min(len(all), 10))
	n := 2
	if few <= 3 && g.IntN(2) == 0 {
		n = 3
	}
	sum := catalog.Money{Minor: all[few-1].Cost + int64(g.IntN(500)), Currency: p.Catalogue.Currency}
	if sum.Minor == 0 {
		sum.Minor = 1
	}
	p.Brief.Cap, p.Brief.Steps = sum, []catalog.Money{sum}
	for len(p.Brief.Steps) < n {
		more := all[g.IntN(len(all))].Cost
		sum.Minor += max(100, more*int64(10+g.IntN(90))/100)
		p.Brief.Steps = append(p.Brief.Steps, sum)
	}
	if g.IntN(2) == 0 {
		p.Brief.Resale = int64(g.IntN(10)) * 100_000
	}
	p.Brief.Order = catalog.PlanOrder(g.IntN(3))
	within := 0
	for _, b := range all {
		if b.Cost <= p.Brief.Cap.Minor {
			within++
		}
	}
	// What is looked at grows with a power of it.
	if p.Brief.Resale == 0 {
		return within <= []int{2: 12, 3: 3}[n] && (n == 2 || len(all) <= 200)
	}
	return within <= []int{2: 5, 3: 2}[n] && (n == 2 || len(all) <= 20)
}

func plansToTry(t testing.TB) uint64 {
	if s := os.Getenv("LOUDFOR_ORACLE_CASES"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil {
			t.Fatal(err)
		}
		return uint64(n)
	}
	if optimizer.Long() {
		return 80 // beyond, one of the order fair takes minutes: it has no bound on what is thrown away
	}
	if testing.Short() {
		return 8
	}
	return 24
}

// wrongOnce are seeds whose plans were wrong: a second amplifier that plays at the front
// counted as thrown away, and front speakers without a use as not there.
var wrongOnce = []uint64{3322, 3426, 3538, 3544, 3552, 3810, 4246, 4413}

func TestPlansAgainstEveryPlan(t *testing.T) {
	from := uint64(1)
	if s := os.Getenv("LOUDFOR_ORACLE_SEED"); s != "" {
		n, err := strconv.ParseUint(s, 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		from = n
	}
	tried, planned, looked, changes, asked := uint64(0), 0, 0, 0, 0
	again := wrongOnce
	if from > 1 || testing.Short() {
		again = nil
	}
	seeds := func(yield func(uint64) bool) {
		for _, seed := range again {
			if !yield(seed) {
				return
			}
		}
		for seed := from; yield(seed); seed++ {
		}
	}
	for seed := range seeds {
		if tried == plansToTry(t)+uint64(len(again)) {
			break
		}
		draw := optimizer.TinyProblem
		if seed%2 == 0 {
			draw = optimizer.MixedProblem
		}
		p, series := draw(t, seed)
		g := rand.New(rand.NewPCG(seed, 0x706c616e))
		if !steps(t, g, &p, series) {
			continue
		}
		tried++
		e := &everyPlan{t: t, p: p, series: series, builds: map[string][]optimizer.Listed{}, price: piecePrices(&p)}
		for _, sum := range p.Brief.Steps {
			own := map[string]int{}
			for _, m := range p.Brief.Owned {
				own[m.SKU] += max(m.Count, 1)
			}
			level := int64(-1 << 40)
			for _, b := range e.every(own, sum.Minor) {
				level = max(level, b.Level)
			}
			e.free = append(e.free, level)
		}
		e.grow(listedPlan{}, map[string]int{}, map[string]int{}, 0)
		looked += e.seen
		plan, err := growth.Solve(context.Background(), p)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if asked += plan.Asked; plan.Asked < len(plan.Steps) {
			t.Errorf("seed %d: %d searches for a plan of %d steps", seed, plan.Asked, len(plan.Steps))
		}
		var got *listedPlan
		if len(plan.Steps) > 0 {
			got = &listedPlan{spent: plan.Spent.Minor, thrown: plan.Thrown.Minor}
			for i := range plan.Steps {
				b := &plan.Steps[i].Build
				got.skus = append(got.skus, b.SKUs())
				got.levels = append(got.levels, int64(b.Objective*1000+0.5))
			}
		}
		if fmt.Sprint(got) != fmt.Sprint(e.best) && (got == nil || e.best == nil || e.compare(got, e.best) != 0 || got.thrown != e.best.thrown) {
			t.Errorf("seed %d, order %s, resale %d, steps %v, owned %v, outcome %v:\n got %+v\nwant %+v", seed, p.Brief.Order, p.Brief.Resale, p.Brief.Steps, p.Brief.Owned, plan.Outcome, got, e.best)
		}
		t.Logf("seed %d: %s, resale %d, %d steps, %d looked at, %d searches", seed, p.Brief.Order, p.Brief.Resale/10_000, len(p.Brief.Steps), e.seen, plan.Asked)
		if e.best != nil {
			planned++
			if e.best.levels[0] != e.free[0] {
				changes++
			}
		}
	}
	t.Logf("%d plans of %d problems, %d steps looked at; in %d the first buy is not the loudest; %d searches", planned, tried, looked, changes, asked)
	// One plan in thirty or so buys first what is not the loudest: a short run may miss them.
	if planned < int(tried)/2 || tried >= 80 && changes == 0 {
		t.Error("the cases say little")
	}
}
