package optimizer

import (
	"cmp"
	"slices"

	"loudfor/model/bass"
	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// The cheapest complete build, whatever its level and whatever the cap. It
// tells whether a problem can be solved at all and by how much its cap is too
// low. Block and amplifier meet only in the class of their coils, so the
// cheapest block of a class and the cheapest of everything else, found apart,
// make the cheapest build of the class.

// cheapest finds the price before tax; ok is false when nothing can be built.
func (t *task) cheapest() (price int64, ok bool) {
	if t.NonAdditive {
		return t.cheapestDealt()
	}
	var ignored ledger
	blocks := make(map[*class]int64)
	var order []*class
	var prepared bass.Prepared
	groups := t.groups(&ignored)
	t.fillClasses(t.rests.floor, t.aiming() && !t.ladder)
	for _, g := range groups {
		if len(g.class.pairs) == 0 {
			continue
		}
		best, known := blocks[g.class]
		for _, box := range g.housing {
			p := g.price(box)
			if known && p >= best {
				break
			}
			if t.blockMusts(&g.bassBlock, box) && t.blockFits(&g.bassBlock, box) && bass.PrepareInto(&prepared, t.setup(&g.bassBlock, box), t.Room) == nil {
				if !known {
					order = append(order, g.class)
				}
				blocks[g.class], best, known = p, p, true
				break
			}
		}
	}
	for _, c := range order {
		if p, fine := t.cheapestPair(c); fine && (!ok || blocks[c]+p < price) {
			price, ok = blocks[c]+p, true
		}
	}
	return price, ok
}

// cheapestPair is the lowest price of amplifiers, kit and rest for a class.
func (t *task) cheapestPair(c *class) (price int64, ok bool) {
	pairs := slices.Clone(c.pairs)
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(a.floor, b.floor) })
	kits := slices.Clone(t.usable)
	slices.SortStableFunc(kits, func(a, b *pricing.Item) int { return cmp.Compare(a.Lower(1), b.Lower(1)) })
	for i := range pairs {
		p := &pairs[i]
		if ok && p.floor >= price {
			break
		}
		for _, r := range t.restsOf(p) {
			sum := p.price + r.price
			if r.own == p.amp {
				both := pricing.Collect(pricing.Use{Item: p.amp, Count: p.number + 1})
				if !both.Available() {
					continue
				}
				sum += t.Exact(both) - p.price - r.own.Lower(1)
			}
			for _, kit := range kits {
				if p.demand+r.demand > t.capacityOf(kit) {
					continue
				}
				if full := sum + kit.Lower(1); !ok || full < price {
					price, ok = full, true
				}
				break
			}
		}
	}
	return price, ok
}

// restsOf is every rest that goes with a pair.
func (t *task) restsOf(p *pair) []rest {
	key := restKey{speaker: p.amp.Part.Amplifier.SpeakerInput, forced: p.forced, least: build.Silent}
	all := t.rests.list(key, t.Limit).all
	if slices.ContainsFunc(p.ways, func(w way) bool { return w.spare }) {
		key.amp = p.amp
		all = slices.Concat(all, t.rests.list(key, t.Limit).all)
	}
	return all
}
