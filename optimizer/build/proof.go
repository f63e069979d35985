package build

import (
	"math/big"
	"slices"
)

// Proof accounts for every combination of the build space, as the package
// documentation defines it: Combinations is Evaluated plus all of Dropped.
// The counts can exceed any machine word, and depend neither on the number of
// workers nor on their timing.
type Proof struct {
	Combinations *big.Int
	Evaluated    *big.Int
	Dropped      []Drop  // in the order of the reasons
	GapDB        float64 // no build is louder than the first by more than this
}

// Drop is how many combinations one reason disposed of.
type Drop struct {
	Reason Reason
	Count  *big.Int
}

// Reason is why combinations need not be looked at one by one. Each
// combination is counted under the first reason that the search met.
type Reason int

const (
	DropNotOffered Reason = iota // never, another store, out of stock, without a price, card impossible
	DropFit                      // hole, depth, volume, too many drivers or boxes, no room in the car, no way through its boot
	DropHookup                   // no wiring at or above the rated load
	DropCap                      // over the cap even with the cheapest rest
	DropMust                     // leaves out a part that must be in
	DropKit                      // the wiring kit does not carry the current
	DropRest                     // signal path incomplete, front rule broken, or idle parts
	DropBound                    // provably below the last build of the ranking
	DropOrder                    // as loud at best, and behind the ranking by price
	DropTime                     // not reached before the search was stopped
	ReasonCount                  // how many there are
)

func (r Reason) String() string {
	return [...]string{
		"not offered", "does not fit", "no valid hookup", "over the cap", "required part missing",
		"cable current", "incomplete or outranked", "bound", "dominated", "not reached",
	}[r]
}

// EmptyProof is that of no search at all, for others to be joined to.
func EmptyProof() Proof { return Proof{Combinations: new(big.Int), Evaluated: new(big.Int)} }

// Join adds the counts of another search, of the same combinations at other shops.
func (p *Proof) Join(q Proof) {
	p.Combinations.Add(p.Combinations, q.Combinations)
	p.Evaluated.Add(p.Evaluated, q.Evaluated)
	for _, d := range q.Dropped {
		i := slices.IndexFunc(p.Dropped, func(e Drop) bool { return e.Reason == d.Reason })
		if i < 0 {
			p.Dropped = append(p.Dropped, Drop{Reason: d.Reason, Count: new(big.Int)})
			i = len(p.Dropped) - 1
		}
		p.Dropped[i].Count.Add(p.Dropped[i].Count, d.Count)
	}
	slices.SortFunc(p.Dropped, func(a, b Drop) int { return int(a.Reason - b.Reason) })
}
