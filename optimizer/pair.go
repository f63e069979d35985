package optimizer

import "loudfor/optimizer/pricing"

// Which pairs come first where prices are the same: see package pricing on the order of
// sets.

// kitless is the lowest price of a pair with its rest and no kit.
func (p *pair) kitless() int64 { return p.price + p.floor - p.bare }

// tiedParts is more different parts than a build has.
const tiedParts = 12

// joined adds a pair, a kit and a rest to a set.
func (p *pair) joined(s pricing.Set, kit *pricing.Item, rest pricing.Set) pricing.Set {
	s = s.With(pricing.Use{Item: p.amp, Count: p.number}).With(pricing.One(kit))
	for _, u := range rest {
		s = s.With(u)
	}
	return s
}

// compareWith says which of two pairs comes first, each with a rest and its cheapest
// kit, where they cost the same.
func (p *pair) compareWith(rest pricing.Set, o *pair, other pricing.Set) int {
	return p.joined(make(pricing.Set, 0, tiedParts), p.kitTier.first, rest).Compare(o.joined(make(pricing.Set, 0, tiedParts), o.kitTier.first, other))
}

// firsts finds the first pairs of a class, with their rest and without.
func (c *class) firsts() {
	for i := range c.pairs {
		p := &c.pairs[i]
		if c.first == nil || p.floor < c.first.floor || p.floor == c.first.floor && p.compareWith(p.rest, c.first, c.first.rest) < 0 {
			c.first = p
		}
		if c.barest == nil || p.bare < c.barest.bare || p.bare == c.barest.bare && p.compareWith(nil, c.barest, nil) < 0 {
			c.barest = p
		}
	}
}
