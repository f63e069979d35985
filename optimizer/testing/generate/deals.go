package generate

import (
	"fmt"
	"math/rand/v2"

	"loudfor/catalog"
)

// Deals and shops of a distributor: about one part of twelve stands in a deal,
// which is what a leaflet of a month covers (common practice, no source). Half
// of the deals are sets of parts that go together, the others are about several
// pieces of what is bought by twos and fours.

// partsForDeal is how many parts there are for each deal.
const partsForDeal = 20

// Dealt gives a catalogue deals and stocks: a catalogue that shares the parts
// with the old one, but for those whose stock differs.
func Dealt(c *catalog.Catalogue, seed uint64) *catalog.Catalogue {
	g := rand.New(rand.NewPCG(seed, 0x6465616c))
	parts := stocked(g, c.Parts)
	out := catalog.New(c.Currency, parts)
	by := map[catalog.Kind][]*catalog.Part{}
	for _, p := range out.Parts {
		by[p.Kind] = append(by[p.Kind], p)
	}
	of := func(kinds ...catalog.Kind) *catalog.Part {
		list := by[kinds[g.IntN(len(kinds))]]
		if len(list) == 0 {
			return out.Parts[g.IntN(len(out.Parts))]
		}
		return list[g.IntN(len(list))]
	}
	for i := range len(out.Parts) / partsForDeal {
		d := &catalog.Deal{Name: fmt.Sprintf("deal %05d", i), Limit: catalog.Unlimited}
		if g.IntN(3) == 0 {
			d.Limit = 1 + g.IntN(3)
		}
		money := func(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: c.Currency} }
		one := of(catalog.KindSubwoofer, catalog.KindSubwoofer, catalog.KindEnclosure, catalog.KindLoaded)
		switch g.IntN(4) {
		case 0, 1:
			d.Form = catalog.DealSet
			set := []*catalog.Part{of(catalog.KindSubwoofer), of(catalog.KindEnclosure, catalog.KindAmplifier), of(catalog.KindKit, catalog.KindSource, catalog.KindFront)}[:2+g.IntN(2)]
			all := int64(0)
			for _, p := range set {
				d.Parts = append(d.Parts, catalog.Mention{SKU: p.SKU, Count: 1})
				all += p.Price.Minor
			}
			d.Price = money(all * int64(75+g.IntN(20)) / 100)
		case 2:
			d.Form, d.From, d.All = catalog.DealFrom, 2+g.IntN(3), g.IntN(2) == 0
			d.Parts, d.Price = []catalog.Mention{{SKU: one.SKU, Count: 1}}, money(one.Price.Minor*int64(75+g.IntN(20))/100)
		case 3:
			d.Form, d.Every, d.OffPPM = catalog.DealEvery, 2, 500_000 // the second at half its price
			d.Parts = []catalog.Mention{{SKU: one.SKU, Count: 1}}
		}
		out.Deals = append(out.Deals, d)
	}
	return out
}

// stocked limits what there is of a part in three, and what one customer gets of
// one in ten.
func stocked(g *rand.Rand, parts []*catalog.Part) []*catalog.Part {
	out := make([]*catalog.Part, len(parts))
	for i, p := range parts {
		q := *p
		if g.IntN(3) == 0 {
			q.Stock = g.IntN(6)
		}
		if g.IntN(10) == 0 {
			q.Limit = 1 + g.IntN(2)
		}
		out[i] = &q
	}
	return out
}

// Scattered sells every third part in the other shops too, mostly a little
// dearer, sometimes cheaper with few in stock. Going to the second shop and to
// the third costs a trip.
func Scattered(c *catalog.Catalogue, seed uint64) *catalog.Catalogue {
	g := rand.New(rand.NewPCG(seed, 0x73686f70))
	once := map[string]bool{} // a discount on its price: sold in one shop
	for _, d := range c.Deals {
		if d.Form == catalog.DealEvery {
			once[d.Parts[0].SKU] = true
		}
	}
	parts := make([]*catalog.Part, len(c.Parts))
	for i, p := range c.Parts {
		q := *p
		for _, s := range stores {
			if s == q.Store || once[q.SKU] || g.IntN(3) > 0 {
				continue
			}
			o := catalog.Offer{Store: s, Price: q.Price, Stock: catalog.Unlimited}
			if o.Price.Minor = o.Price.Minor * int64(92+g.IntN(20)) / 100; o.Price.Minor < q.Price.Minor {
				o.Stock = 1 + g.IntN(3)
			}
			q.Offers = append(q.Offers, o)
		}
		parts[i] = &q
	}
	out := catalog.New(c.Currency, parts)
	out.Deals = c.Deals
	for i, s := range stores[1:] {
		out.Shops = append(out.Shops, &catalog.Store{Name: s, Trip: catalog.Money{Minor: 900 + 600*int64(i), Currency: c.Currency}})
	}
	return out
}
