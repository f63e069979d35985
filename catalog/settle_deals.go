package catalog

import (
	"cmp"
	"fmt"
	"slices"

	"loudfor/catalog/units"
)

// Deals name parts that may stand in other files, by their SKUs or by words that fit
// one part alone, so they are held against the catalogue as a whole.

// settleDeals sorts the deals and checks what they name.
func (c *Catalogue) settleDeals(report *Report) {
	slices.SortFunc(c.Deals, func(a, b *Deal) int { return cmp.Or(cmp.Compare(a.Name, b.Name), a.Where.Compare(b.Where)) })
	for i, d := range c.Deals {
		if i > 0 && c.Deals[i-1].Name == d.Name {
			report.Add(c.problemAt(Error, d.At("name"), fmt.Sprintf("two deals are called %q", d.Name), "give each deal its own name").
				Citing(c.Deals[i-1].At("name"), "first used here"))
		}
		if d.Form != DealEvery && c.Currency != "" && d.Price.Currency != c.Currency {
			report.Add(c.problemAt(Error, d.At("price"), fmt.Sprintf("the deal is %s, but the catalogue is in %s", d.Price, c.Currency), "write all prices in one currency"))
		}
		d.Parts = c.Resolve(d.Parts)
		for n, m := range d.Parts {
			if first := slices.IndexFunc(d.Parts, func(o Mention) bool { return o.SKU == m.SKU }); first < n {
				report.Add(c.problemAt(Error, m.Where, fmt.Sprintf("%s is named twice in the deal", m.SKU), "write it once, with the number of pieces").
					Citing(d.Parts[first].Where, "the first time"))
				continue
			}
			c.settleDeal(d, m, report)
		}
	}
}

// settleDeal checks one part of a deal.
func (c *Catalogue) settleDeal(d *Deal, m Mention, report *Report) {
	p := c.Part(m.SKU)
	switch {
	case p == nil:
		report.Add(c.problemAt(Error, m.Where, fmt.Sprintf("no part has the SKU %q", m.SKU), c.meant(m.SKU)))
	case !p.Priced:
		report.Add(c.problemAt(Error, m.Where, fmt.Sprintf("%s has no price by itself, so it cannot be bought in a deal", m.SKU), "give it a price, or take it out of the deal").
			Citing(p.Where, "the part"))
	case d.Form == DealEvery && len(p.Offers) > 0:
		report.Add(c.problemAt(Error, m.Where, fmt.Sprintf("%s is sold by several shops, and the deal takes a part of its price", m.SKU), "state the price of the piece: from, price and applies").
			Citing(p.At("offers"), "its other shops"))
	case d.Store != "" && p.Store != "" && !p.soldBy(d.Store):
		report.Add(c.problemAt(Error, m.Where, fmt.Sprintf("%s is sold by %s, but the deal is %s's", m.SKU, p.Store, d.Store), "name a part of that shop, or mend the store").
			Citing(p.At("store"), "the part's store"))
	}
}

// meant suggests a SKU in place of one that the catalogue has not.
func (c *Catalogue) meant(sku string) string {
	if choice := c.Choice(sku); choice != "" {
		return choice
	}
	near := units.Nearest(sku, c.SKUs())
	if near == "" {
		return "name a part of the catalogue"
	}
	return fmt.Sprintf("did you mean %q?", near)
}

// checkDeals warns of deals that nobody would take.
func (c *Catalogue) checkDeals() (found []Problem) {
	for _, d := range c.Deals {
		say := func(key, summary, detail string, values ...any) {
			found = append(found, c.problemAt(Warning, d.At(key), d.Name+": "+summary, fmt.Sprintf(detail, values...)))
		}
		alone, ok := c.Alone(d)
		if ok && d.Form != DealEvery && d.Price.Minor >= alone.Minor {
			say("price", "the deal saves nothing", "without it the price is %s", alone)
		}
		for _, m := range d.Parts {
			p, need := c.Part(m.SKU), max(m.Count, d.From, d.Every)
			if p == nil {
				continue
			}
			most := need
			for _, bound := range [...]int{p.Stock, p.Limit} {
				if bound != Unlimited {
					most = min(most, bound)
				}
			}
			if most < need {
				say("name", fmt.Sprintf("it needs %d of %s, and only %d can be bought", need, m.SKU, most), "mend stock and limit, or the deal")
			}
		}
	}
	return found
}

// soldBy tells whether a shop is the part's own, or has an offer.
func (p *Part) soldBy(store string) bool {
	return SameStore(p.Store, store) || slices.ContainsFunc(p.Offers, func(o Offer) bool { return SameStore(o.Store, store) })
}
