package optimizer

import (
	"math"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/testing/generate"
	"loudfor/optimizer/uncertainty"
	"loudfor/optimizer/verify"
)

// What tests outside the package need of the tests inside: random problems and
// the oracle.

// Listed is a build as the oracle lists it.
type Listed struct {
	SKUs  []string // sorted, with repeats
	Cost  int64    // what the till makes of it, minor units
	Level int64    // thousandths of a decibel
}

// SmallProblem is a random small problem with its car; a third of them have shops to
// choose from.
func SmallProblem(t testing.TB, seed uint64) (Problem, *Series) {
	p, car := garage(t).small(seed)
	if seed%3 == 0 {
		manyShops(&p, seed)
	}
	return inSeries(p, car)
}

// TinyProblem is a smaller one still, for what asks about it again and again.
func TinyProblem(t testing.TB, seed uint64) (Problem, *Series) {
	return inSeries(garage(t).drawn(seed, tiniest))
}

// tiniest is how many combinations it may have.
const tiniest = 1_500

// MixedProblem is one as small in which all rules meet: deals, labour, taxes, several
// shops.
func MixedProblem(t testing.TB, seed uint64) (Problem, *Series) {
	return inSeries(garage(t).mixedOf(seed, tiniest))
}

func inSeries(p Problem, car *task) (Problem, *Series) {
	p.Distinct = DistinctParts
	plain := car.Problem
	plain.Brief, plain.Vehicle = p.Brief, p.Vehicle
	return p, &Series{p: plain, car: car, known: make(map[string]*uncertainty.Sample)}
}

// Listing is every build of a problem, whatever it costs.
type Listing struct {
	p   Problem
	all []oracleBuild
}

// Enumerate lists all builds of a problem, one by one.
func Enumerate(t testing.TB, p Problem, s *Series) Listing {
	task, err := readyIn(p, setting.Relaxation{}, s.car)
	if err != nil {
		t.Fatal(err)
	}
	return Listing{p, (&oracle{p: p, t: task}).all()}
}

// Within ranks the builds within a cap in the stated order; without one all.
func (l Listing) Within(limit catalog.Money) (list []Listed) {
	for _, b := range (&oracle{}).rank(l.all, limit, l.p.Distinct, math.MaxInt) {
		list = append(list, Listed{b.skus, b.cost, int64(b.level)})
	}
	return list
}

// Priced is the list with another price of one part. What can be built, and how
// loud it is, hangs on no price: only the till is asked again.
func (l Listing) Priced(sku string, minor int64) Listing {
	shelf := *l.p.Catalogue
	shelf.Parts = slices.Clone(shelf.Parts)
	parts := map[string]*catalog.Part{}
	for i, part := range shelf.Parts {
		if part.SKU == sku {
			priced := *part
			priced.Price.Minor = minor
			shelf.Parts[i] = &priced
		}
		parts[part.SKU] = shelf.Parts[i]
	}
	l.p.Catalogue, l.all = &shelf, slices.Clone(l.all)
	till := newOracleTill(&l.p)
	for i := range l.all {
		b := &l.all[i]
		var cart []*catalog.Part
		for _, sku := range b.skus {
			cart = append(cart, parts[sku])
		}
		b.price, _ = till.due(cart)
		b.cost = verify.RoundHalfUp(b.price)
	}
	slices.SortFunc(l.all, oracleBuild.compare)
	return l
}

// Large is a generated problem of so many parts, in two steps.
func Large(t testing.TB, n int, tightness generate.Tightness, goal catalog.Goal) Problem {
	p, _ := large(garage(t), n, 400, tightness, goal)
	p.Brief.Steps = []catalog.Money{p.Brief.Cap, {Minor: 2 * p.Brief.Cap.Minor, Currency: p.Brief.Cap.Currency}}
	return p
}
