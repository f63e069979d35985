package optimizer

import "loudfor/optimizer/build"

// The search of a group for a ranking of readings: box by box, the cheapest first, or
// rack by rack where the boxes are asked together (cluster.go). What is left is settled
// block by block.

// read settles every block of a group.
func (w *worker) read(g *group) {
	aim := w.aim(g)
	if aim == nil || g.targets == nil {
		for i, box := range g.housing {
			switch {
			case !w.goesOn(g, i):
				return
			case w.narrow(box.Opening) || aim != nil && w.hopeless(i, aim):
				w.refuse(1)
			case aim == nil && !w.inView(g):
			default:
				w.settle(w.ChoiceSlots())
			}
		}
		return
	}
	for _, l := range g.targets.racks {
		if !w.goesOn(g, l.from) {
			return
		}
		next := l.from // all before are booked
		w.left = w.sieve(l, g, aim, w.left[:0])
		for _, i := range w.left {
			w.refuse(i - next)
			if !w.goesOn(g, i) {
				return
			}
			if !w.facing && w.hopeless(i, aim) {
				// Less money is left than when the rack was asked.
				w.refuse(1)
			} else {
				w.settle(w.ChoiceSlots())
			}
			next = i + 1
		}
		w.refuse(l.to - next)
	}
}

// refuse books boxes in which the group is hopeless.
func (w *worker) refuse(boxes int) {
	w.drop(build.Silent, w.price+w.group.class.Floor, &w.find.ledger.pairs, uint64(boxes)*w.ChoiceSlots())
}

// goesOn turns to the block in box i of a group, unless neither that nor any in a box
// that costs as much or more could enter the ranking; then it books them.
func (w *worker) goesOn(g *group, i int) bool {
	rest := uint64(len(g.housing)-i) * w.ChoiceSlots()
	books := &w.find.ledger.pairs
	if w.halted() {
		books[DropTime] += rest
		return false
	}
	w.box, w.price = g.housing[i], g.Base()+g.costs[i]
	floor := w.price + g.class.Floor
	if floor > w.Limit {
		books[DropCap] += rest
		return false
	}
	if !w.admits(g.ceiling, floor) {
		w.drop(g.ceiling, floor, books, rest)
		return false
	}
	if l := w.lookOut(); !w.admits(l, floor) {
		// Nor can they be driven harder.
		w.drop(l, floor, books, rest)
		return false
	}
	return true
}

// inView says whether the block at hand is within the horizon, and books it if not.
func (w *worker) inView(g *group) bool {
	floor := w.price + g.class.Floor
	l := w.beyond(&w.horizon, w.box.Opening)
	if w.admits(l, floor) {
		return true
	}
	w.drop(l, floor, &w.find.ledger.pairs, w.ChoiceSlots())
	return false
}
