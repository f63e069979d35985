package optimizer

import (
	"loudfor/model/bass"
	"loudfor/optimizer/build"
)

// The search of a group for music. What has to be reached is a level (bar.go),
// and each bound only says whether it can be: the horizon for all boxes with a
// mouth, then for the block at hand a glance (package bass), which costs a
// twentieth of computing the level. Where even a close look leaves it open, the
// pairs are computed.
//
// On a ladder that is asked tread by tread, since what has to be reached depends
// on the price; in a ranking there is one tread, of all pairs.

// song is what a worker keeps for music.
type song struct {
	lean      []goals     // with the rests of search.bases
	allGoals  goals       // with any rests
	beside    []besideAmp // by the amplifiers' ids
	tuning    int         // counts what the goals stand on
	tuned     build.Level // in a ranking: the incumbent's level
	glance    bass.Glance
	products  [productCache]heardProduct
	alive     []treadBar
	row       *row        // in a ranking: the pairs that could enter it, when the group was opened
	places    []place     // room for making one
	remaining []cabled    // room for those at hand
	settled   []int       // pairs that were computed with the block at hand
	aimed     build.Level // while probing: the level to find something at
	vain      int         // pairs that were computed since the last find
}

// treadBar is a tread with the level to aim at and the product of pressures that
// it takes.
type treadBar struct {
	tread int
	level build.Level
	least bass.Product
}

// heardProduct is a level with the product that it takes.
type heardProduct struct {
	level build.Level
	least bass.Product
	known bool
}

const productCache = 512

// product is what the bands have to reach for a level of the objective.
func (w *worker) product(l build.Level) bass.Product {
	h := &w.products[uint64(l)%productCache]
	if !h.known || h.level != l {
		*h = heardProduct{l, bass.LeastProduct(lowest(l) + w.Brief.BassLift), true}
	}
	return h.least
}

// tune prepares aiming at what is held.
func (w *worker) tune() {
	now := build.Silent
	if incumbent := w.ranking.last(); incumbent != nil {
		now = incumbent.level
	}
	if w.tuning > 0 && !w.task.ladder && now == w.tuned {
		return // the price is not looked at here
	}
	w.tuning, w.tuned = w.tuning+1, now
	if w.lean == nil {
		w.lean = make([]goals, len(w.bases))
	}
	for i := range w.lean {
		w.goalsOf(w.bases[i], &w.lean[i])
	}
	w.goalsOf(w.all, &w.allGoals)
}

// sing settles every block of a group.
func (w *worker) sing(g *group, f *find) {
	slots := w.pairSlots()
	w.tune()
	w.row = nil
	for i, box := range g.housing {
		rest := uint64(len(g.housing)-i) * slots
		if w.halted() {
			f.ledger.pairs[DropTime] += rest
			return
		}
		w.box, w.price = box, g.price(box)
		if w.price+g.class.floor > w.Limit {
			f.ledger.pairs[DropCap] += rest
			return
		}
		if !w.inTune(g) {
			// The boxes to come cost no less.
			w.drop(build.Silent, w.price+g.class.floor, &f.ledger.pairs, rest)
			return
		}
		if !w.audible(g, box.Opening) {
			w.drop(build.Silent, w.price+g.class.floor, &f.ledger.pairs, slots)
			continue
		}
		w.hearBlock(slots)
	}
}

// inTune says whether any block of the group in boxes like the one at hand, or
// dearer, could be on a ladder or in a ranking, and on which treads.
func (w *worker) inTune(g *group) bool {
	w.alive = w.alive[:0]
	if w.task.ladder {
		for i, lid := range g.lids {
			t := &g.class.treads[i]
			if least, ok := w.bar(&w.allGoals, w.price+t.floor, w.price+t.bare, nil, nil); ok && least <= lid {
				w.alive = append(w.alive, treadBar{i, least, w.product(least)})
			}
		}
		return len(w.alive) > 0
	}
	least, ok := w.bar(&w.allGoals, w.price+g.class.floor, w.price+g.class.bare, g.class.first, g.class.barest)
	if !ok || least > g.ceiling {
		return false
	}
	if w.row == nil {
		w.row = w.rowOf(g.class)
	}
	f, ok := w.strongest()
	if !ok {
		return false
	}
	s := &w.sight
	if !s.known || f.voltage < lookAgain*s.felt.voltage {
		w.lookAs(&w.horizon, w.group, f)
		*s = sight{felt: f, known: true}
	}
	w.alive = append(w.alive, treadBar{-1, least, w.product(least)})
	return w.horizon.Reaches(w.alive[0].least, g.opening, &w.comb)
}

