package pricing

import (
	"encoding/binary"
	"slices"
)

// What a set of parts costs with its deals. Deals about one part alone only
// meet in the number of pieces that each gets, so their best division is a
// table for each part. Sets of several parts are tried as often as they can be
// made, one after the other; what is left, here and in the shops that the sets
// draw from, decides the rest, so each state of what is left is worked out once. A
// build has a dozen pieces of half a dozen parts in deals at most, so there are
// few states.

// savings is the greatest saving that n pieces of a part bring by the deals
// about it alone, and by the shops where it costs less, of which some pieces are
// held; then, if asked for, is told which deals get how many pieces.
func (it *Item) savings(n int, held []int, then func(o *Deal, pieces int)) int64 {
	if len(it.sales) > 0 {
		return it.bargain(0, n, 0, held, then)
	}
	// best[k][m]: with the first k deals and m pieces.
	best := make([][]int64, len(it.alone)+1)
	best[0] = make([]int64, n+1)
	for k, o := range it.alone {
		best[k+1] = make([]int64, n+1)
		for m := range n + 1 {
			for x := 0; x <= m; x++ {
				best[k+1][m] = max(best[k+1][m], best[k][m-x]+int64(o.gain(x))*o.Saving)
			}
		}
	}
	if then != nil {
		m := n
		for k := len(it.alone) - 1; k >= 0; k-- {
			for x := 0; x <= m; x++ {
				if times := it.alone[k].gain(x); best[k+1][m] == best[k][m-x]+int64(times)*it.alone[k].Saving {
					if times > 0 {
						then(it.alone[k], x)
					}
					m -= x
					break
				}
			}
		}
	}
	return best[len(it.alone)][n]
}

// aloneSaving is savings from the table where that reaches.
func (it *Item) aloneSaving(n int, held []int) int64 {
	switch {
	case len(it.alone) == 0 && len(it.sales) == 0:
		return 0
	case n < len(it.table) && !slices.ContainsFunc(held, func(n int) bool { return n > 0 }):
		return it.table[n]
	}
	return it.savings(n, held, nil)
}

// Exact is the least sum of weighed prices that a set of parts can be had for,
// labour for the pieces included.
func (t *Book) Exact(s Set) (sum int64) {
	dealt := false
	for _, u := range s {
		sum += u.Item.List(u.Count)
		dealt = dealt || u.Item.Dealt
	}
	if dealt {
		sum -= t.newDealDP(s).most(0)
	}
	return sum
}

// dealDP is what is bought of the parts that are in deals, with the sets that
// could be made of it.
type dealDP struct {
	items []*Item
	left  []int
	held  [][]int // of each item, the pieces of each of its sales that sets take
	sets  []*Deal
	at    [][]int // for each set, where its parts stand in items
	known map[string]int64
}

func (t *Book) newDealDP(s Set) *dealDP {
	b := &dealDP{}
	for _, u := range s {
		if n := u.Count - u.Item.Owned; n > 0 && u.Item.Dealt {
			b.items, b.left, b.held = append(b.items, u.Item), append(b.left, n), append(b.held, make([]int, len(u.Item.sales)))
		}
	}
	for _, it := range b.items {
		for _, o := range it.sets {
			if b.holds(o) {
				b.sets = append(b.sets, o)
			}
		}
	}
	slices.SortFunc(b.sets, func(a, b *Deal) int { return a.place - b.place })
	for _, o := range b.sets {
		at := make([]int, len(o.Uses))
		for i, u := range o.Uses {
			at[i] = slices.Index(b.items, u.Item)
		}
		b.at = append(b.at, at)
	}
	if len(b.sets) > 1 {
		b.known = make(map[string]int64)
	}
	return b
}

// holds says that a set can be made of what is in the basket.
func (b *dealDP) holds(o *Deal) bool {
	for _, u := range o.Uses {
		if i := slices.Index(b.items, u.Item); i < 0 || b.left[i] < u.Count {
			return false
		}
	}
	return true
}

// take moves pieces of a set out of the basket; with a negative number, back.
func (b *dealDP) take(set, times int) {
	o := b.sets[set]
	for i, u := range o.Uses {
		at := b.at[set][i]
		b.left[at] -= times * u.Count
		if o.pools[i] >= 0 {
			b.held[at][o.pools[i]] += times * u.Count
		}
	}
}

// room is how often a set can be made of what is left.
func (b *dealDP) room(set int) int {
	o := b.sets[set]
	n := o.Times
	for i, u := range o.Uses {
		at := b.at[set][i]
		n = min(n, b.left[at]/u.Count)
		if pool := o.pools[i]; pool >= 0 {
			n = min(n, u.Item.sales[pool].left(b.held[at][pool])/u.Count)
		}
	}
	return n
}

// most is the greatest saving with what is left and the sets from one on.
func (b *dealDP) most(set int) (best int64) {
	if set == len(b.sets) {
		for i, it := range b.items {
			best += it.aloneSaving(b.left[i], b.held[i])
		}
		return best
	}
	var key string
	if b.known != nil {
		bytes := binary.AppendUvarint(nil, uint64(set))
		for _, n := range b.left {
			bytes = binary.AppendUvarint(bytes, uint64(n))
		}
		for _, held := range b.held {
			for _, n := range held {
				bytes = binary.AppendUvarint(bytes, uint64(n))
			}
		}
		key = string(bytes)
		if v, known := b.known[key]; known {
			return v
		}
	}
	for n := range b.room(set) + 1 {
		b.take(set, n)
		best = max(best, int64(n)*b.sets[set].Saving+b.most(set+1))
		b.take(set, -n)
	}
	if b.known != nil {
		b.known[key] = best
	}
	return best
}
