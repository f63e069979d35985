package optimizer

import (
	"slices"

	"loudfor/catalog"
)

// One part in several shops of a tour. Its list price is that of the dearest
// shop that may be needed: going by price, the first that has as many as are
// wanted, or else the last. Every shop that is cheaper makes some pieces
// cheaper, as many as it has; in the words of package documentation, its share
// and its worth are those of a deal of one piece, so bounds (A) to (C) hold.
//
// Deals and shops meet in the pieces. A shop's deal takes pieces of that shop,
// and no more than it has; one of no shop takes them from anywhere. A piece that
// only counts for a deal, as the first of "from the third on" do, costs what its
// shop asks. So once it is settled how many pieces each deal takes, the others
// are bought where they cost least of what is left, and the pieces that pay the
// price of a deal of no shop are those that are then still there: what they cost
// does not depend on the shop.

// sale is what one shop of a tour takes for a part.
type sale struct {
	catalog.Offer
	saving int64 // off the list price, weighed; below zero where it is dearer
}

// listSales fills in the sales of the parts that have several.
func (t *task) listSales() {
	if t.p.tour == nil {
		return
	}
	for _, it := range t.shelf.items {
		for _, o := range t.p.tour.sales[it.part.SKU] {
			it.sales = append(it.sales, sale{o, it.weigh(t, it.part.Price.Minor-o.Price.Minor)})
		}
		if len(it.sales) > 0 && it.sales[0].saving > 0 {
			it.dealt = true
			it.save(it.sales[0].saving, it.sales[0].saving)
		}
	}
}

// ownPrice is what the part's own shop takes, in minor units, wherever it is
// bought.
func (t *task) ownPrice(it *item) int64 {
	if t.p.tour != nil {
		if minor, known := t.p.tour.own[it.part.SKU]; known {
			return minor
		}
	}
	return it.part.Price.Minor
}

// soldIn says whether a shop sells the part, and which of its sales that is; -1
// where there is nothing to choose.
func (it *item) soldIn(store string) (at int, ok bool) {
	if store == "" {
		return -1, true
	}
	if len(it.sales) == 0 {
		return -1, it.part.Store == "" || catalog.SameStore(it.part.Store, store)
	}
	at = slices.IndexFunc(it.sales, func(s sale) bool { return catalog.SameStore(s.Store, store) })
	return at, at >= 0
}

// left is how many pieces of a sale are there when some are held.
func (s *sale) left(held int) int {
	if s.Stock == catalog.Unlimited {
		return plenty
	}
	return max(0, s.Stock-held)
}

// cheaply is what n pieces save where they cost least of what is not held.
func (it *item) cheaply(n int, held []int) (saving int64) {
	for i := range it.sales {
		s := &it.sales[i]
		if s.saving <= 0 || n == 0 {
			break
		}
		k := min(n, s.left(held[i]))
		saving += int64(k) * s.saving
		n -= k
	}
	return saving
}

// bargain is the greatest saving on the pieces that the deals before the k-th
// have left, and on those that only count for one of them. Of several ways, then
// is told the first, with few pieces in the first deals.
func (it *item) bargain(k, left, counted int, held []int, then func(o *offer, pieces int)) int64 {
	if k == len(it.alone) {
		return it.cheaply(left+counted, held)
	}
	o := it.alone[k]
	best, most := 0, it.bargain(k+1, left, counted, held, nil)
	with := func(n int, then func(*offer, int)) int64 {
		lowered := o.lowers(n)
		saving := int64(o.gain(n)) * o.saving
		pool := o.pools[0]
		if pool < 0 {
			return saving + it.bargain(k+1, left-n, counted+n-lowered, held, then)
		}
		held[pool] += n
		saving += int64(n-lowered)*it.sales[pool].saving + it.bargain(k+1, left-n, counted, held, then)
		held[pool] -= n
		return saving
	}
	for n := 1; n <= left; n++ {
		if pool := o.pools[0]; pool >= 0 && it.sales[pool].left(held[pool]) < n {
			break
		}
		if o.gain(n) == 0 {
			continue
		}
		if saving := with(n, nil); saving > most {
			best, most = n, saving
		}
	}
	if then != nil {
		if best > 0 {
			then(o, best)
			with(best, then)
		} else {
			it.bargain(k+1, left, counted, held, then)
		}
	}
	return most
}
