package optimizer

import (
	"cmp"
	"fmt"
	"slices"

	"loudfor/optimizer/build"
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
// takes away from them, and the ceilings of groups hold for any. The loudest build,
// which reaches the level, is there to be beaten from the start.

// leastMoney is the cheapest build as loud as a level that a search has reached; of
// those at one price at the till, the loudest. whole is false where it was ended.
func (s *search) leastMoney(l build.Level) (b *Build, whole bool, err error) {
	t, first := s.task, s.total.best[0]
	limit, ceilings := t.Limit, make([]build.Level, len(s.groups))
	for i, g := range s.groups {
		ceilings[i] = g.ceiling
		g.ceiling = min(g.ceiling, l)
	}
	t.Problem.Distinct, t.Problem.Bare, t.Problem.Progress = DistinctParts, true, nil
	t.enough, first.level = l, l
	cheap := s.next(first)
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
	// The till may round several prices to one.
	c := cheap.total.best[0]
	t.Limit = min(limit, t.Tax.Limit(t.Money(t.Tax.Figure(c.price))))
	if c.level, err = t.levelOf(c.parts); err != nil {
		return nil, false, err
	}
	loud := cheap.next(c)
	loud.run()
	if t.Limit = limit; !loud.finished {
		return nil, false, nil
	}
	built, err := t.finish(&loud.total.best[0])
	built.Rank = 1
	return &built, true, err
}

// next is a search of the same groups, which has something to beat.
func (s *search) next(c candidate) *search {
	n := &search{task: s.task, offered: s.offered, rests64: s.rests64, kits64: s.kits64, openBound: build.Silent,
		bases: s.bases, base: s.base, spare: s.spare, all: s.all, most: s.most, aims: s.aims, comb: s.comb, groups: s.groups}
	n.total = ranking{size: 1, same: s.sameRank, best: []candidate{c}}
	for _, c := range s.order {
		c.tariff.Store(nil)
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
	defer done(a.prepared)
	l, _ := t.merits(&a)
	return l, nil
}
