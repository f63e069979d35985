package optimizer

import (
	"math"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/verify"
)

// What a cart costs at least, by trying everything: every set of shops, however
// it is reached, and at each every deal of the list any number of times, in the
// way in which every winner is rechecked as well. Nothing is shared with the
// search.

type oracleTill struct {
	p     *Problem
	shops []string // in lower case
	known map[string]oracleDue
	carts int // how many were paid for
}

type oracleDue struct {
	due int64 // millionths of a minor unit
	ok  bool
}

func newOracleTill(p *Problem) oracleTill {
	t := oracleTill{p: p, known: map[string]oracleDue{}}
	visit := func(store string) {
		if s := strings.ToLower(store); s != "" && !slices.Contains(t.shops, s) {
			t.shops = append(t.shops, s)
		}
	}
	for _, part := range p.Catalogue.Parts {
		visit(part.Store)
		for _, o := range part.Offers {
			visit(o.Store)
		}
	}
	for _, d := range p.Catalogue.Deals {
		visit(d.Store)
	}
	return t
}

// due is what a build's parts cost, in SKU order, everything included; ok is
// false when they cannot be bought.
func (t *oracleTill) due(parts []*catalog.Part) (int64, bool) {
	key := ""
	for _, p := range parts {
		key += p.SKU + " "
	}
	if d, known := t.known[key]; known {
		return d.due, d.ok
	}
	t.carts++
	d := t.pay(parts)
	t.known[key] = d
	return d.due, d.ok
}

func (t *oracleTill) pay(parts []*catalog.Part) (d oracleDue) {
	brief := &t.p.Brief
	used := map[*catalog.Part]int{}
	for _, p := range parts {
		used[p]++
	}
	var cart []*verify.Ware
	bought := map[*catalog.Part]int{}
	for _, p := range parts {
		if used[p] == 0 || bought[p] > 0 {
			continue
		}
		buy := max(0, used[p]-mentioned(brief.Owned, p.SKU))
		if bought[p] = buy; buy == 0 {
			continue
		}
		if !p.Priced || p.Limit >= 0 && buy > p.Limit {
			return d
		}
		cart = append(cart, &verify.Ware{Part: p, Own: p.Price.Minor, Several: len(p.Offers) > 0, Count: buy, Tax: pricing.Million + brief.TaxOn(p.Kind)})
	}
	work := int64(0)
	for _, l := range catalog.LabourLines(brief, &t.p.Vehicle) {
		times := 0
		if l.Per == catalog.KindCount {
			times = 1
		}
		for p, n := range used {
			switch {
			case p.Kind != l.Per:
			case l.Installed:
				times += n
			default:
				times += bought[p]
			}
		}
		work += int64(times) * l.Price.Minor * (pricing.Million + brief.TaxOnLabour(&l))
	}
	least := int64(math.MaxInt64)
	for mask := range 1 << len(t.shops) {
		if !t.plainly() || mask == 1<<len(t.shops)-1 {
			least = min(least, t.tour(cart, mask))
		}
	}
	if least == math.MaxInt64 {
		return d
	}
	return oracleDue{work + least, true}
}

// plainly says that nothing speaks against going to all the shops.
func (t *oracleTill) plainly() bool {
	return t.p.Brief.MostStores == 0 && len(t.p.Catalogue.Shops) == 0
}

// tour is what the cart costs at some of the shops, trips included.
func (t *oracleTill) tour(cart []*verify.Ware, mask int) int64 {
	trips, n := int64(0), 0
	for i, s := range t.shops {
		if mask>>i&1 == 1 {
			n++
			trips += t.p.Catalogue.Trip(s).Minor * pricing.Million
		}
	}
	if t.p.Brief.MostStores > 0 && n > t.p.Brief.MostStores {
		return math.MaxInt64
	}
	goes := func(store string) bool {
		if b := t.p.Brief.Stores; len(b) > 0 && !slices.ContainsFunc(b, func(s string) bool { return strings.EqualFold(s, store) }) {
			return false
		}
		return store == "" || mask>>slices.Index(t.shops, strings.ToLower(store))&1 == 1
	}
	for _, w := range cart {
		w.From = w.From[:0]
		for _, s := range append([]catalog.Offer{{Store: w.Part.Store, Price: w.Part.Price, Stock: w.Part.Stock}}, w.Part.Offers...) {
			if goes(s.Store) {
				w.From = append(w.From, s)
			}
		}
		if len(w.From) == 0 {
			return math.MaxInt64
		}
	}
	var deals []*catalog.Deal
	for _, d := range t.p.Catalogue.Deals {
		if d.Store == "" || goes(d.Store) {
			deals = append(deals, d)
		}
	}
	sum, ok := verify.LeastPaid(cart, deals)
	if !ok {
		return math.MaxInt64
	}
	return sum + trips
}
