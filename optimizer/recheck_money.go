package optimizer

import (
	"slices"
	"strings"

	"loudfor/catalog"
)

// What a build costs, worked out once more: every deal of the list is tried
// every number of times, one deal after the other, on the pieces that are left.
// No tables, no bounds, no memory; the sums are in millionths of a minor unit,
// tax included, and rounded half up at the end.

// cart is how many pieces of each part are bought.
type cart map[string]int

// money holds a build's price and what is said about it against the files.
func (c *checker) money() {
	bought := cart{}
	var parts []*catalog.Part
	for _, l := range c.lines {
		parts = append(parts, l.Part)
		bought[l.Part.SKU] += max(0, l.Count-c.owned(l.Part.SKU))
	}
	cost := roundHalfUp(dueFor(&c.p, parts, c.count, bought))
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

// dueFor is what the parts of a build cost with labour, deals and tax.
func dueFor(p *Problem, parts []*catalog.Part, used, bought cart) int64 {
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
		due += int64(times) * l.Price.Minor * (million + brief.TaxOnLabour(&l))
	}
	prices := map[string]int64{}
	weights := map[string]int64{}
	for _, part := range parts {
		prices[part.SKU], weights[part.SKU] = part.Price.Minor, million+brief.TaxOn(part.Kind)
		due += int64(bought[part.SKU]) * part.Price.Minor * weights[part.SKU]
	}
	return due - saved(inReach(p, bought), prices, weights, bought)
}

// inReach are the deals that this customer can have on what is bought.
func inReach(p *Problem, bought cart) (deals []*catalog.Deal) {
	for _, d := range p.Catalogue.Deals {
		if d.Store != "" && len(p.Brief.Stores) > 0 && !slices.ContainsFunc(p.Brief.Stores, func(s string) bool { return strings.EqualFold(s, d.Store) }) {
			continue
		}
		if !slices.ContainsFunc(d.Parts, func(m catalog.Mention) bool { return bought[m.SKU] < max(m.Count, d.From, d.Every) }) {
			deals = append(deals, d)
		}
	}
	return deals
}

// saved is the most that deals save on what is left in the cart.
func saved(deals []*catalog.Deal, prices, weights map[string]int64, left cart) int64 {
	if len(deals) == 0 {
		return 0
	}
	d, others := deals[0], deals[1:]
	best := saved(others, prices, weights, left)
	often := func(times int) int64 {
		if d.Limit != catalog.Unlimited {
			times = min(times, d.Limit)
		}
		return int64(times)
	}
	// try takes n pieces of each part, so many times, for a saving.
	try := func(n int, saving int64) bool {
		for _, m := range d.Parts {
			left[m.SKU] -= n * m.Count
		}
		enough := !slices.ContainsFunc(d.Parts, func(m catalog.Mention) bool { return left[m.SKU] < 0 })
		if enough {
			best = max(best, saving+saved(others, prices, weights, left))
		}
		for _, m := range d.Parts {
			left[m.SKU] += n * m.Count
		}
		return enough
	}
	one := d.Parts[0].SKU
	switch d.Form {
	case catalog.DealSet:
		var lines []int64
		for _, m := range d.Parts {
			lines = append(lines, int64(m.Count)*prices[m.SKU])
		}
		each := int64(0)
		for i, portion := range catalog.Portions(d.Price.Minor, lines) {
			each += (lines[i] - portion) * weights[d.Parts[i].SKU]
		}
		for n := 1; often(n) == int64(n) && try(n, int64(n)*each); n++ {
		}
	case catalog.DealFrom:
		for n := d.From; ; n++ {
			cheaper := n - d.From + 1
			if d.All {
				cheaper = n
			}
			if !try(n, often(cheaper)*(prices[one]-d.Price.Minor)*weights[one]) {
				break
			}
		}
	case catalog.DealEvery:
		for n := 1; try(n*d.Every, often(n)*(prices[one]-d.Reduced(prices[one]))*weights[one]); n++ {
		}
	}
	return best
}

// roundHalfUp rounds millionths to minor units.
func roundHalfUp(millionths int64) int64 {
	whole, rest := millionths/million, millionths%million
	if rest >= million/2 {
		whole++
	}
	return whole
}
