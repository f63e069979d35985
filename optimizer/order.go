package optimizer

import (
	"encoding/binary"
	"sort"

	"loudfor/optimizer/build"
)

// The stated order of builds, best first: the higher objective (rounded to
// build.LevelStep), the lower price, the fewer pieces, then SKU order: of the two
// lists of SKUs, repeats written out, the one that comes first alphabetically.
// That is a total order on sets of parts. It has one more property on which
// the search relies: adding the same parts to both of two sets never changes
// which of them comes first by pieces and SKUs.

// use is how many pieces of an item a set of parts holds.
type use struct {
	item  *item
	count int
}

// set is a set of parts, in SKU order, every count above zero.
type set []use

// collect makes a set of uses in any order, joining those of one item.
func collect(uses ...use) set {
	var s set
	for _, u := range uses {
		if u.item == nil || u.count == 0 {
			continue
		}
		at := -1
		for i := range s {
			if s[i].item == u.item {
				at = i
			}
		}
		if at >= 0 {
			s[at].count += u.count
			continue
		}
		s = append(s, u)
	}
	sort.Slice(s, func(i, j int) bool { return s[i].item.id < s[j].item.id })
	return s
}

// key tells sets of one shelf apart.
func (s set) key() string {
	b := make([]byte, 0, 8*len(s))
	for _, u := range s {
		b = binary.AppendUvarint(b, uint64(u.item.id))
		b = binary.AppendUvarint(b, uint64(u.count))
	}
	return string(b)
}

func (s set) pieces() (n int) {
	for _, u := range s {
		n += u.count
	}
	return n
}

// available says whether so many pieces of everything can be had.
func (s set) available() bool {
	for _, u := range s {
		if u.count > u.item.most {
			return false
		}
	}
	return true
}

// compareSKUs is below zero when s comes before o. At the first SKU in which
// the counts differ, the set with more of it has that SKU where the other
// already has a later one.
func (s set) compareSKUs(o set) int {
	for i := 0; ; i++ {
		switch {
		case i == len(s) && i == len(o):
			return 0
		case i == len(s):
			return +1
		case i == len(o):
			return -1
		case s[i].item.id != o[i].item.id:
			return s[i].item.id - o[i].item.id
		case s[i].count != o[i].count:
			return o[i].count - s[i].count
		}
	}
}

// candidate is a set of parts with what it is ranked by.
type candidate struct {
	level  build.Level
	price  int64
	pieces int
	parts  set
	bass   [2]*item // bass amplifier and driver
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
	return c.parts.compareSKUs(o.parts) < 0
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
