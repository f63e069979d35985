package pricing

import (
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// How the least price of a set of parts comes about: which deals are applied,
// and what is bought in which shop.

// receipt says what is bought where.
type receipt struct {
	taken  []taken                    // in the order of the deals' names
	bought map[*Item][]build.Purchase // of the parts that several shops sell
}

// taken is a deal with how often it is taken.
type taken struct {
	deal  *Deal
	times int
	spent []int64 // what its pieces would cost without it, for each use, minor units
}

// saved is what a use of the deal costs less by it, in minor units.
func (a *taken) saved(use int) int64 { return a.spent[use] - int64(a.times)*a.deal.asked[use] }

// receipt makes one of a set: the least price, and of several ways to it one
// that makes more of the sets whose names come first.
func (t *Book) receipt(s Set) receipt {
	b := t.newDealDP(s)
	r := receipt{bought: make(map[*Item][]build.Purchase)}
	for i, o := range b.sets {
		want := b.most(i)
		for n := b.room(i); n >= 0; n-- {
			b.take(i, n)
			if int64(n)*o.Saving+b.most(i+1) == want {
				if n > 0 {
					r.taken = append(r.taken, taken{deal: o, times: n})
				}
				break
			}
			b.take(i, -n)
		}
	}
	for i, it := range b.items {
		held := b.held[i]
		counted := 0 // pieces that count for a deal of no shop, and pay their own price
		it.savings(b.left[i], slices.Clone(held), func(o *Deal, n int) {
			r.taken = append(r.taken, taken{deal: o, times: o.gain(n)})
			b.left[i] -= n
			if len(it.sales) == 0 {
				return
			}
			if pool := o.pools[0]; pool >= 0 {
				held[pool] += n
				r.put(it, pool, n-o.lowers(n))
			} else {
				counted += n - o.lowers(n)
			}
		})
		if len(it.sales) > 0 {
			r.fetch(it, b.left[i]+counted, held)
		}
	}
	for _, u := range s {
		if n := u.Count - u.Item.Owned; n > 0 && len(u.Item.sales) > 0 && !u.Item.Dealt {
			r.fetch(u.Item, n, make([]int, len(u.Item.sales)))
		}
	}
	slices.SortStableFunc(r.taken, func(a, b taken) int { return strings.Compare(a.deal.Terms.Name, b.deal.Terms.Name) })
	for i := range r.taken {
		r.lower(&r.taken[i], b)
	}
	return r
}

// lower says what the pieces of a deal that it makes cheaper would cost.
func (r *receipt) lower(a *taken, b *dealDP) {
	for i, u := range a.deal.Uses {
		n := a.times * u.Count
		switch pool := a.deal.pools[i]; {
		case len(u.Item.sales) == 0:
			a.spent = append(a.spent, int64(n)*u.Item.Part.Price.Minor)
		case pool >= 0:
			r.put(u.Item, pool, n)
			a.spent = append(a.spent, int64(n)*u.Item.sales[pool].Price.Minor)
		default:
			a.spent = append(a.spent, r.fetch(u.Item, n, b.held[slices.Index(b.items, u.Item)]))
		}
	}
}

// fetch buys pieces where they cost least of what is not held; beyond what there
// is, at the list price.
func (r *receipt) fetch(it *Item, n int, held []int) (spent int64) {
	last := len(it.sales) - 1
	for i := range it.sales {
		s := &it.sales[i]
		k := min(n, s.left(held[i]))
		if i == last {
			k = n
		}
		held[i] += k
		n -= k
		r.put(it, i, k)
		spent += int64(k) * s.Price.Minor
	}
	return spent
}

// put adds pieces to the purchases.
func (r *receipt) put(it *Item, sale, n int) {
	if n == 0 {
		return
	}
	s := &it.sales[sale]
	for i := range r.bought[it] {
		if p := &r.bought[it][i]; p.Store == s.Store {
			p.Count += n
			return
		}
	}
	r.bought[it] = append(r.bought[it], build.Purchase{Store: s.Store, Count: n, Each: s.Price})
}

// purchases are those of a part, cheapest first, with what they cost.
func (r *receipt) purchases(it *Item) (list []build.Purchase, cost int64) {
	list = r.bought[it]
	slices.SortStableFunc(list, func(a, b build.Purchase) int { return int(a.Each.Minor - b.Each.Minor) })
	for _, p := range list {
		cost += int64(p.Count) * p.Each.Minor
	}
	return list, cost
}

// bought is how much of each rate's parts is bought, deals taken off.
func (t *Book) bought(b *build.Build, parts Set) map[int64]int64 {
	sums := make(map[int64]int64) // by rate
	rate := func(it *Item) int64 { return t.Brief.TaxOn(it.Part.Kind) }
	r := t.receipt(parts)
	for _, u := range parts {
		n := max(0, u.Count-u.Item.Owned)
		cost := int64(n) * u.Item.Part.Price.Minor
		if len(u.Item.sales) > 0 && n > 0 {
			var list []build.Purchase
			list, cost = r.purchases(u.Item)
			line := &b.Lines[slices.IndexFunc(b.Lines, func(l build.Line) bool { return l.Part == u.Item.Part })]
			line.From, line.Cost = list, t.Money(cost)
		}
		sums[rate(u.Item)] += cost
	}
	for i := range r.taken {
		a := &r.taken[i]
		saved := int64(0)
		for k, u := range a.deal.Uses {
			saved += a.saved(k)
			sums[rate(u.Item)] -= a.saved(k)
		}
		b.Deals = append(b.Deals, build.AppliedDeal{Name: a.deal.Terms.Name, Times: a.times, Saving: catalog.Money{Minor: saved, Currency: t.Currency()}})
	}
	return sums
}
