package drive

import "loudfor/optimizer/pricing"

// Which pairs come first where prices are the same: see package pricing on the order of
// sets.

// Kitless is the lowest price of a pair with its rest and no kit.
func (p *AmpChoice) Kitless() int64 { return p.Price + p.Floor - p.Bare }

// TiedParts is more different parts than a build has.
const TiedParts = 12

// Joined adds a pair, a kit and a rest to a set.
func (p *AmpChoice) Joined(s pricing.Set, kit *pricing.Item, rest pricing.Set) pricing.Set {
	s = s.With(pricing.Use{Item: p.Amp, Count: p.Number}).With(pricing.One(kit))
	for _, u := range rest {
		s = s.With(u)
	}
	return s
}

// CompareWith says which of two pairs comes first, each with a rest and its cheapest
// kit, where they cost the same.
func (p *AmpChoice) CompareWith(rest pricing.Set, o *AmpChoice, other pricing.Set) int {
	return p.Joined(make(pricing.Set, 0, TiedParts), p.KitTier.First, rest).Compare(o.Joined(make(pricing.Set, 0, TiedParts), o.KitTier.First, other))
}

// firsts finds the first pairs of a class, with their rest and without.
func (c *CoilLoad) firsts() {
	for i := range c.Choices {
		p := &c.Choices[i]
		if c.First == nil || p.Floor < c.First.Floor || p.Floor == c.First.Floor && p.CompareWith(p.Rest, c.First, c.First.Rest) < 0 {
			c.First = p
		}
		if c.Barest == nil || p.Bare < c.Barest.Bare || p.Bare == c.Barest.Bare && p.CompareWith(nil, c.Barest, nil) < 0 {
			c.Barest = p
		}
	}
}
