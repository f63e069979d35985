package optimizer

import (
	"math"
	"slices"

	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/optimizer/build"
)

// The search of a group for a ladder of readings. Each block is held against one
// bound after the other, tread by tread, each ten times as dear as the one
// before: the price and the width of its mouth, which are compared with numbers
// kept for the group (ladder_aim.go); the target of its box; and once it is
// prepared the strongest amplifier of the tread. Treads for which it is found
// wanting are not looked at again.

// ascent is what a worker keeps for a ladder of readings.
type ascent struct {
	outlooks []outlook // of the treads of the group
	knows    int       // how many finds they know of
	within   []int     // the treads on which the block at hand could be
	screened []int     // what within was before
	tried    []int     // the pairs that were tried with the block at hand
	marks    []bool    // the frequencies at which it could
	beaten   []heard   // what each tread had to beat last
}

// heard is a level with its pressure.
type heard struct {
	level    build.Level
	pressure float64
}

// ascend settles every block of a group.
func (w *worker) ascend(g *group, f *find) {
	slots, base := w.ChoiceSlots(), g.Base()
	w.survey(g)
	for i, box := range g.housing {
		rest := uint64(len(g.housing)-i) * slots
		if w.halted() {
			f.ledger.pairs[DropTime] += rest
			return
		}
		w.box, w.price = box, base+g.costs[i]
		if w.price+g.class.Floor > w.Limit {
			f.ledger.pairs[DropCap] += rest
			return
		}
		if !w.inSight(g, box.Opening) {
			// The boxes to come cost no less.
			w.drop(build.Silent, w.price+g.class.Floor, &f.ledger.pairs, rest)
			return
		}
		if !w.inReach(g, i) {
			w.drop(build.Silent, w.price+g.class.Floor, &f.ledger.pairs, slots)
			continue
		}
		w.settle(slots)
	}
}

// inSight says whether any block of a group in boxes like the one at hand, or
// dearer, could be on the ladder, as far as price and horizon tell, and finds the
// treads on which one with a mouth could be.
func (w *worker) inSight(g *group, m bass.Mouth) (any bool) {
	if w.knows != len(w.find.found) {
		w.knows = len(w.find.found)
		for i := range w.outlooks {
			w.outlooks[i].until = math.MinInt64
		}
	}
	w.within = w.within[:0]
	for i := range g.lids {
		floor := w.price + g.class.Tiers[i].Floor
		if floor > w.Limit {
			break
		}
		o := w.outlook(g, i, floor)
		if !o.hopeful {
			continue
		}
		any = true
		least := o.shut
		if m.Cones {
			least = o.open
		}
		if m.Port >= least {
			w.within = append(w.within, i)
		}
	}
	return any
}

// inReach says whether the block in box i could be on the ladder, and on which
// treads. It marks the frequencies at which it could: at the others no pair of a
// tread is loud enough for the money that the tread costs.
func (w *worker) inReach(g *group, i int) bool {
	if !g.Loaded() && w.sharing >= 0 {
		w.screened = append(w.screened[:0], w.within...)
		w.within = w.within[:0]
		for run := range slices.Chunk(w.screened, screenRun) {
			w.within = w.screen(g, i, run, w.within)
		}
	}
	if len(w.within) == 0 {
		return false
	}
	w.marks = append(w.marks[:0], make([]bool, len(w.Room.Hz))...)
	kept, mouth := w.within[:0], g.housing[i].Opening
	for _, tread := range w.within {
		floor := w.price + g.class.Tiers[tread].Floor
		incumbent := w.incumbent(floor)
		if incumbent == nil {
			kept = append(kept, tread)
			for k := range w.marks {
				w.marks[k] = true
			}
			continue
		}
		if w.outlooks[tread].horizon.Mark(w.pressure(tread, incumbent.toBeat(floor)), mouth, w.marks) {
			kept = append(kept, tread)
		}
	}
	w.within = kept
	return len(kept) > 0
}

// pressure is that of the lowest level that a tread has to reach, Pa. It is
// kept, since a power takes longer than all else about a horizon.
func (w *worker) pressure(tread int, toBeat build.Level) float64 {
	for len(w.beaten) <= tread {
		w.beaten = append(w.beaten, heard{level: build.Silent})
	}
	h := &w.beaten[tread]
	if h.level != toBeat {
		*h = heard{toBeat, air.Pressure(lowest(toBeat))}
	}
	return h.pressure
}
