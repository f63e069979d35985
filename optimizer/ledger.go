package optimizer

import (
	"math/big"

	"loudfor/optimizer/build"
)

// ledger counts drops in units of whole subtrees. A pair is a bass block with
// its amplifiers, and stands for every kit and every rest; a triple has its
// kit, and stands for every rest; single combinations count themselves.
type ledger struct {
	pairs, triples, singles [build.ReasonCount]uint64
	evaluated               uint64
}

func (t *ledger) add(o *ledger) {
	for r := range build.ReasonCount {
		t.pairs[r] += o.pairs[r]
		t.triples[r] += o.triples[r]
		t.singles[r] += o.singles[r]
	}
	t.evaluated += o.evaluated
}

// proof multiplies the ledger out.
func (t *ledger) proof(kits, rests uint64) Proof {
	perPair := new(big.Int).Mul(count(kits), count(rests))
	p := Proof{Combinations: new(big.Int), Evaluated: count(t.evaluated)}
	p.Combinations.Set(p.Evaluated)
	for r := range build.ReasonCount {
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
