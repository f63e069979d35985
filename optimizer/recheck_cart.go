package optimizer

import (
	"math"
	"slices"

	"loudfor/catalog"
)

// What a cart costs at least at given shops: every deal of the list is tried
// every number of times, one deal after the other, on the pieces that are left.
// No tables, no bounds, no memory.
//
// A shop's deal takes pieces of that shop; one of no shop takes pieces from
// wherever they are. A piece that a deal makes no cheaper, and a piece in no
// deal, costs what its shop asks. When it is settled how many pieces of each
// shop the deals took, the others are bought one by one where they cost least,
// and the pieces of deals of no shop come from what is then left: their price
// does not depend on the shop.

// ware is a part of the cart.
type ware struct {
	part  *catalog.Part
	own   int64 // what its own shop asks, minor units
	count int   // pieces that have to be bought
	tax   int64 // millionths of a minor unit in one with tax
	from  []catalog.Offer
	// several says that several shops sell it, though perhaps not here: then no
	// deal takes a part of its price, since it has no one price.
	several bool

	taken int // pieces in deals
	plain int // of these, those that a deal of no shop makes no cheaper
	free  int // and those that pay its price
}

// leastPaid tries the deals; ok is false when the shops do not have so much.
func leastPaid(goods []*ware, deals []*catalog.Deal) (sum int64, ok bool) {
	if len(deals) == 0 {
		for _, w := range goods {
			cost, ok := w.others()
			if !ok {
				return 0, false
			}
			sum += cost * w.tax
		}
		return sum, true
	}
	g := grab{deal: deals[0], goods: goods, others: deals[1:]}
	g.best, g.ok = leastPaid(goods, g.others)
	for _, m := range g.deal.Parts {
		k := slices.IndexFunc(goods, func(w *ware) bool { return w.part.SKU == m.SKU })
		if k < 0 {
			return g.best, g.ok
		}
		g.lines = append(g.lines, goods[k])
	}
	g.try()
	return g.best, g.ok
}

// grab tries one deal.
type grab struct {
	deal   *catalog.Deal
	goods  []*ware
	lines  []*ware // those in the deal
	others []*catalog.Deal
	best   int64
	ok     bool
}

// often is how many of so many times the deal is given.
func (g *grab) often(times int) int {
	if g.deal.Limit != catalog.Unlimited {
		return min(times, g.deal.Limit)
	}
	return times
}

// try takes the deal as often as there are pieces for it.
func (g *grab) try() {
	first, d := g.lines[0], g.deal
	switch d.Form {
	case catalog.DealSet:
		var alone []int64
		for i, m := range d.Parts {
			alone = append(alone, int64(m.Count)*g.lines[i].own)
		}
		each := int64(0)
		for i, portion := range catalog.Portions(d.Price.Minor, alone) {
			each += portion * g.lines[i].tax
		}
		pieces := make([]int, len(g.lines))
		for n := 1; g.often(n) == n; n++ {
			for i, m := range d.Parts {
				pieces[i] = n * m.Count
			}
			if !g.take(pieces, pieces, int64(n)*each) {
				break
			}
		}
	case catalog.DealFrom:
		for n := d.From; ; n++ {
			lowered := g.often(n - d.From + 1)
			if d.All {
				lowered = g.often(n)
			}
			if !g.take([]int{n}, []int{lowered}, int64(lowered)*d.Price.Minor*first.tax) {
				break
			}
		}
	case catalog.DealEvery:
		if first.several {
			return
		}
		for n := 1; ; n++ {
			lowered := g.often(n)
			if !g.take([]int{n * d.Every}, []int{lowered}, int64(lowered)*d.Reduced(first.own)*first.tax) {
				break
			}
		}
	}
}

// take takes so many pieces into the deal, of which some pay its price, for a
// sum, and goes on with the other deals; false when there are not so many.
func (g *grab) take(pieces, lowered []int, sum int64) bool {
	before := make([]ware, len(g.lines))
	enough := true
	for i, w := range g.lines {
		before[i] = *w
		w.from = slices.Clone(w.from)
		cost, ok := w.take(g.deal.Store, pieces[i], lowered[i])
		sum += cost * w.tax
		enough = enough && ok
	}
	if enough {
		if rest, ok := leastPaid(g.goods, g.others); ok && (!g.ok || sum+rest < g.best) {
			g.best, g.ok = sum+rest, true
		}
	}
	for i, w := range g.lines {
		*w = before[i]
	}
	return enough
}

// take moves pieces into a deal. Those of a shop's deal that it makes no cheaper
// are paid at once.
func (w *ware) take(store string, pieces, lowered int) (cost int64, ok bool) {
	if w.taken += pieces; w.taken > w.count {
		return 0, false
	}
	if store == "" {
		w.free, w.plain = w.free+lowered, w.plain+pieces-lowered
		return 0, true
	}
	k := slices.IndexFunc(w.from, func(s catalog.Offer) bool { return s.Store == "" || catalog.SameStore(s.Store, store) })
	if k < 0 || w.has(k) < pieces {
		return 0, false
	}
	if w.from[k].Stock != catalog.Unlimited {
		w.from[k].Stock -= pieces
	}
	return int64(pieces-lowered) * w.from[k].Price.Minor, true
}

// has is how many pieces a shop has.
func (w *ware) has(k int) int {
	if w.from[k].Stock == catalog.Unlimited {
		return math.MaxInt32
	}
	return w.from[k].Stock
}

// others buys the pieces that no deal makes cheaper, one by one.
func (w *ware) others() (sum int64, ok bool) {
	left := ware{from: slices.Clone(w.from)}
	pick := func() (price int64, ok bool) {
		best := -1
		for i, s := range left.from {
			if left.has(i) > 0 && (best < 0 || s.Price.Minor < left.from[best].Price.Minor) {
				best = i
			}
		}
		if best < 0 {
			return 0, false
		}
		if left.from[best].Stock != catalog.Unlimited {
			left.from[best].Stock--
		}
		return left.from[best].Price.Minor, true
	}
	for range w.count - w.taken + w.plain {
		price, ok := pick()
		if !ok {
			return 0, false
		}
		sum += price
	}
	for range w.free { // already paid for
		if _, ok := pick(); !ok {
			return 0, false
		}
	}
	return sum, true
}