// audible keeps the treads on which a box with a mouth is within the horizon.
func (w *worker) audible(g *group, m bass.Mouth) bool {
	if !w.task.ladder {
		return w.horizon.Reaches(w.alive[0].least, m, &w.comb)
	}
	if !w.sighted {
		w.sighted = true
		if n := len(g.lids) - len(w.horizons); n > 0 {
			w.horizons = append(w.horizons, make([]bass.Horizon, n)...)
		}
		for i := range g.lids {
			w.lookAs(&w.horizons[i], g, g.class.treads[i].felt)
		}
	}
	kept := w.alive[:0]
	for _, a := range w.alive {
		if w.horizons[a.tread].Reaches(a.least, m, &w.comb) {
			kept = append(kept, a)
		}
	}
	w.alive = kept
	return len(kept) > 0
}

// hearBlock disposes of one block.
func (w *worker) hearBlock(slots uint64) {
	g, books := w.group, &w.find.ledger
	if !w.blockMusts(g, w.box) {
		books.pairs[DropMust] += slots
		return
	}
	if !w.blockFits(g, w.box) || bass.PrepareInto(&w.prepared, w.setup(g, w.box), &w.bandRoom) != nil {
		books.pairs[DropFit] += slots
		return
	}
	w.prepared.Glance(bass.Music(), &w.comb, &w.glance)
	if w.task.ladder {
		w.hearTreads(slots)
		return
	}
	least := w.alive[0].least
	strongest, _ := w.strongest()
	if !w.glance.Rough(w.through(strongest), least) {
		w.drop(build.Silent, w.price+g.class.floor, &books.pairs, slots)
		return
	}
	w.lose(1)
	w.walk(w.row, w.alive[0].level, len(g.class.pairs))
}

// walk goes along a row of so many pairs, counting those that are not in it, and
// computes those that could enter the ranking. None can below a level.
func (w *worker) walk(r *row, aim build.Level, pairs int) {
	c := w.group.class
	open2, current2 := w.glance.Least(w.product(aim), r.least)
	left := uint64(pairs)
	from, to := r.window(open2, current2, r.payable(w))
	all := w.remaining[:0]
	for i := from; i < to; i++ {
		if r.open2[i] >= open2 && r.current2[i] >= current2 {
			// What the block leaves beside the cheapest kit is there for a better one.
			b := c.pairs[r.places[i].pair].kitTier
			all = append(all, cabled{i, b.resistance(b.floor + r.rooms[i] - w.price)})
		}
	}
	w.remaining, w.settled = all, w.settled[:0]
	switch {
	case w.task.ladder:
		left -= w.sift(r, all)
	case len(all) > 0:
		left -= w.winnow(r, all, aim)
	}
	w.drop(build.Silent, w.price+c.floor, &w.find.ledger.pairs, left)
}

// hearTreads goes on tread by tread.
func (w *worker) hearTreads(slots uint64) {
	g, books := w.group, &w.find.ledger
	kept := w.alive[:0]
	for _, a := range w.alive {
		if w.glance.Close(w.through(g.class.treads[a.tread].felt), a.least) {
			kept = append(kept, a)
		}
	}
	w.alive = kept
	if len(kept) == 0 {
		w.drop(build.Silent, w.price+g.class.floor, &books.pairs, slots)
		return
	}
	w.lose(1)
	for i := range g.class.treads {
		t := &g.class.treads[i]
		switch floor := w.price + t.floor; {
		case len(kept) > 0 && kept[0].tread == i:
			w.walk(w.treadRow(g.class, i), kept[0].level, t.to-t.from)
			kept = kept[1:]
		case floor > w.Limit:
			books.pairs[DropCap] += uint64(t.to - t.from)
		default:
			w.drop(build.Silent, floor, &books.pairs, uint64(t.to-t.from))
		}
	}
}

// hearBands is the bass's share of the objective, or silent when that is below
// the candidate to beat.
func (w *worker) hearBands(d bass.Drive, incumbent *candidate) build.Level {
	if !w.glance.Rough(d, w.product(incumbent.level)) {
		return build.Silent
	}
	var c bass.Ceilings
	w.glance.Ceilings(&c)
	db, ok := w.prepared.BandsAbove(w.least(incumbent)+w.Brief.BassLift, d, bass.Music(), &c)
	if !ok {
		return build.Silent
	}
	return min(build.Round(db-w.Brief.BassLift), w.enough)
}

// entryOf is the price at which a group begins to be as loud as its ceiling, in
// the cheapest of its boxes. Where the front is the weaker half of most builds,
// their ceilings are all the front's, and what costs least comes first. No bound
// stands on it.
func (s *search) entryOf(g *group, h *bass.Horizon, widest bass.Mouth) int64 {
	if s.task.ladder {
		return 0
	}
	c := g.class
	least := bass.LeastProduct(lowest(g.ceiling) + s.Brief.BassLift)
	low, high := 0, len(c.floors)-1
	for high-low > len(c.floors)/entryParts {
		middle := (low + high) / 2
		s.lookAs(h, g, c.envelopes[middle])
		if h.Reaches(least, widest, &s.comb) {
			high = middle
		} else {
			low = middle + 1
		}
	}
	return g.price(g.housing[0]) + c.floors[high]
}

// entryParts is into how many parts the pairs of a class are cut at least when an
// entry is looked for.
const entryParts = 64
