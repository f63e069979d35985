package optimizer

import (
	"cmp"
	"slices"

	"loudfor/model/bass"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
)

// On a ladder hardly any block is hopeless at every price, if it is judged by
// the strongest amplifier under the cap and the price of the cheapest. So the
// amplifiers of a class are cut into treads by price: within one, none is
// cheaper than its floor, and none stronger than the envelope of all that cost
// less than the next. A block is out of the question when it is on every tread.

// tread gives a group its ceilings by price, as far as the cap goes.
func (s *search) tread(g *group, h *bass.Horizon, widest bass.Mouth) {
	for i := range g.class.Tiers {
		t := &g.class.Tiers[i]
		if g.Price(g.housing[0])+t.Floor > s.Limit {
			return
		}
		s.lookAs(h, g, t.AtCoil)
		l := s.beyond(h, widest)
		if s.Music() {
			l = min(l, s.most)
		}
		g.lids = append(g.lids, l)
	}
}

// rungs are the lowest prices and highest levels of a group's builds.
func (g *group) rungs() (all completion.CostToReach) {
	for i, lid := range g.lids {
		all = append(all, completion.Step{Price: g.Price(g.housing[0]) + g.class.Tiers[i].Floor, Level: lid})
	}
	return all
}

// lead puts those groups first that could lead at some price: whose ceiling is
// the least below the highest of all groups for no more money.
func (s *search) lead(groups []*group) {
	var outline completion.CostToReach
	for _, g := range groups {
		outline = append(outline, g.rungs()...)
	}
	outline = outline.Sort()
	behind := make(map[*group]build.Level, len(groups))
	for _, g := range groups {
		least := build.Loudest
		for _, r := range g.rungs() {
			least = min(least, outline.LevelFor(r.Price)-r.Level)
		}
		behind[g] = least
	}
	slices.SortStableFunc(groups, func(a, b *group) int {
		if d := cmp.Or(cmp.Compare(behind[a], behind[b]), cmp.Compare(a.floor, b.floor)); d != 0 {
			return d
		}
		return a.compare(b)
	})
}
