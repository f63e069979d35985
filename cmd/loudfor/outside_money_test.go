package main

import (
	"math"
	"slices"
)

// What the parts of a build cost at least, by trying every way: each set of shops,
// each number of times of each deal, as README and the file formats have it.

// outTill is one visit: the cart, and what each shop that is gone to has.
type outTill struct {
	c      *outCase
	shops  []string
	need   map[string]int      // pieces to buy
	stock  map[[2]string]int   // by part and shop
	asks   map[[2]string]int64 // what the shop asks
	plain  map[string]int      // taken into a deal of no shop that makes them no cheaper
	free   map[string]int      // taken into one at its price: wherever they are
	rates  map[string]int64    // tax by part, hundredths of a percent
	parts  map[string]*outPart
	lowest int64
}

const tenThousand = 10_000 // hundredths of a percent in one

// costs gives the price of a set of parts in cents and in cents/10,000; ok is false
// where the shops do not sell so much.
func (c *outCase) costs(set []outCount) (cents, exact int64, ok bool) {
	buy := map[string]int{}
	work := int64(0)
	pieces := map[string][2]int{} // by kind: bought, installed
	for _, m := range set {
		p := c.part(m.sku)
		n := max(0, m.n-outCounted(c.owned, m.sku))
		k := pieces[p.kind]
		pieces[p.kind] = [2]int{k[0] + n, k[1] + m.n}
		if n > 0 && (p.price < 0 || p.limit >= 0 && n > p.limit) {
			return 0, 0, false
		}
		if n > 0 {
			buy[m.sku] = n
		}
	}
	for _, w := range c.work {
		times := pieces[w.per][0]
		switch {
		case w.per == "build":
			times = 1
		case w.installed:
			times = pieces[w.per][1]
		}
		rate := w.tax
		if rate < 0 {
			rate = c.rate("labour")
		}
		work += int64(times) * w.price * (tenThousand + rate)
	}
	best := int64(math.MaxInt64)
	for mask := range 1 << len(outShops) {
		till := outTill{c: c, need: map[string]int{}, stock: map[[2]string]int{}, asks: map[[2]string]int64{}, plain: map[string]int{}, free: map[string]int{}, lowest: math.MaxInt64}
		trips := int64(0)
		for i, s := range outShops {
			if mask>>i&1 == 1 {
				till.shops = append(till.shops, s)
				trips += c.trips[s] * tenThousand
			}
		}
		if c.mostStores > 0 && len(till.shops) > c.mostStores {
			continue
		}
		till.fill(buy)
		if till.deals(0, 0); till.lowest < math.MaxInt64 {
			best = min(best, till.lowest+trips)
		}
	}
	if best == math.MaxInt64 {
		return 0, 0, false
	}
	exact = best + work
	return (exact + tenThousand/2) / tenThousand, exact, true
}

// rate is the tax on a kind, or on labour.
func (c *outCase) rate(kind string) int64 {
	if p, ok := c.taxes[kind]; ok {
		return p
	}
	return c.tax
}

func (c *outCase) part(sku string) *outPart {
	for _, p := range c.parts {
		if p.sku == sku {
			return p
		}
	}
	return nil
}

// fill puts what the shops have into the till.
func (l *outTill) fill(buy map[string]int) {
	l.rates, l.parts = map[string]int64{}, map[string]*outPart{}
	for sku, n := range buy {
		p := l.c.part(sku)
		l.need[sku], l.parts[sku], l.rates[sku] = n, p, tenThousand+l.c.rate(p.kind)
		for _, o := range append([]outOffer{{p.store, p.price, p.stock}}, p.offers...) {
			if !l.goes(o.store) {
				continue
			}
			if o.stock < 0 {
				o.stock = 99
			}
			l.stock[[2]string{sku, o.store}], l.asks[[2]string{sku, o.store}] = o.stock, o.price
		}
	}
}

// goes says whether the customer is in a shop and may buy there.
func (l *outTill) goes(store string) bool {
	return slices.Contains(l.shops, store) && (len(l.c.stores) == 0 || slices.Contains(l.c.stores, store))
}

// deals tries the deals from the i-th on, any number of times each, on top of a sum.
func (l *outTill) deals(i int, sum int64) {
	if i == len(l.c.deals) {
		l.rest(sum)
		return
	}
	d := &l.c.deals[i]
	l.deals(i+1, sum)
	if d.store != "" && !l.goes(d.store) {
		return
	}
	first := d.parts[0].sku
	for n := 1; n <= 9; n++ {
		takes := slices.Clone(d.parts)
		plain := 0 // pieces that the deal makes no cheaper
		var pays int64
		switch {
		case d.from > 0:
			takes[0].n = d.from - 1 + n
			lowered := n
			if d.all {
				lowered = takes[0].n
				if d.limit >= 0 {
					lowered = min(lowered, d.limit)
				}
			}
			plain = takes[0].n - lowered
			pays = int64(lowered) * d.price * l.rates[first]
		case d.every > 0:
			takes[0].n = d.every * n
			plain = takes[0].n - n
			if l.parts[first] != nil {
				left := l.parts[first].price * (100 - d.off)
				pays = int64(n) * ((left + 50) / 100) * l.rates[first] // rounded half up to the cent
			}
		default:
			for k := range takes {
				takes[k].n *= n
			}
			pays = int64(n) * d.price * l.rates[first]
		}
		if d.limit >= 0 && !d.all && n > d.limit {
			// Beyond the limit a deal for several pieces goes on with fewer at its
			// price, which is no better than leaving them out of it.
			return
		}
		if !l.take(d, takes, plain, func(extra int64) { l.deals(i+1, sum+pays+extra) }) {
			return
		}
	}
}

// take moves pieces into a deal, goes on, and moves them back; so many of the first
// part's the deal makes no cheaper.
func (l *outTill) take(d *outDeal, takes []outCount, plain int, then func(extra int64)) bool {
	for _, m := range takes {
		if l.need[m.sku] < m.n || d.store != "" && l.stock[[2]string{m.sku, d.store}] < m.n {
			return false
		}
	}
	first := takes[0].sku
	move := func(sign int) {
		for _, m := range takes {
			l.need[m.sku] -= sign * m.n
			if d.store != "" {
				l.stock[[2]string{m.sku, d.store}] -= sign * m.n
			} else {
				l.free[m.sku] += sign * m.n
			}
		}
		if d.store == "" {
			l.plain[first] += sign * plain
			l.free[first] -= sign * plain
		}
	}
	extra := int64(0)
	if d.store != "" {
		extra = int64(plain) * l.asks[[2]string{first, d.store}] * l.rates[first]
	}
	move(1)
	then(extra)
	move(-1)
	return true
}

// rest buys what no deal makes cheaper, piece by piece where it costs least; the
// pieces of a deal of no shop come from what is left.
func (l *outTill) rest(sum int64) {
	for sku := range l.parts {
		left := map[string]int{}
		for _, s := range l.shops {
			left[s] = l.stock[[2]string{sku, s}]
		}
		for k := range l.need[sku] + l.plain[sku] + l.free[sku] {
			cheapest := ""
			for _, s := range l.shops {
				if left[s] > 0 && (cheapest == "" || l.asks[[2]string{sku, s}] < l.asks[[2]string{sku, cheapest}]) {
					cheapest = s
				}
			}
			if cheapest == "" {
				return
			}
			left[cheapest]--
			if k < l.need[sku]+l.plain[sku] {
				sum += l.asks[[2]string{sku, cheapest}] * l.rates[sku]
			}
		}
	}
	l.lowest = min(l.lowest, sum)
}
