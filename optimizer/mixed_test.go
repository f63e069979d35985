package optimizer

import (
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// mixedCases is how many problems with all rules are tried. More with
// LOUDFOR_ORACLE_CASES=2000.
const mixedCases = 150

// All rules in one kind of case: the first five builds, the ladder, and the
// cheapest build of all, held against enumeration. What each rule did is counted
// besides: one that changes no answer in the whole run is not under test.
func TestOracleOfAllRules(t *testing.T) {
	c := garage(t)
	count := caseCount(t, mixedCases)
	n := mixedCount{bites: map[string]int{}}
	for seed := firstSeed(t); seed < firstSeed(t)+count; seed++ {
		p, car := c.mixed(seed)
		n.compare(t, seed, p, car)
		if t.Failed() {
			return
		}
	}
	t.Log(n.String())
	if count < mixedCases || os.Getenv("LOUDFOR_ORACLE_SEED") != "" {
		return
	}
	if n.solved < int(count)/3 || n.twoShops < n.builds/20 || n.twoTrips < n.builds/20 || n.deals < n.builds/5 {
		t.Errorf("the cases say little: %s", n.String())
	}
	for _, r := range mixedRules {
		if n.bites[r.name] == 0 {
			t.Errorf("%s changed no answer of %d", r.name, count)
		}
	}
}

// mixedCount is what was compared, and how much of it says something.
type mixedCount struct {
	cases, solved int
	builds, steps int
	looked, carts int // combinations enumerated, carts paid for
	deals         int // in the builds
	twoShops      int // parts bought in two shops at once
	twoTrips      int // builds bought in two shops
	bites         map[string]int
}

func (n *mixedCount) String() string {
	s := fmt.Sprintf("%d problems, %d have builds; %d builds and %d steps compared with %d combinations and %d carts; %d deals, %d parts from two shops at once, %d builds from several shops; answers changed by",
		n.cases, n.solved, n.builds, n.steps, n.looked, n.carts, n.deals, n.twoShops, n.twoTrips)
	for _, r := range mixedRules {
		s += fmt.Sprintf(" %s %d,", r.name, n.bites[r.name])
	}
	return strings.TrimSuffix(s, ",")
}

func (n *mixedCount) compare(t *testing.T, seed uint64, p Problem, car *task) {
	t.Helper()
	full, err := readyIn(p, setting.Relaxation{}, car)
	if err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	o := &oracle{p: p, t: full}
	all := o.all()
	n.cases, n.looked, n.carts = n.cases+1, n.looked+o.seen, n.carts+o.till.carts

	got, err := pickIn(context.Background(), p, car)
	if err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	want := o.rank(all, p.Brief.Cap, p.Distinct, p.Top)
	var builds []*Build
	for i := range got.Builds {
		builds = append(builds, &got.Builds[i])
		n.look(&got.Builds[i])
	}
	sameBuilds(t, seed, "the ranking", builds, want)
	n.builds += len(want)

	q := p
	q.Distinct = DistinctParts
	ladder, err := ladderIn(context.Background(), q, car)
	if err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	var steps []*Build
	for i := range ladder.Steps {
		steps = append(steps, &ladder.Steps[i].Build)
	}
	edge := pareto(o.rank(all, p.Brief.Cap, DistinctParts, math.MaxInt))
	sameBuilds(t, seed, "the ladder", steps, edge)
	n.steps += len(edge)

	cost, ok := leastOf(t, q, car)
	least := int64(math.MaxInt64)
	for _, b := range all {
		least = min(least, b.cost)
	}
	if ok != (len(all) > 0) || ok && cost != least {
		t.Errorf("LOUDFOR_ORACLE_SEED=%d: the cheapest costs %d (%v), by enumeration %d", seed, cost, ok, least)
	}
	if len(want) > 0 {
		n.solved++
	}
	if len(want) == 0 {
		return
	}
	before := listed(t, p, car)
	for _, r := range mixedRules {
		if listed(t, r.without(p), car) != before {
			n.bites[r.name]++
		}
	}
}

// listed writes a ranking, without asking why there is none.
func listed(t *testing.T, p Problem, car *task) (s string) {
	t.Helper()
	if touring(&p) {
		r, _, err := bestOfTours(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		return show(r)
	}
	q, err := readyIn(p, setting.Relaxation{}, car)
	if err != nil {
		t.Fatal(err)
	}
	var r Result
	if r.Builds, err = q.finishAll(q.search(context.Background()).total.best); err != nil {
		t.Fatal(err)
	}
	if len(r.Builds) > 0 {
		r.Outcome = Optimal
	} else {
		r.Outcome = Infeasible
	}
	return show(r)
}

// look counts what a build's price is made of.
func (n *mixedCount) look(b *Build) {
	n.deals += len(b.Deals)
	shops := map[string]bool{}
	for i := range b.Lines {
		l := &b.Lines[i]
		if len(l.From) > 1 {
			n.twoShops++
		}
		for _, x := range l.Purchases() {
			if x.Store != "" {
				shops[strings.ToLower(x.Store)] = true
			}
		}
	}
	if len(shops) > 1 {
		n.twoTrips++
	}
}

// leastOf is what the cheapest build of all costs, whatever the cap.
func leastOf(t *testing.T, p Problem, car *task) (int64, bool) {
	t.Helper()
	plain := car.Problem
	plain.Brief.Vehicle, plain.Vehicle = p.Brief.Vehicle, p.Vehicle
	cost, ok, err := (&Series{p: plain, car: car}).Cheapest(p)
	if err != nil {
		t.Fatal(err)
	}
	return cost.Minor, ok
}

// sameBuilds holds builds against those of the oracle: level, price, parts, and
// that what is bought where can be, and costs what the build costs.
func sameBuilds(t *testing.T, seed uint64, what string, got []*Build, want []oracleBuild) {
	t.Helper()
	same := len(got) == len(want)
	for i := 0; same && i < len(want); i++ {
		b := got[i]
		same = build.Round(b.Objective) == want[i].level && slices.Equal(skus(b), want[i].skus) && b.Cost.Minor == want[i].cost
	}
	if same {
		return
	}
	var s strings.Builder
	for i, b := range got {
		fmt.Fprintf(&s, "%d: %.3f dB, %d, %v\n", i+1, b.Objective, b.Cost.Minor, skus(b))
	}
	s.WriteString("by enumeration:\n")
	for i, b := range want {
		fmt.Fprintf(&s, "%d: %.3f dB, %d, %v\n", i+1, b.level.DB(), b.cost, b.skus)
	}
	t.Errorf("LOUDFOR_ORACLE_SEED=%d: %s\n%s", seed, what, s.String())
}

// mixedRule is a rule that a problem can be freed of.
type mixedRule struct {
	name string
	drop func(p *Problem) // has its own brief, parts and deals
}

// without is a problem freed of the rule.
func (r *mixedRule) without(p Problem) (q Problem) {
	q = p
	c := *p.Catalogue
	c.Parts, c.Deals = nil, nil
	for _, part := range p.Catalogue.Parts {
		copied := *part
		copied.Offers = slices.Clone(part.Offers)
		c.Parts = append(c.Parts, &copied)
	}
	for _, d := range p.Catalogue.Deals {
		copied := *d
		c.Deals = append(c.Deals, &copied)
	}
	q.Catalogue = &c
	q.Vehicle.Labour = slices.Clone(p.Vehicle.Labour)
	r.drop(&q)
	return q
}

// noDeals drops those of a form.
func noDeals(f catalog.DealForm) func(*Problem) {
	return func(p *Problem) {
		p.Catalogue.Deals = slices.DeleteFunc(p.Catalogue.Deals, func(d *catalog.Deal) bool { return d.Form == f })
	}
}

var mixedRules = []mixedRule{
	{"sets", noDeals(catalog.DealSet)},
	{"quantity breaks", noDeals(catalog.DealFrom)},
	{"every n-th piece", noDeals(catalog.DealEvery)},
	{"limits of deals", func(p *Problem) {
		for _, d := range p.Catalogue.Deals {
			d.Limit = catalog.Unlimited
		}
	}},
	{"shops of deals", func(p *Problem) {
		for _, d := range p.Catalogue.Deals {
			d.Store = ""
		}
	}},
	{"limits per customer", func(p *Problem) {
		for _, part := range p.Catalogue.Parts {
			part.Limit = catalog.Unlimited
		}
	}},
	{"stock", func(p *Problem) {
		for _, part := range p.Catalogue.Parts {
			part.Stock = catalog.Unlimited
			for i := range part.Offers {
				part.Offers[i].Stock = catalog.Unlimited
			}
		}
	}},
	{"offers of other shops", func(p *Problem) {
		for _, part := range p.Catalogue.Parts {
			part.Offers = nil
		}
	}},
	{"trips", func(p *Problem) { p.Catalogue.Shops = nil }},
	{"at most so many shops", func(p *Problem) { p.Brief.MostStores = 0 }},
	{"allowed shops", func(p *Problem) { p.Brief.Stores = nil }},
	{"owned", func(p *Problem) { p.Brief.Owned = nil }},
	{"must", func(p *Problem) { p.Brief.Must = nil }},
	{"never", func(p *Problem) { p.Brief.Never = nil }},
	{"space", func(p *Problem) { p.Brief.Space = catalog.Size3{Width: 9, Depth: 9, Height: 9} }},
	{"tax", func(p *Problem) { p.Brief.TaxPPM = 0 }},
	{"tax by kind", func(p *Problem) { p.Brief.TaxByKind = nil }},
	{"tax on labour", func(p *Problem) { p.Brief.LabourTax = nil }},
	{"labour", func(p *Problem) { p.Brief.Labour, p.Vehicle.Labour = nil, nil }},
	{"the cap", func(p *Problem) { p.Brief.Cap = catalog.Money{} }},
	{"the number of boxes", func(p *Problem) { p.Brief.Boxes++ }},
	{"the number of drivers", func(p *Problem) { p.Brief.Drivers++ }},
	{"the number of amplifiers", func(p *Problem) { p.Brief.Amplifiers++ }},
	{"the front", func(p *Problem) { p.Brief.Front = catalog.FrontKeep }},
	{"watts for the front", func(p *Problem) { p.Brief.FrontWatts = 1 }},
	{"the lift of the bass", func(p *Problem) { p.Brief.BassLift = 0 }},
	{"one build of each pair", func(p *Problem) { p.Distinct = DistinctParts }},
}
