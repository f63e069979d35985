package growth

import (
	"cmp"
	"maps"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
)

// The order of plans, as the package comment states it. What is compared of a plan
// stands in its worth; a bound on many plans is a worth that none of them comes
// before.

// worth is what a plan is ranked by before its parts are.
type worth struct {
	short  build.Level // beyond nearness below the best from nothing, at the worst step
	thrown int64       // minor units
	levels []build.Level
	net    int64 // spent, less what sales brought
}

// nearness is how far below the best from nothing the order fair lets a step be.
const nearness = build.Level(optimizer.Noticed * build.StepsPerDB)

// compare is below zero when a comes before b.
func (a *worth) compare(b *worth, order catalog.PlanOrder) int {
	last := len(a.levels) - 1
	late := func() int { // the end, then each step before it
		for i := last; i >= 0; i-- {
			if c := cmp.Compare(b.levels[i], a.levels[i]); c != 0 {
				return c
			}
		}
		return 0
	}
	c := 0
	switch order {
	case catalog.PlanFirst:
		c = cmp.Compare(b.levels[0], a.levels[0])
	case catalog.PlanFair:
		c = cmp.Or(cmp.Compare(a.short, b.short), cmp.Compare(a.thrown, b.thrown))
	}
	return cmp.Or(c, late(), cmp.Compare(a.net, b.net))
}

// draft is a plan while it is searched for.
type draft struct {
	worth
	steps []taken
}

// taken is one step of it.
type taken struct {
	build *optimizer.Build
	sold  counts
	net   int64 // spent so far, this step included, less sales so far
	held  counts
	ready int64 // what there was to spend
}

// before is the whole order: among plans of one worth the parts decide, from the
// first step on, in the order in which builds of one price are ranked.
func (d *draft) before(o *draft, order catalog.PlanOrder) bool {
	if o == nil {
		return true
	}
	if c := d.compare(&o.worth, order); c != 0 {
		return c < 0
	}
	for i := range d.steps {
		a, b := d.steps[i].build.SKUs(), o.steps[i].build.SKUs()
		if c := cmp.Or(cmp.Compare(len(a), len(b)), slices.Compare(a, b)); c != 0 {
			return c < 0
		}
	}
	return false
}

func sorted(c counts) []string { return slices.Sorted(maps.Keys(c)) }

// shortfall is what the order fair looks at first.
func shortfall(levels, best []build.Level) (short build.Level) {
	for i, l := range levels {
		short = max(short, best[i]-nearness-l)
	}
	return short
}
