package optimizer

import (
	"cmp"
	"slices"

	"loudfor/model/bass"
	"loudfor/optimizer/build"
)

// On a ladder hardly any block is hopeless at every price, if it is judged by
// the strongest amplifier under the cap and the price of the cheapest. So the
// amplifiers of a class are cut into treads by price: within one, none is
// cheaper than its floor, and none stronger than the envelope of all that cost
// less than the next. A block is out of the question when it is on every tread.

// treadRise is by how much the envelope's voltage rises within a tread: about
// a decibel, and as little in the level that it bounds.
const treadRise = 1.12

// tread is the pairs, or for a reading the outfits, of a class between two prices.
type tread struct {
	floor int64      // no pair costs less, with its rest
	felt  coilSource // none of them is stronger

	// For a reading: of outfits.
	cable float64 // none has less resistance before it
	twigs []twig
}

// cut makes the treads of a class for music.
func (c *class) cut() {
	for i := 0; i < len(c.pairs); {
		t := tread{floor: c.floors[i]}
		least := c.envelopes[i].voltage
		for ; i < len(c.pairs); i++ {
			// Equal prices belong together.
			if c.envelopes[i].voltage > least*treadRise && c.floors[i] > c.floors[i-1] {
				break
			}
			t.felt = c.envelopes[i]
		}
		c.treads = append(c.treads, t)
	}
}

// tread gives a group its ceilings by price, as far as the cap goes.
func (s *search) tread(g *group, h *bass.Horizon, widest bass.Mouth) {
	for i := range g.class.treads {
		t := &g.class.treads[i]
		if g.price(g.housing[0])+t.floor > s.Limit {
			return
		}
		s.lookAs(h, g, t.felt)
		l := s.beyond(h, widest)
		if s.Music() {
			l = min(l, s.most)
		}
		g.lids = append(g.lids, l)
	}
}

// rungs are the lowest prices and highest levels of a group's builds.
func (g *group) rungs() (all stairs) {
	for i, lid := range g.lids {
		all = append(all, stair{price: g.price(g.housing[0]) + g.class.treads[i].floor, level: lid})
	}
	return all
}

// lead puts those groups first that could lead at some price: whose ceiling is
// the least below the highest of all groups for no more money.
func (s *search) lead(groups []*group) {
	var outline stairs
	for _, g := range groups {
		outline = append(outline, g.rungs()...)
	}
	outline = outline.sort()
	behind := make(map[*group]build.Level, len(groups))
	for _, g := range groups {
		least := build.Loudest
		for _, r := range g.rungs() {
			least = min(least, outline.at(r.price)-r.level)
		}
		behind[g] = least
	}
	slices.SortStableFunc(groups, func(a, b *group) int {
		return cmp.Or(cmp.Compare(behind[a], behind[b]), cmp.Compare(a.floor, b.floor))
	})
}

// at is the highest level for a price; silent below the first step.
func (s stairs) at(price int64) build.Level {
	i, found := slices.BinarySearchFunc(s, price, func(x stair, price int64) int { return cmp.Compare(x.price, price) })
	switch {
	case found:
		return s[i].level
	case i == 0:
		return build.Silent
	}
	return s[i-1].level
}
