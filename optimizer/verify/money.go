package verify

import (
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// What a build costs, worked out once more, by trying every way (cart.go).
// The sums are in millionths of a minor unit, tax included, and rounded half up
// at the end.

// ppm is how many millionths of a minor unit of money there are in one.
const ppm = 1_000_000

// Cart is how many pieces of each part are bought.
type Cart map[string]int

// money holds a build's price and what is said about it against the files.
func (c *checker) money() {
	bought := Cart{}
	var parts []*catalog.Part
	for _, l := range c.lines {
		parts = append(parts, l.Part)
		bought[l.Part.SKU] += max(0, l.Count-c.owned(l.Part.SKU))
	}
	cost := RoundHalfUp(Due(&c.p, parts, c.count, bought))
	if cost != c.b.Cost.Minor {
		c.fault("costs %d, not %d", cost, c.b.Cost.Minor)
	}
	if limit := c.p.Brief.Cap; limit != (catalog.Money{}) && c.b.Cost.Minor > limit.Minor {
		c.fault("%d is above the cap of %d", c.b.Cost.Minor, limit.Minor)
	}
	// The bill: parts, less deals, and labour are what the rates are laid on.
	sum := int64(0)
	for _, l := range c.lines {
		sum += l.Cost.Minor
	}
	for _, d := range c.b.Deals {
		sum -= d.Saving.Minor
	}
	for _, l := range c.b.Labour {
		sum += l.Cost.Minor
	}
	for _, x := range c.b.Taxes {
		sum -= x.Sum.Minor
		cost -= x.Sum.Minor + x.Tax.Minor
	}
	if sum != 0 || cost != 0 {
		c.fault("the bill does not add up: %d and %d are left over", sum, cost)
	}
}

// Due is what the parts of a build cost with labour, deals and tax.
func Due(p *build.Problem, parts []*catalog.Part, used, bought Cart) int64 {
	brief, due := &p.Brief, int64(0)
	for _, l := range catalog.LabourLines(brief, &p.Vehicle) {
		times := 0
		if l.Per == catalog.KindCount {
			times = 1
		}
		for _, part := range parts {
			switch {
			case part.Kind != l.Per:
			case l.Installed:
				times += used[part.SKU]
			default:
				times += bought[part.SKU]
			}
		}
		due += int64(times) * l.Price.Minor * (ppm + brief.TaxOnLabour(&l))
	}
	var goods []*Ware
	for _, part := range parts {
		if n := bought[part.SKU]; n > 0 {
			goods = append(goods, &Ware{Part: part, Own: part.Price.Minor, Count: n, Tax: ppm + brief.TaxOn(part.Kind), From: []catalog.Offer{{Store: part.Store, Price: part.Price, Stock: n}}})
		}
	}
	if p.Shops != nil {
		for _, w := range goods {
			asked(p.Shops, w)
		}
	}
	sum, ok := LeastPaid(goods, inReach(p, bought))
	if !ok {
		return -1 // more than the shops have
	}
	return due + sum
}

// asked puts in what the shops of a set ask for a part.
func asked(s *build.ShopSet, w *Ware) {
	for _, part := range s.Catalogue.Parts {
		if part.SKU != w.Part.SKU || len(part.Offers) == 0 {
			continue
		}
		w.Own, w.From, w.Several = part.Price.Minor, nil, true
		for _, o := range append([]catalog.Offer{{Store: part.Store, Price: part.Price, Stock: part.Stock}}, part.Offers...) {
			if s.Goes(o.Store) {
				w.From = append(w.From, o)
			}
		}
	}
}

// inReach are the deals that this customer can have on what is bought.
func inReach(p *build.Problem, bought Cart) (deals []*catalog.Deal) {
	for _, d := range p.Catalogue.Deals {
		if d.Store != "" && !p.Brief.Sells(d.Store) {
			continue
		}
		if !slices.ContainsFunc(d.Parts, func(m catalog.Mention) bool { return bought[m.SKU] < max(m.Count, d.From, d.Every) }) {
			deals = append(deals, d)
		}
	}
	return deals
}

// RoundHalfUp rounds millionths to minor units.
func RoundHalfUp(millionths int64) int64 {
	whole, rest := millionths/ppm, millionths%ppm
	if rest >= ppm/2 {
		whole++
	}
	return whole
}
