package optimizer

import (
	"cmp"
	"slices"

	"loudfor/model/bass"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/drive"
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
	blocks := make(map[*drive.CoilLoad]int64)
	var order []*drive.CoilLoad
	var prepared bass.Prepared
	t.rests.PriceAlone()
	for _, g := range t.groups(&ignored) {
		if t.Ended() {
			return 0, false
		}
		best, known := blocks[g.class]
		for _, box := range g.housing {
			p := g.Price(box)
			if known && p >= best {
				break
			}
			if t.HoldsMusts(&g.Block, box) && t.FitsHole(&g.Block, box) && bass.PrepareInto(&prepared, t.Setup(&g.Block, box), t.Room) == nil {
				if !known {
					order = append(order, g.class)
				}
				blocks[g.class], best, known = p, p, true
				break
			}
		}
	}
	// The class of the cheapest block first: what is no cheaper is then left out of
	// the others before it is known how it could be wired.
	slices.SortStableFunc(order, func(a, b *drive.CoilLoad) int { return cmp.Compare(blocks[a], blocks[b]) })
	kits := slices.Clone(t.Usable)
	slices.SortStableFunc(kits, func(a, b *pricing.Item) int { return cmp.Compare(a.Lower(1), b.Lower(1)) })
	for _, c := range order {
		most := t.Limit
		if ok {
			most = min(most, price-blocks[c]-1)
		}
		t.FillPairs(c, t.rests.Floor, most)
		if p, fine := t.cheapestPair(c, kits); fine && (!ok || blocks[c]+p < price) {
			price, ok = blocks[c]+p, true
		}
	}
	return price, ok
}

// cheapestPair is the lowest price of amplifiers, kit and rest for a class.
func (t *task) cheapestPair(c *drive.CoilLoad, kits []*pricing.Item) (price int64, ok bool) {
	slices.SortStableFunc(c.Choices, func(a, b drive.AmpChoice) int { return cmp.Compare(a.Floor, b.Floor) })
	for i := range c.Choices {
		p := &c.Choices[i]
		if ok && p.Floor >= price || t.Ended() {
			break
		}
		for _, r := range t.restsOf(p) {
			sum := p.Price + r.Price
			if r.Own == p.Amp {
				both := pricing.Collect(pricing.Use{Item: p.Amp, Count: p.Number + 1})
				if !both.Available() {
					continue
				}
				sum += t.Exact(both) - p.Price - r.Own.Lower(1)
			}
			for _, kit := range kits {
				if p.Demand+r.Demand > t.CapacityOf(kit) {
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
func (t *task) restsOf(p *drive.AmpChoice) []completion.Completion {
	key := completion.Key{Speaker: p.Amp.Part.Amplifier.SpeakerInput, Forced: p.Forced, Least: build.Silent}
	all := t.rests.List(key, t.Limit).All
	if slices.ContainsFunc(p.Wirings, func(w drive.Wiring) bool { return w.Spare }) {
		key.Amp = p.Amp
		all = slices.Concat(all, t.rests.List(key, t.Limit).All)
	}
	return all
}
