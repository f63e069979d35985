package optimizer

import (
	"cmp"
	"fmt"
	"slices"

	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// The least money for a level: the cheapest build that reaches it. A level that is
// enough makes a plateau of all that reach it: what is louder counts as no louder. So
// the first of a ranking whose levels end there is the cheapest, then with the fewest
// pieces, then the first by SKUs, and all that holds for rankings holds for it: min(l,
// enough) rises with l, so a bound on a level, cut at enough, is one on what it counts.
// And as nothing counts more than an incumbent that is loud enough, its price is a cap.
//
// It is asked after a ranking, of the same lists, classes and groups: a lower cap only
// takes away from them, and the ceilings of groups hold for any. What was ranked and
// reaches the level is there to be beaten from the start. More than one are asked for:
// where the last of them costs more at the till, all that cost as little as the first
// are known, and which of them is the loudest; else one more search says so.

// pricedAlike is how many are asked for. Where prices follow qualities closely, a handful
// of ten thousand parts' builds cost the same to the cent.
const pricedAlike = 16

// leastMoney is the cheapest build as loud as a level that a search has reached; of
// those at one price at the till, the loudest. whole is false where it was ended.
func (s *search) leastMoney(l build.Level) (b *Build, whole bool, err error) {
	t, ranked := s.task, s.total.best
	limit, ceilings := t.Limit, make([]build.Level, len(s.groups))
	for i, g := range s.groups {
		ceilings[i] = g.ceiling
		g.ceiling = min(g.ceiling, l)
	}
	t.Problem.Distinct, t.Problem.Bare, t.Problem.Progress = DistinctParts, true, nil
	t.enough = l
	cheap := s.next(nil, pricedAlike)
	// Something to beat from the start: what costs no more than the loudest.
	for range pricedAlike - 1 {
		cheap.total.best = append(cheap.total.best, candidate{level: l, price: t.till(ranked[0].price) + 1})
	}
	for _, c := range ranked {
		if c.level >= l {
			c.level = l
			cheap.total.insert(c)
		}
	}
	cheap.groups = slices.Clone(s.groups)
	slices.SortStableFunc(cheap.groups, func(a, b *group) int {
		return cmp.Or(cmp.Compare(b.ceiling, a.ceiling), cmp.Compare(a.floor, b.floor))
	})
	cheap.run()
	t.enough, t.Limit = build.Loudest, limit
	for i, g := range s.groups {
		g.ceiling = ceilings[i]
	}
	if !cheap.finished {
		return nil, false, nil
	}
	all := cheap.total.best
	most, c := t.till(all[0].price), candidate{level: build.Silent}
	for _, x := range all {
		if x.parts == nil || x.price > most {
			break
		}
		if x.level, err = t.levelOf(x.parts); err != nil {
			return nil, false, err
		}
		if x.before(&c) {
			c = x
		}
	}
	if all[len(all)-1].price <= most {
		t.Limit = min(limit, most)
		loud := cheap.next([]candidate{c}, 1)
		loud.run()
		if t.Limit = limit; !loud.finished {
			return nil, false, nil
		}
		c = loud.total.best[0]
	}
	built, err := t.finish(&c)
	built.Rank = 1
	return &built, true, err
}

// till is the highest price that the till rounds to the same sum.
func (t *task) till(price int64) int64 { return t.Tax.Limit(t.Money(t.Tax.Figure(price))) }

// next is a search of the same groups for so many builds, of which some are known.
func (s *search) next(known []candidate, size int) *search {
	n := &search{task: s.task, offered: s.offered, rests64: s.rests64, kits64: s.kits64, openBound: build.Silent,
		bases: s.bases, base: s.base, spare: s.spare, all: s.all, most: s.most, aims: s.aims, comb: s.comb, groups: s.groups}
	n.total = ranking{size: size, same: s.sameRank, best: known}
	for i := range s.atClass {
		s.atClass[i].tariff.Store(nil)
	}
	return n
}

// narrowLimit makes the incumbent's price the cap where nothing counts more than it.
func (s *search) narrowLimit() {
	if last := s.total.last(); last != nil && last.level >= s.enough {
		s.task.Limit = min(s.task.Limit, last.price)
	}
}

// levelOf is the level of a set of parts that was found.
func (t *task) levelOf(parts pricing.Set) (build.Level, error) {
	g, box, err := t.blockOf(parts)
	if err != nil {
		return 0, fmt.Errorf("internal error: %w", err)
	}
	a, ok, err := t.arrange(parts, g, box, demands{})
	if err != nil || !ok {
		return 0, fmt.Errorf("internal error: a build that was found cannot be put together: %s (%v)", pricing.SKUs(parts), err)
	}
	defer drive.Release(a.prepared)
	l, _ := t.merits(&a)
	return l, nil
}
