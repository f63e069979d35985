package audit

import (
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/verify"
)

// What a set of parts costs exactly: every set of shops, and at each every deal
// of the list any number of times (package verify). Only what is as loud as the
// claim is ever paid for.

// mostShops is as many as all sets are tried of.
const mostShops = 12

// due is what parts cost, without the labour for the build; ok is false when they
// cannot be bought.
func (a *auditor) due(parts []catalog.Mention) (sum int64, ok bool) {
	var cart []*verify.Ware
	for _, m := range parts {
		p := a.bySKU[m.SKU]
		if p == nil {
			return 0, false
		}
		buy := max(0, m.Count-p.owned)
		sum += int64(m.Count)*p.each + int64(buy)*a.work(p.part)
		if buy > 0 {
			if buy > p.most-p.owned {
				return 0, false
			}
			cart = append(cart, &verify.Ware{Part: p.part, Own: p.part.Price.Minor, Several: len(p.part.Offers) > 0, Count: buy, Tax: ppm + a.brief.TaxOn(p.part.Kind)})
		}
	}
	shops := a.shops(cart)
	least := int64(math.MaxInt64)
	for mask := range 1 << len(shops) {
		if whole := mask == 1<<len(shops)-1; whole || a.brief.MostStores > 0 || len(a.Catalogue.Shops) > 0 {
			least = min(least, a.tour(cart, shops, mask))
		}
	}
	return sum + least, least < math.MaxInt64
}

// work is the labour for a piece that is bought.
func (a *auditor) work(p *catalog.Part) (sum int64) {
	for _, l := range catalog.LabourLines(&a.brief, &a.Vehicle) {
		if l.Per == p.Kind && !l.Installed {
			sum += l.Price.Minor * (ppm + a.brief.TaxOnLabour(&l))
		}
	}
	return sum
}

// shops are those that sell something of a cart.
func (a *auditor) shops(cart []*verify.Ware) (all []string) {
	for _, w := range cart {
		for _, o := range a.offers(w.Part) {
			if key := catalog.StoreKey(o.Store); key != "" && !slices.Contains(all, key) {
				all = append(all, key)
			}
		}
	}
	if len(all) > mostShops {
		a.lock.Lock()
		defer a.lock.Unlock()
		a.leave("more shops than all sets of them can be tried of")
		return all[:mostShops]
	}
	return all
}

// tour is what a cart costs at some shops, trips included.
func (a *auditor) tour(cart []*verify.Ware, shops []string, mask int) int64 {
	trips, n := int64(0), 0
	goes := func(store string) bool {
		i := slices.Index(shops, catalog.StoreKey(store))
		return store == "" || i >= 0 && mask>>i&1 == 1
	}
	for i, s := range shops {
		if mask>>i&1 == 1 {
			n++
			trips += a.Catalogue.Trip(s).Minor * ppm
		}
	}
	if a.brief.MostStores > 0 && n > a.brief.MostStores {
		return math.MaxInt64
	}
	for _, w := range cart {
		if w.From = slices.DeleteFunc(a.offers(w.Part), func(o catalog.Offer) bool { return !goes(o.Store) }); len(w.From) == 0 {
			return math.MaxInt64
		}
	}
	var deals []*catalog.Deal
	for _, d := range a.Catalogue.Deals {
		if (d.Store == "" || goes(d.Store)) && !slices.ContainsFunc(d.Parts, func(m catalog.Mention) bool {
			return !slices.ContainsFunc(cart, func(w *verify.Ware) bool { return w.Part.SKU == m.SKU && w.Count >= max(m.Count, d.From, d.Every) })
		}) {
			deals = append(deals, d)
		}
	}
	sum, ok := verify.LeastPaid(cart, deals)
	if !ok {
		return math.MaxInt64
	}
	return sum + trips
}
