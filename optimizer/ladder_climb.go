package optimizer

import (
	"slices"

	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
)

// A block that was prepared climbs the treads on which it was left: from the
// envelope of each down its tree to feeds, from those that pass to the ones
// behind, and with a pair that is worth it through its kits and rests.

// climbTreads searches a block that is prepared, tread by tread.
func (w *worker) climbTreads(slots uint64) {
	g, books := w.group, &w.find.ledger
	c := g.class
	w.within = slices.DeleteFunc(w.within, func(i int) bool {
		t := &c.Tiers[i]
		return !w.worth(w.price+t.Floor, t.AtCoil, t.Cable)
	})
	if len(w.within) == 0 {
		w.drop(build.Silent, w.price+c.Floor, &books.pairs, slots)
		return
	}
	w.lose(1)
	w.tried = w.tried[:0]
	for _, i := range w.within {
		w.climb(c.Tiers[i].Tree, 0)
	}
	payable, _ := slices.BinarySearch(c.Floors, w.Limit-w.price+1)
	books.pairs[DropCap] += uint64(len(c.Choices) - payable)
	w.drop(build.Silent, w.price+c.Floor, &books.pairs, uint64(payable-len(w.tried)))
}

// worth says whether the block at hand, through a cable, is loud enough for
// what it then costs at least.
func (w *worker) worth(floor int64, f drive.CoilSource, cable float64) bool {
	incumbent := w.ranking.under(floor)
	if incumbent == nil {
		return true
	}
	return w.prepared.Exceeds(lowest(incumbent.toBeat(floor)), w.throughCable(f, cable), w.task.Reading)
}

// climb looks at the feeds below a branch.
func (w *worker) climb(t []drive.FeedNode, at int) {
	b := &t[at]
	if w.halted() {
		return
	}
	if floor := w.price + b.Floor; floor > w.Limit || !w.worth(floor, b.AtCoil, b.Cable) {
		return
	}
	if b.Feed < 0 {
		w.climb(t, at+1)
		w.climb(t, b.Right)
		return
	}
	w.openFeed(&w.group.class.Feeds.All[b.Feed])
}

// openFeed searches a feed that passed, and those behind it that do.
func (w *worker) openFeed(o *drive.Feed) {
	c := w.group.class
	if w.halted() {
		return
	}
	w.try(int(c.Feeds.Wired[o.Wired].Choice))
	for i := range c.Feeds.Behind[o.Wired] {
		x := &c.Feeds.Behind[o.Wired][i]
		floor := w.price + x.Price + o.Kit.Lower(1)
		if floor > w.Limit || !w.worth(floor, o.AtCoil, o.Cable) {
			break // nor for those that cost more
		}
		if w.worth(floor, *c.AtCoil(x), o.Cable) {
			w.try(int(x.Choice))
		}
	}
	for i := range o.Behind {
		x := &o.Behind[i]
		if floor := w.price + x.Floor; floor > w.Limit || !w.worth(floor, o.AtCoil, o.Cable) {
			break
		}
		if w.worth(w.price+x.Floor, x.AtCoil, x.Cable) {
			w.openFeed(x)
		}
	}
}

// try searches a pair with its kits and rests, once for a block.
func (w *worker) try(pair int) {
	if slices.Contains(w.tried, pair) {
		return
	}
	w.tried = append(w.tried, pair)
	p := &w.group.class.Choices[pair]
	w.amp = p.Amp
	w.pair(p)
	w.amp = nil
}
