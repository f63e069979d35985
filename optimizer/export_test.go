package optimizer

import (
	"math"
	"testing"

	"loudfor/optimizer/setting"
	"loudfor/optimizer/uncertainty"
)

// What tests outside the package need of the tests inside: random problems and
// the oracle.

// Listed is a build as the oracle lists it.
type Listed struct {
	SKUs  []string // sorted, with repeats
	Cost  int64    // what the till makes of it, minor units
	Level int64    // thousandths of a decibel
}

// SmallProblem is a random small problem with its car.
func SmallProblem(t testing.TB, seed uint64) (Problem, *Series) {
	p, car := garage(t).small(seed)
	p.Distinct = DistinctParts
	plain := car.Problem
	plain.Brief, plain.Vehicle = p.Brief, p.Vehicle
	return p, &Series{p: plain, car: car, known: make(map[string]*uncertainty.Sample)}
}

// Enumerate lists all builds of a problem in the stated order, one by one.
func Enumerate(t testing.TB, p Problem, s *Series) (all []Listed) {
	task, err := readyIn(p, setting.Relaxation{}, s.car)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range (&oracle{p: p, t: task}).run(math.MaxInt) {
		all = append(all, Listed{b.skus, b.cost, int64(b.level)})
	}
	return all
}
