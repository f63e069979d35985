package optimizer

import (
	"cmp"
	"slices"
	"sync/atomic"

	"loudfor/model/bass"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// A ladder for music, between its steps. With the steps held so far at levels L1 < L2 ...
// and prices P1 < P2 ..., a build of level l and price p belongs on the ladder just if,
// for the one k with Lk < l <= Lk+1, it costs less than Pk+1, or as much, is as loud
// and comes before; above the last step, if it is within the cap. (What comes before
// it at its price is the dearest step that costs no more. Where p < Pk+1 that is
// one of the first k, all of them quieter. Where p > Pk+1 it is louder or as loud.)
//
// So what lies between two steps is a ranking with something to beat, in which the
// least level is that above the lower step, and the cap the price of the upper one. A
// front stage of that level is part of all builds there, and what it costs beside
// each pair of amplifiers, on its spare channels or not, leaves so much for a block: a
// row, as in a ranking (row.go). Of 600 pairs some 75 are in one on the average, where
// the cheapest and the strongest of many pairs at once leave nearly every block open.
//
// Steps only rise and get cheaper, so what was left out between two steps of an earlier
// ladder does not belong on a later one.

// span is what lies between two steps.
type span struct {
	least build.Level // above the lower step
	last  candidate   // the upper one; of what is above them all, nothing for the cap
	lean  []goals     // with the rests of search.bases
	all   goals       // with any rests
	rows  []atomic.Pointer[row]
}

// takeSpans takes the spans of the ladder that is held.
func (s *search) takeSpans() {
	if s.task.ladder && s.Music() {
		s.between = s.spansOf(s.total.best, s.between)
	}
}

// spansOf makes the spans of a ladder. Those between steps that did not change since there
// were others stay.
func (s *search) spansOf(held []candidate, old []*span) []*span {
	spans := make([]*span, 0, len(held)+1) // held is dearest first
	for i := len(held); i >= 0; i-- {
		now := span{least: build.Silent, last: candidate{level: build.Silent, price: s.Limit}}
		if i < len(held) {
			now.least = held[i].level + 1
		}
		if i > 0 {
			now.last = held[i-1]
		}
		if now.least > min(s.most, s.enough) {
			break
		}
		at, known := slices.BinarySearchFunc(old, now.least, func(x *span, l build.Level) int { return cmp.Compare(x.least, l) })
		if known && old[at].last.tiedWith(&now.last) {
			spans = append(spans, old[at])
			continue
		}
		now.lean = make([]goals, len(s.bases))
		for k, rests := range s.bases {
			now.lean[k] = goalsAt(rests, now.least)
		}
		now.all = goalsAt(s.all, now.least)
		now.rows = make([]atomic.Pointer[row], len(s.Loads))
		spans = append(spans, &now)
	}
	return spans
}

// tiedWith says that two candidates are the same to what comes next to them.
func (c *candidate) tiedWith(o *candidate) bool {
	return c.level == o.level && c.price == o.price && c.parts.CompareSKUs(o.parts) == 0
}

// goalsAt is what rests cost that reach a level.
func goalsAt(rests completion.CostToReach, l build.Level) goals {
	x := rests.First(l)
	return goals{equal: x.Price, first: x.Parts, louder: pricing.Boundless}
}

// row is the pairs of a class that are of use in a span.
func (x *span) row(w *worker, c *drive.CoilLoad) *row {
	at := &x.rows[c.Number]
	if r := at.Load(); r != nil {
		return r
	}
	r := w.rowBefore(c, &x.last, x.lean, &x.all, func(amp *pricing.Item) *goals {
		g := goalsAt(w.rests.SpareCostOf(amp), x.least)
		return &g
	})
	// Another worker may have been as quick, with the same.
	at.Store(r)
	return r
}

// within is a span as a group sees it.
type within struct {
	row     *row
	level   build.Level
	least   bass.Product
	horizon *bass.Horizon    // of the strongest pair that a block leaves the money for
	felt    drive.CoilSource // and what that is; unknown at first
	known   bool
}

// enterSpans lists the spans in which a group could have a build.
func (w *worker) enterSpans(g *group) {
	w.spread, w.ahead = len(w.find.found), w.ahead[:0]
	for _, x := range w.spans {
		r := x.row(w, g.class)
		if len(r.rooms) == 0 || r.rooms[0] < g.Price(g.housing[0]) {
			continue
		}
		n := len(w.ahead)
		for len(w.horizons) <= n {
			w.horizons = append(w.horizons, new(bass.Horizon))
		}
		w.ahead = append(w.ahead, within{row: r, level: x.least, least: w.product(x.least), horizon: w.horizons[n]})
	}
}

// inSpans says in which spans the block at hand could be, and drops those in which
// none of the group could be that costs as much or more.
func (w *worker) inSpans(g *group) bool {
	if len(w.find.found) > w.spread {
		w.spans = w.spansOf(w.ranking.best, w.spans)
		w.enterSpans(g)
	}
	kept := w.ahead[:0]
	for _, x := range w.ahead {
		f, ok := x.row.strongest(x.row.payable(w))
		if !ok {
			continue
		}
		if !x.known || f.Voltage < lookAgain*x.felt.Voltage {
			w.lookAs(x.horizon, g, f)
			if x.felt, x.known = f, true; !x.horizon.Reaches(x.least, g.opening, &w.comb) {
				continue
			}
		}
		kept = append(kept, x)
	}
	w.ahead = kept
	w.alive = append(w.alive, kept...)
	return len(kept) > 0
}

// barOnLadder is the lowest level, no lower than aim, with which builds of the block at
// hand, a pair and some rests could be on the ladder as it is by now.
func (w *worker) barOnLadder(p *drive.AmpChoice, rests with, aim build.Level) (least build.Level, ok bool) {
	floor, bare := w.price+p.Floor, w.price+p.Bare
	least = build.Loudest
	if rests != withSpare {
		least, _, ok = w.foothold(w.bases[p.Lean], aim, floor, bare)
	}
	if p.Spare && rests != withLean {
		l, _, too := w.foothold(w.rests.SpareCostOf(p.Amp), aim, floor, bare)
		least, ok = min(least, l), ok || too
	}
	return least, ok
}
