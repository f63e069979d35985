package optimizer

import (
	"sort"

	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// The stated order of builds, best first: the higher objective (rounded to
// build.LevelStep), the lower price, the fewer pieces, then SKU order: of the two
// lists of SKUs, repeats written out, the one that comes first alphabetically.
// That is a total order on sets of parts. It has one more property on which
// the search relies: adding the same parts to both of two sets never changes
// which of them comes first by pieces and SKUs.

// candidate is a set of parts with what it is ranked by.
type candidate struct {
	level  build.Level
	price  int64
	pieces int
	parts  pricing.Set
	bass   [2]*pricing.Item // bass amplifier and driver
}

// before is the stated order.
func (c *candidate) before(o *candidate) bool {
	switch {
	case c.level != o.level:
		return c.level > o.level
	case c.price != o.price:
		return c.price < o.price
	case c.pieces != o.pieces:
		return c.pieces < o.pieces
	}
	return c.parts.CompareSKUs(o.parts) < 0
}

// ranking holds the best candidates so far, best first, one of those that are the same.
type ranking struct {
	size   int
	same   func(a, b *candidate) bool // whether two are ranked as one
	ladder bool                       // one for each price: see ladder.go
	best   []candidate
}

// copy makes r another ranking that can be changed by itself.
func (r *ranking) copy(o *ranking) {
	if o.ladder {
		*r = *o // a list of steps is never changed, but replaced: see climb
		return
	}
	best := append(r.best[:0], o.best...)
	*r = *o
	r.best = best
}

// last is the candidate that a new one has to beat; nil while there is room.
func (r *ranking) last() *candidate {
	if r.ladder || len(r.best) < r.size {
		return nil
	}
	return &r.best[len(r.best)-1]
}

// allows says whether something of a level and price could come before the
// candidate, pieces and SKUs apart. Anything could come before none.
func (c *candidate) allows(l build.Level, price int64) bool {
	return c == nil || l > c.level || l == c.level && price <= c.price
}

// insert puts a candidate in its place, if it has one.
func (r *ranking) insert(c candidate) {
	if r.ladder {
		r.climb(c)
		return
	}
	if last := r.last(); last != nil && !c.before(last) {
		return
	}
	for i := range r.best {
		if r.same(&r.best[i], &c) {
			if r.best[i].before(&c) || !c.before(&r.best[i]) {
				return
			}
			r.best = append(r.best[:i], r.best[i+1:]...)
			break
		}
	}
	at := sort.Search(len(r.best), func(i int) bool { return c.before(&r.best[i]) })
	r.best = append(r.best, candidate{})
	copy(r.best[at+1:], r.best[at:])
	r.best[at] = c
	if len(r.best) > r.size {
		r.best = r.best[:r.size]
	}
}
