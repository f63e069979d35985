package optimizer

import (
	"sort"

	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/pricing"
)

// A ladder is ranked by itself: it holds every candidate for which none held
// is as good for no more money. So levels and prices rise together, and what
// something new has to beat is one candidate again: the best of those that
// cost no more. Ties fall as in a ranking: at equal level the cheaper, at equal
// price as well the one with fewer pieces, then the first by SKUs.

// under is the best candidate that costs no more than a price; nil if none
// does. Like a ranking, the ladder is kept best first, which is dearest first.
func (r *ranking) under(price int64) *candidate {
	at := sort.Search(len(r.best), func(i int) bool { return r.best[i].price <= price })
	if at == len(r.best) {
		return nil
	}
	return &r.best[at]
}

// span is under, and the price from which on it is another; boundless if that is
// never.
func (r *ranking) span(price int64) (c *candidate, until int64) {
	at := sort.Search(len(r.best), func(i int) bool { return r.best[i].price <= price })
	until = pricing.Boundless
	if at > 0 {
		until = r.best[at-1].price
	}
	if at == len(r.best) {
		return nil, until
	}
	return &r.best[at], until
}

// climb puts a candidate on the ladder, if it belongs there, and takes off
// what it outranks for no more money.
func (r *ranking) climb(c candidate) {
	if held := r.under(c.price); held != nil && !c.before(held) {
		return
	}
	// All from first on to the cheaper end cost less than c; all up to last
	// on are louder. What is between is neither.
	last := sort.Search(len(r.best), func(i int) bool { return r.best[i].level <= c.level })
	first := sort.Search(len(r.best), func(i int) bool { return r.best[i].price < c.price })
	kept := append(make([]candidate, 0, len(r.best)+1), r.best[:last]...)
	kept = append(kept, c)
	r.best = append(kept, r.best[max(first, last):]...)
}

// foothold is the lowest level, no lower than aim, and the lowest price at which a build
// could be on the ladder that costs at least floor, and at least bare without a rest.
func (w *worker) foothold(rests completion.CostToReach, aim build.Level, floor, bare int64) (l build.Level, price int64, ok bool) {
	for {
		price = max(floor, bare+rests.PriceOf(aim))
		if price > w.Limit {
			return build.Loudest, pricing.Boundless, false
		}
		held := w.ranking.under(price)
		if held == nil || held.toBeat(price) <= aim {
			return aim, price, true
		}
		aim = held.toBeat(price)
	}
}

// toBeat is the lowest level with which something that costs at least floor
// comes before a candidate that costs no more.
func (c *candidate) toBeat(floor int64) build.Level {
	if floor > c.price {
		return c.level + 1
	}
	return c.level
}
