package optimizer

import (
	"cmp"
	"slices"

	"loudfor/model/bass"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// The cheapest build where there are deals. Block and everything else can no
// longer be chosen apart, since a deal may want parts of both. But of the blocks
// of a class that hold the same parts in deals only the cheapest matters: the
// others differ from it in parts that cost the same in every build. What is left
// are few blocks, and the least prices of pairs, rests and kits tell how far to
// look.

// lot is what blocks are alike in for the deals.
type lot struct {
	class       *drive.CoilLoad
	driver, box *pricing.Item // nil: in no deal
	boxes       int           // of the box
}

type lotBlock struct {
	lot   lot
	uses  [2]pricing.Use
	price int64
}

func (t *task) cheapestDealt() (price int64, ok bool) {
	for _, b := range t.lots() {
		c := b.lot.class
		pairs := slices.Clone(c.Choices)
		slices.SortStableFunc(pairs, func(a, b drive.AmpChoice) int { return cmp.Compare(a.Floor, b.Floor) })
		for i := range pairs {
			p := &pairs[i]
			if ok && b.price+p.Floor >= price || t.Ended() {
				break
			}
			for _, r := range t.restsOf(p) {
				sum := b.price + p.Price + r.Price
				for _, kit := range t.Usable {
					if ok && sum+kit.Lower(1) >= price || p.Demand+r.Demand > t.CapacityOf(kit) {
						continue
					}
					parts := pricing.Collect(append([]pricing.Use{b.uses[0], b.uses[1], {Item: p.Amp, Count: p.Number}, {Item: kit, Count: 1}}, r.Parts...)...)
					if !parts.Available() {
						continue
					}
					if full := t.Exact(parts); !ok || full < price {
						price, ok = full, true
					}
				}
			}
		}
	}
	return price, ok
}

// lots are the cheapest blocks of each lot, cheapest first.
func (t *task) lots() []lotBlock {
	var ignored ledger
	var prepared bass.Prepared
	best := make(map[lot]int)
	var all []lotBlock
	t.rests.PriceAlone()
	groups := t.groups(&ignored)
	t.FillLoads(t.rests.Floor, false)
	for _, g := range groups {
		if len(g.class.Choices) == 0 {
			continue
		}
		for _, box := range g.housing {
			b := lotBlock{lot: lot{class: g.class}, price: g.Price(box)}
			b.uses[0], b.uses[1] = g.Uses(box)
			if b.uses[0].Item.Dealt {
				b.lot.driver = b.uses[0].Item
			}
			if it := b.uses[1].Item; it != nil && it.Dealt {
				b.lot.box, b.lot.boxes = it, g.Boxes
			}
			at, known := best[b.lot]
			if known && all[at].price <= b.price ||
				!t.HoldsMusts(&g.Block, box) || !t.FitsHole(&g.Block, box) || bass.PrepareInto(&prepared, t.Setup(&g.Block, box), t.Room) != nil {
				continue
			}
			if !known {
				at = len(all)
				best[b.lot], all = at, append(all, b)
			}
			all[at] = b
		}
	}
	slices.SortStableFunc(all, func(a, b lotBlock) int { return cmp.Compare(a.price, b.price) })
	return all
}
