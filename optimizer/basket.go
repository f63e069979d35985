package optimizer

import (
	"encoding/binary"
	"slices"
	"strings"
)

// What a set of parts costs with its deals. Deals about one part alone only
// meet in the number of pieces that each gets, so their best division is a
// table for each part. Sets of several parts are tried as often as they can be
// made, one after the other; what is left decides the rest, so each state of
// the basket is worked out once. A build has a dozen pieces of half a dozen
// parts in deals at most, so there are few states.

// savings is the greatest saving that n pieces of a part bring by the deals
// about it alone; then, if asked for, is told how it comes about.
func (it *item) savings(n int, then func(o *offer, times int)) int64 {
	// best[k][m]: with the first k offers and m pieces.
	best := make([][]int64, len(it.alone)+1)
	best[0] = make([]int64, n+1)
	for k, o := range it.alone {
		best[k+1] = make([]int64, n+1)
		for m := range n + 1 {
			for x := 0; x <= m; x++ {
				best[k+1][m] = max(best[k+1][m], best[k][m-x]+int64(o.gain(x))*o.saving)
			}
		}
	}
	if then != nil {
		m := n
		for k := len(it.alone) - 1; k >= 0; k-- {
			for x := 0; x <= m; x++ {
				if times := it.alone[k].gain(x); best[k+1][m] == best[k][m-x]+int64(times)*it.alone[k].saving {
					if times > 0 {
						then(it.alone[k], times)
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
func (it *item) aloneSaving(n int) int64 {
	switch {
	case len(it.alone) == 0:
		return 0
	case n < len(it.table):
		return it.table[n]
	}
	return it.savings(n, nil)
}

// pay is the least sum of weighed prices that a set of parts can be had for,
// labour for the pieces included.
func (t *task) pay(s set) (sum int64) {
	dealt := false
	for _, u := range s {
		sum += u.item.list(u.count)
		dealt = dealt || u.item.dealt
	}
	if dealt {
		sum -= t.basket(s).most(0)
	}
	return sum
}

// basket is what is bought of the parts that are in deals, with the sets that
// could be made of it.
type basket struct {
	items []*item
	left  []int
	sets  []*offer
	at    [][]int // for each set, where its parts stand in items
	known map[string]int64
}

func (t *task) basket(s set) *basket {
	b := &basket{}
	for _, u := range s {
		if n := u.count - u.item.owned; n > 0 && u.item.dealt {
			b.items, b.left = append(b.items, u.item), append(b.left, n)
		}
	}
	for _, o := range t.offers {
		if o.single() {
			continue
		}
		var at []int
		for _, u := range o.uses {
			if i := slices.Index(b.items, u.item); i >= 0 && b.left[i] >= u.count {
				at = append(at, i)
			}
		}
		if len(at) == len(o.uses) {
			b.sets, b.at = append(b.sets, o), append(b.at, at)
		}
	}
	if len(b.sets) > 1 {
		b.known = make(map[string]int64)
	}
	return b
}

// take moves pieces of a set out of the basket; with a negative number, back.
func (b *basket) take(set, times int) {
	for i, u := range b.sets[set].uses {
		b.left[b.at[set][i]] -= times * u.count
	}
}

// room is how often a set can be made of what is left.
func (b *basket) room(set int) int {
	n := b.sets[set].times
	for i, u := range b.sets[set].uses {
		n = min(n, b.left[b.at[set][i]]/u.count)
	}
	return n
}

// most is the greatest saving with what is left and the sets from one on.
func (b *basket) most(set int) (best int64) {
	if set == len(b.sets) {
		for i, it := range b.items {
			best += it.aloneSaving(b.left[i])
		}
		return best
	}
	var key string
	if b.known != nil {
		bytes := binary.AppendUvarint(nil, uint64(set))
		for _, n := range b.left {
			bytes = binary.AppendUvarint(bytes, uint64(n))
		}
		key = string(bytes)
		if v, known := b.known[key]; known {
			return v
		}
	}
	for n := range b.room(set) + 1 {
		b.take(set, n)
		best = max(best, int64(n)*b.sets[set].saving+b.most(set+1))
		b.take(set, -n)
	}
	if b.known != nil {
		b.known[key] = best
	}
	return best
}

// applied lists a way of applying the offers that saves the most, in the order
// of their names; of several ways one that makes more of the sets whose names
// come first.
func (t *task) applied(s set) (all []taken) {
	b := t.basket(s)
	for i, o := range b.sets {
		want := b.most(i)
		for n := b.room(i); n >= 0; n-- {
			b.take(i, n)
			if int64(n)*o.saving+b.most(i+1) == want {
				if n > 0 {
					all = append(all, taken{o, n})
				}
				break
			}
			b.take(i, -n)
		}
	}
	for i, it := range b.items {
		it.savings(b.left[i], func(o *offer, times int) { all = append(all, taken{o, times}) })
	}
	slices.SortStableFunc(all, func(a, b taken) int { return strings.Compare(a.offer.deal.Name, b.offer.deal.Name) })
	return all
}

// taken is an offer with how often it is taken.
type taken struct {
	offer *offer
	times int
}
