package optimizer

import (
	"cmp"

	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// Where the front or the end of a stage bounds the level, thousands of builds are
// exactly as loud as one another; and where a shop prices by the shelf, thousands of
// these cost the same. What is then left of the order are pieces and SKUs, and a
// bound that says nothing of them leaves all of them to be computed.
//
// So a bound on a price goes on to pieces and SKUs. Price, pieces and SKUs together
// are compared, added and bounded like a price (pricing.Set.Compare): of all builds of
// a block with some pairs, kits and rests, each chosen by itself, the first is made
// of the first of each; more parts come later; and a sum of Lower no higher than the
// exact price, with the same parts, comes no later than that. So what holds for
// bounds on prices holds with the parts as well: a build that is no louder than the
// incumbent, and that costs no less and comes no earlier, cannot rank before it.
//
// The first pair of a class may be much too weak for the block at hand. But as with
// money left over, the pairs that come early enough are the first of a row (row.go),
// and their envelope shrinks as the incumbent moves to the front of its plateau.

// behind says that the block at hand, with a pair, a kit and a rest, comes after a
// candidate that costs as much.
func (w *worker) behind(c *candidate, p *drive.AmpChoice, kit *pricing.Item, rest pricing.Set) bool {
	if c.parts == nil {
		return false
	}
	room := make(pricing.Set, 0, drive.TiedParts)
	driver, box := w.group.Uses(w.box)
	return p.Joined(room.With(driver).With(box), kit, rest).Compare(c.parts) > 0
}

// compare puts groups in the order of their cheapest blocks; those that have none come last.
func (g *group) compare(o *group) int {
	if len(g.housing) == 0 || len(o.housing) == 0 {
		return cmp.Compare(len(o.housing), len(g.housing))
	}
	a, b := g.Price(g.housing[0]), o.Price(o.housing[0])
	if a != b {
		return cmp.Compare(a, b)
	}
	set := func(g *group) pricing.Set {
		driver, box := g.Uses(g.housing[0])
		return make(pricing.Set, 0, 2).With(driver).With(box)
	}
	return set(g).Compare(set(o))
}
