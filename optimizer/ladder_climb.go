package optimizer

import (
	"slices"

	"loudfor/optimizer/build"
)

// A block that was prepared climbs the treads on which it was left: from the
// envelope of each down its tree to outfits, from those that pass to the ones
// behind, and with a pair that is worth it through its kits and rests.

// climbTreads searches a block that is prepared, tread by tread.
func (w *worker) climbTreads(slots uint64) {
	g, books := w.group, &w.find.ledger
	c := g.class
	w.within = slices.DeleteFunc(w.within, func(i int) bool {
		t := &c.treads[i]
		return !w.worth(w.price+t.floor, t.felt, t.cable)
	})
	if len(w.within) == 0 {
		w.drop(build.Silent, w.price+c.floor, &books.pairs, slots)
		return
	}
	w.lose(1)
	w.tried = w.tried[:0]
	for _, i := range w.within {
		w.climb(c.treads[i].twigs, 0)
	}
	payable, _ := slices.BinarySearch(c.floors, w.Limit-w.price+1)
	books.pairs[DropCap] += uint64(len(c.pairs) - payable)
	w.drop(build.Silent, w.price+c.floor, &books.pairs, uint64(payable-len(w.tried)))
}

// worth says whether the block at hand, through a cable, is loud enough for
// what it then costs at least.
func (w *worker) worth(floor int64, f coilSource, cable float64) bool {
	incumbent := w.ranking.under(floor)
	if incumbent == nil {
		return true
	}
	return w.prepared.Exceeds(lowest(incumbent.toBeat(floor)), w.throughCable(f, cable), w.task.Reading)
}

// climb looks at the outfits below a twig.
func (w *worker) climb(t []twig, at int) {
	b := &t[at]
	if w.halted() {
		return
	}
	if floor := w.price + b.floor; floor > w.Limit || !w.worth(floor, b.felt, b.cable) {
		return
	}
	if b.outfit < 0 {
		w.climb(t, at+1)
		w.climb(t, b.right)
		return
	}
	w.wear(&w.group.class.wardrobe.outfits[b.outfit])
}

// wear searches an outfit that passed, and those behind it that do.
func (w *worker) wear(o *outfit) {
	c := w.group.class
	if w.halted() {
		return
	}
	w.try(int(c.wardrobe.wired[o.wired].pair))
	for i := range c.wardrobe.behind[o.wired] {
		x := &c.wardrobe.behind[o.wired][i]
		floor := w.price + x.price + o.kit.Lower(1)
		if floor > w.Limit || !w.worth(floor, o.felt, o.cable) {
			break // nor for those that cost more
		}
		if w.worth(floor, *c.felt(x), o.cable) {
			w.try(int(x.pair))
		}
	}
	for i := range o.behind {
		x := &o.behind[i]
		if floor := w.price + x.floor; floor > w.Limit || !w.worth(floor, o.felt, o.cable) {
			break
		}
		if w.worth(w.price+x.floor, x.felt, x.cable) {
			w.wear(x)
		}
	}
}

// try searches a pair with its kits and rests, once for a block.
func (w *worker) try(pair int) {
	if slices.Contains(w.tried, pair) {
		return
	}
	w.tried = append(w.tried, pair)
	p := &w.group.class.pairs[pair]
	w.amp = p.amp
	w.pair(p)
	w.amp = nil
}
