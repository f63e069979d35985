package optimizer

import (
	"slices"

	"loudfor/model/bass"
	"loudfor/optimizer/build"
)

// The search of a group for music. What has to be reached is a level (bar.go),
// and each bound only says whether it can be: the horizon for all boxes with a
// mouth, then for the block at hand a glance (package bass), which costs a
// twentieth of computing the level. Where even a close look leaves it open, the
// pairs are computed.
//
// On a ladder that is asked between each step and the next (ladder_span.go), in a
// ranking once.

// song is what a worker keeps for music.
type song struct {
	lean      []goals     // with the rests of search.bases
	allGoals  goals       // with any rests
	beside    []besideAmp // by the amplifiers' ids
	tuning    int         // counts what the goals stand on
	tuned     build.Level // in a ranking: the incumbent's level
	glance    bass.Glance
	products  [productCache]heardProduct
	spans     []*span     // of the worker's ladder
	ahead     []within    // those in which blocks of the group could be
	spread    int         // how many finds they know of
	alive     []within    // those ahead in which the block at hand
	row       *row        // in a ranking: the pairs that could enter it, when the group was opened
	places    []place     // room for making one
	remaining []cabled    // room for those at hand
	settled   []int       // pairs that were computed with the block at hand
	aimed     build.Level // while probing: the level to find something at
	vain      int         // pairs that were computed since the last find
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

// tune prepares aiming at what a ranking holds now.
func (w *worker) tune() {
	now := build.Silent
	if incumbent := w.ranking.last(); incumbent != nil {
		now = incumbent.level
	}
	if w.task.ladder || w.tuning > 0 && now == w.tuned {
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
	slots := w.ChoiceSlots()
	w.tune()
	w.row = nil
	if w.task.ladder {
		w.spans = w.between
		w.enterSpans(g)
	}
	for i, box := range g.housing {
		rest := uint64(len(g.housing)-i) * slots
		if w.halted() {
			f.ledger.pairs[DropTime] += rest
			return
		}
		w.box, w.price = box, g.Price(box)
		if w.price+g.class.Floor > w.Limit {
			f.ledger.pairs[DropCap] += rest
			return
		}
		if !w.inTune(g) {
			// The boxes to come cost no less.
			w.drop(build.Silent, w.price+g.class.Floor, &f.ledger.pairs, rest)
			return
		}
		if !w.audible(box.Opening) {
			w.drop(build.Silent, w.price+g.class.Floor, &f.ledger.pairs, slots)
			continue
		}
		w.hearBlock(slots)
	}
}

// inTune says whether any block of the group in boxes like the one at hand, or
// dearer, could be on a ladder or in a ranking, and where.
func (w *worker) inTune(g *group) bool {
	w.alive = w.alive[:0]
	if w.task.ladder {
		return w.inSpans(g)
	}
	least, ok := w.bar(&w.allGoals, w.price+g.class.Floor, w.price+g.class.Bare, g.class.First, g.class.Barest)
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
	if !s.known || f.Voltage < lookAgain*s.felt.Voltage {
		w.lookAs(&w.horizon, w.group, f)
		*s = sight{felt: f, known: true}
	}
	w.alive = append(w.alive, within{row: w.row, level: least, least: w.product(least), horizon: &w.horizon})
	return w.horizon.Reaches(w.alive[0].least, g.opening, &w.comb)
}

// audible keeps where a box with a mouth is within the horizon.
func (w *worker) audible(m bass.Mouth) bool {
	w.alive = slices.DeleteFunc(w.alive, func(x within) bool { return !x.horizon.Reaches(x.least, m, &w.comb) })
	return len(w.alive) > 0
}

// hearBlock disposes of one block.
func (w *worker) hearBlock(slots uint64) {
	g, books := w.group, &w.find.ledger
	if !w.HoldsMusts(&g.Block, w.box) {
		books.pairs[DropMust] += slots
		return
	}
	if w.price+g.class.Floor+w.aside(nil, nil) > w.Limit {
		books.pairs[DropCap] += slots
		return
	}
	if !w.FitsHole(&g.Block, w.box) || bass.PrepareInto(&w.prepared, w.Setup(&g.Block, w.box), &w.bandRoom) != nil {
		books.pairs[DropFit] += slots
		return
	}
	w.prepared.Glance(bass.Music(), &w.comb, &w.glance)
	w.alive = slices.DeleteFunc(w.alive, func(x within) bool {
		strongest, _ := x.row.strongest(x.row.payable(w))
		return !w.glance.Rough(w.through(strongest), x.least)
	})
	if len(w.alive) == 0 {
		w.drop(build.Silent, w.price+g.class.Floor, &books.pairs, slots)
		return
	}
	w.lose(1)
	left := uint64(len(g.class.Choices))
	w.settled = w.settled[:0]
	for i := range w.alive {
		left -= w.walk(&w.alive[i])
	}
	w.drop(build.Silent, w.price+g.class.Floor, &books.pairs, left)
}

// walk goes along a row, computes those of its pairs that could enter, and says how
// many it settled.
func (w *worker) walk(x *within) uint64 {
	c, r := w.group.class, x.row
	open2, current2 := w.glance.Least(x.least, r.least)
	from, to := r.window(open2, current2, r.payable(w))
	all := w.remaining[:0]
	for i := from; i < to; i++ {
		if r.open2[i] >= open2 && r.current2[i] >= current2 && w.glance.Within(r.open2[i], r.current2[i], r.felts[i].Resistance, x.least) {
			// What the block leaves beside the cheapest kit is there for a better one.
			b := c.Choices[r.places[i].pair].KitTier
			all = append(all, cabled{i, b.Resistance(b.Floor + r.rooms[i] - w.price)})
		}
	}
	w.remaining = all
	switch {
	case w.task.ladder:
		return w.sift(r, all, x.level)
	case len(all) > 0:
		return w.winnow(r, all, x.level)
	}
	return 0
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
	low, high := 0, len(c.Floors)-1
	for high-low > len(c.Floors)/entryParts {
		middle := (low + high) / 2
		s.lookAs(h, g, c.Envelopes[middle])
		if h.Reaches(least, widest, &s.comb) {
			high = middle
		} else {
			low = middle + 1
		}
	}
	return g.Price(g.housing[0]) + c.Floors[high]
}

// entryParts is into how many parts the pairs of a class are cut at least when an
// entry is looked for.
const entryParts = 64
