package optimizer

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"loudfor/catalog"
)

// Random money: deals of all forms, taxes by kind, labour. Deals are drawn so
// that many can be had together and want the same pieces; some cost more than
// the parts alone, and some save more than one of their parts costs.

// dealt gives a problem deals, labour and taxes.
func dealt(p *Problem, seed uint64) {
	g := rand.New(rand.NewPCG(seed, 0x6465616c))
	one := func(chance float64) bool { return g.Float64() < chance }
	c := &catalog.Catalogue{Currency: p.Catalogue.Currency, Parts: p.Catalogue.Parts}
	p.Catalogue = c
	any := func() *catalog.Part { return c.Parts[g.IntN(len(c.Parts))] }
	of := func(kind catalog.Kind) *catalog.Part {
		for range 200 {
			if p := any(); p.Kind == kind {
				return p
			}
		}
		return any()
	}
	usd := func(minor int64) catalog.Money { return catalog.Money{Minor: max(0, minor), Currency: c.Currency} }
	for i := range 2 + g.IntN(8) {
		d := &catalog.Deal{Name: fmt.Sprintf("deal %d", i), Form: catalog.DealForm(g.IntN(3)), Limit: catalog.Unlimited}
		if one(0.3) {
			d.Limit = 1 + g.IntN(2)
		}
		many := []catalog.Kind{catalog.KindSubwoofer, catalog.KindSubwoofer, catalog.KindEnclosure, catalog.KindAmplifier, catalog.KindLoaded}[g.IntN(5)]
		switch d.Form {
		case catalog.DealSet:
			var all int64
			for range 1 + g.IntN(2) + g.IntN(2) {
				part := any()
				if one(0.6) {
					part = of([]catalog.Kind{catalog.KindSubwoofer, catalog.KindAmplifier, catalog.KindEnclosure, catalog.KindKit, catalog.KindSource, catalog.KindFront}[g.IntN(6)])
				}
				if mentioned(d.Parts, part.SKU) > 0 {
					continue
				}
				m := catalog.Mention{SKU: part.SKU, Count: 1}
				if one(0.2) {
					m.Count = 2
				}
				d.Parts = append(d.Parts, m)
				all += int64(m.Count) * part.Price.Minor
			}
			d.Price = usd(all * int64(40+g.IntN(65)) / 100)
		case catalog.DealFrom:
			part := of(many)
			d.Parts = mention(part.SKU)
			d.From, d.All = 2+g.IntN(2), one(0.5)
			d.Price = usd(part.Price.Minor * int64(40+g.IntN(65)) / 100)
		case catalog.DealEvery:
			d.Parts = mention(of(many).SKU)
			d.Every, d.OffPPM = 2+g.IntN(2), int64(1+g.IntN(1_000_000))
		}
		if one(0.3) {
			shopDeal(c, d, one(0.5))
		}
		c.Deals = append(c.Deals, d)
	}
	if one(0.5) {
		p.Brief.TaxByKind = map[catalog.Kind]int64{catalog.Kind(g.IntN(int(catalog.KindCount))): int64(g.IntN(5)) * 25_000, catalog.KindAmplifier: 0}
	}
	if one(0.3) {
		rate := int64(g.IntN(4)) * 50_000
		p.Brief.LabourTax = &rate
	}
	for i := range g.IntN(4) {
		l := catalog.Labour{Name: fmt.Sprintf("work %d", i), Price: usd(int64(g.IntN(6_000))), Per: catalog.Kind(g.IntN(int(catalog.KindCount) + 1)), Installed: one(0.5)}
		if one(0.2) {
			l.Taxed, l.TaxPPM = true, int64(g.IntN(200_000))
		}
		if one(0.3) {
			p.Vehicle.Labour = append(p.Vehicle.Labour[:len(p.Vehicle.Labour):len(p.Vehicle.Labour)], l)
		} else {
			p.Brief.Labour = append(p.Brief.Labour, l)
		}
	}
}

// shopDeal makes a deal that of a shop, if one sells all its parts.
func shopDeal(c *catalog.Catalogue, d *catalog.Deal, shout bool) {
	sold := func(m catalog.Mention) []catalog.Offer { // the parts are in any order
		return offersOf(c.Parts[slices.IndexFunc(c.Parts, func(p *catalog.Part) bool { return p.SKU == m.SKU })])
	}
	for _, s := range sold(d.Parts[0]) {
		if s.Store == "" || slices.ContainsFunc(d.Parts, func(m catalog.Mention) bool {
			return !slices.ContainsFunc(sold(m), func(o catalog.Offer) bool { return o.Store == "" || o.Store == s.Store })
		}) {
			continue
		}
		if d.Store = s.Store; shout { // names of shops are the same in capitals
			d.Store = strings.ToUpper(d.Store)
		}
	}
}
