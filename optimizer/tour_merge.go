package optimizer

import (
	"cmp"
	"math/big"
	"slices"
	"strings"
)

// The builds of all tours in one order, and their accounts in one.

// found is a build with the tour that it costs least on.
type found struct {
	build Build
	tour  *tour
	skus  []string // repeats written out
}

func newFound(b Build, t *tour) found {
	f := found{build: b, tour: t}
	for _, l := range b.Lines {
		for range l.Count {
			f.skus = append(f.skus, l.Part.SKU)
		}
	}
	slices.Sort(f.skus)
	return f
}

// price is the order of prices before rounding.
func (f found) price(g found) int { return slices.Compare(f.build.due[:], g.build.due[:]) }

// ranked puts builds into the stated order, each once, at its least price.
func ranked(list []found, distinct Distinct) (out []found) {
	slices.SortStableFunc(list, func(a, b found) int {
		return cmp.Or(cmp.Compare(round(b.build.Objective), round(a.build.Objective)), a.price(b),
			cmp.Compare(len(a.skus), len(b.skus)), slices.Compare(a.skus, b.skus),
			cmp.Compare(len(a.tour.stores), len(b.tour.stores)), slices.Compare(a.tour.stores, b.tour.stores))
	})
	seen := map[string]bool{}
	for _, f := range list {
		key := strings.Join(f.skus, "\x00")
		if distinct == DistinctBass {
			key = f.build.Bass.Amplifier.SKU + "\x00" + f.build.Bass.Part.SKU
		}
		if !seen[key] {
			seen[key] = true
			out = append(out, f)
		}
	}
	return out
}

func noProof() Proof { return Proof{Combinations: new(big.Int), Evaluated: new(big.Int)} }

// join adds the account of one tour.
func (r *Result) join(o Outcome, s Stop, p Proof) {
	r.Proof.join(p)
	if o == Unknown && len(r.Builds) == 0 {
		r.Outcome = Unknown
	}
	r.Stop = max(r.Stop, s)
}

func (p *Proof) join(q Proof) {
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
