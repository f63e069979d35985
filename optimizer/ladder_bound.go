package optimizer

import (
	"cmp"
	"math"
	"slices"

	"loudfor/model/bass"
)

// On a ladder hardly any block is hopeless at every price, if it is judged by
// the strongest amplifier under the cap and the price of the cheapest. So the
// amplifiers of a class are cut into treads by price: within one, none is
// cheaper than its floor, and none stronger than the envelope of all that cost
// less than the next. A block is out of the question when it is on every tread.

// treadRise is by how much the envelope's voltage rises within a tread: about
// a decibel, and as little in the level that it bounds.
const treadRise = 1.12

// tread is the pairs of a class between two prices.
type tread struct {
	floor, bare int64 // no pair costs less, with and without its rest
	felt        felt  // none of them is stronger
	ceiling     level // of the group's blocks
}

// treads cuts the pairs that cost no more than most, with kit and rest.
func (c *class) treads(most int64) (all []tread) {
	for i := 0; i < len(c.pairs) && c.floors[i] <= most; {
		t := tread{floor: c.floors[i], bare: math.MaxInt64}
		least := c.envelopes[i].voltage
		for ; i < len(c.pairs) && c.floors[i] <= most; i++ {
			// Equal prices belong together.
			if c.envelopes[i].voltage > least*treadRise && c.floors[i] > c.floors[i-1] {
				break
			}
			t.bare, t.felt = min(t.bare, c.pairs[i].bare), c.envelopes[i]
		}
		all = append(all, t)
	}
	return all
}

// tread gives a group its ceilings by price.
func (s *search) tread(g *group, h *bass.Horizon, widest bass.Mouth) {
	g.treads = g.class.treads(s.limit - g.price(g.housing[0]))
	for i := range g.treads {
		t := &g.treads[i]
		s.lookAs(h, g, t.felt)
		t.ceiling = s.beyond(h, widest)
		if s.music() {
			t.ceiling = min(t.ceiling, s.most)
		}
	}
}

// rungs are the lowest prices and highest levels of a group's builds.
func (g *group) rungs() (all stairs) {
	for i := range g.treads {
		all = append(all, stair{g.price(g.housing[0]) + g.treads[i].floor, g.treads[i].ceiling})
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
	behind := make(map[*group]level, len(groups))
	for _, g := range groups {
		least := loudest
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
func (s stairs) at(price int64) level {
	i, found := slices.BinarySearchFunc(s, price, func(x stair, price int64) int { return cmp.Compare(x.price, price) })
	switch {
	case found:
		return s[i].level
	case i == 0:
		return silent
	}
	return s[i-1].level
}

// inSight says whether any block of a group in boxes like the one at hand, or
// dearer, could be on the ladder.
func (w *worker) inSight(g *group) bool {
	for i := range g.treads {
		if t := &g.treads[i]; w.admits(t.ceiling, w.price+t.floor, w.price+t.bare) {
			return true
		}
	}
	return false
}

// inReach says whether the block at hand could be.
func (w *worker) inReach(g *group, box *item) bool {
	if !w.sighted {
		w.sighted = true
		if n := len(g.treads); len(w.horizons) < n {
			w.horizons = slices.Grow(w.horizons, n)[:n]
		}
		for i := range g.treads {
			w.lookAs(&w.horizons[i], g, g.treads[i].felt)
		}
	}
	for i := range g.treads {
		t := &g.treads[i]
		floor, bare := w.price+t.floor, w.price+t.bare
		if floor > w.limit {
			return false
		}
		if w.admits(t.ceiling, floor, bare) && w.admits(w.beyond(&w.horizons[i], w.mouths[box]), floor, bare) {
			return true
		}
	}
	return false
}
