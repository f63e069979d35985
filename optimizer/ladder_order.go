package optimizer

import (
	"sort"

	"loudfor/optimizer/build"
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

// worthOnLadder is worthwhile on a ladder: whether any step of a staircase of
// rests leads onto it.
func (w *worker) worthOnLadder(price int64, s stairs) bool {
	if !w.Music() {
		return true
	}
	for _, x := range s {
		if p := price + x.price; p <= w.Limit && w.ranking.under(p).allows(x.level, p) {
			return true
		}
	}
	return false
}

// entry is the lowest price at which a build could be on the ladder whose bass
// is no louder than l: no less need be beaten by any such build than what is
// held for that price.
func (w *worker) entry(l build.Level, floor, bare int64, rests ...stairs) (price int64, ok bool) {
	price = pricing.Boundless
	for _, s := range rests {
		for _, x := range s {
			p := max(floor, bare+x.price)
			if p > w.Limit || p >= price {
				break
			}
			if w.ranking.under(p).allows(min(l, x.level), p) {
				price, ok = p, true
				break
			}
			if x.level >= l {
				break
			}
		}
	}
	return price, ok
}

// toBeat is the lowest level with which something that costs at least floor
// comes before a candidate that costs no more.
func (c *candidate) toBeat(floor int64) build.Level {
	if floor > c.price {
		return c.level + 1
	}
	return c.level
}
