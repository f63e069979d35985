package optimizer

import "math/big"

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
	reasonCount
)

func (r Reason) String() string {
	return [...]string{
		"not offered", "does not fit", "no valid hookup", "over the cap", "required part missing",
		"cable current", "incomplete or outranked", "bound", "dominated", "not reached",
	}[r]
}

// tally counts drops in units of whole subtrees. A pair is a bass block with
// its amplifiers, and stands for every kit and every rest; a triple has its
// kit, and stands for every rest; single combinations count themselves.
type tally struct {
	pairs, triples, singles [reasonCount]uint64
	evaluated               uint64
}

func (t *tally) add(o *tally) {
	for r := range reasonCount {
		t.pairs[r] += o.pairs[r]
		t.triples[r] += o.triples[r]
		t.singles[r] += o.singles[r]
	}
	t.evaluated += o.evaluated
}

// proof multiplies the tally out.
func (t *tally) proof(kits, rests uint64) Proof {
	perPair := new(big.Int).Mul(count(kits), count(rests))
	p := Proof{Combinations: new(big.Int), Evaluated: count(t.evaluated)}
	p.Combinations.Set(p.Evaluated)
	for r := range reasonCount {
		n := new(big.Int).Mul(count(t.pairs[r]), perPair)
		n.Add(n, new(big.Int).Mul(count(t.triples[r]), count(rests)))
		n.Add(n, count(t.singles[r]))
		if n.Sign() != 0 {
			p.Dropped = append(p.Dropped, Drop{Reason: r, Count: n})
		}
		p.Combinations.Add(p.Combinations, n)
	}
	return p
}

func count(n uint64) *big.Int { return new(big.Int).SetUint64(n) }
