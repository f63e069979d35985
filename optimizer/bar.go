package optimizer

import (
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// For music it takes three things to enter a ranking or a ladder: a bass loud
// enough, a front loud enough, and the money for both. Put the other way round:
// what a bass system costs says how loud it has to be at least, since the front
// stages that still can be paid, and what is held already, are known. So each
// bound needs one question only: does it reach the level to aim at?
//
// In a ranking, with the incumbent at level L and price P: L, if a front stage as
// loud as L can be had for what is left of P; else the next level above L, if a
// front stage that loud can be had for what is left of the cap; else nothing.
//
// On a ladder it is asked between each step and the next (ladder_span.go).

// goals is what can be aimed at with rests of one cost to reach.
type goals struct {
	rests completion.CostToReach

	equal, louder int64       // what the rests cost that are as loud as the incumbent, and louder
	first         pricing.Set // the first that are as loud
}

// goalsOf prepares aiming at what the worker's ranking holds now.
func (w *worker) goalsOf(rests completion.CostToReach, g *goals) {
	g.rests = rests
	if incumbent := w.ranking.last(); incumbent != nil {
		x := rests.First(incumbent.level)
		g.equal, g.first, g.louder = x.Price, x.Parts, w.louder(rests, incumbent.level)
	}
}

// bar is the level to aim at for something that costs at least floor, and at
// least bare without its rest; ok is false where nothing can be gained. In a ranking
// it is the block at hand, with the pairs that come first at either price.
func (w *worker) bar(g *goals, floor, bare int64, first, barest *drive.AmpChoice) (least build.Level, ok bool) {
	incumbent := w.ranking.last()
	switch {
	case incumbent == nil && w.probing:
		return w.aimed, true
	case incumbent == nil:
		return build.Silent, true
	case max(floor, bare+g.equal) < incumbent.price:
		return incumbent.level, true
	case max(floor, bare+g.equal) == incumbent.price &&
		(floor < incumbent.price || !w.behind(incumbent, first, first.KitTier.First, first.Rest)) &&
		(bare+g.equal < incumbent.price || !w.behind(incumbent, barest, barest.KitTier.First, g.first)):
		return incumbent.level, true
	case bare+g.louder <= w.Limit:
		return incumbent.level + 1, true
	}
	return 0, false
}

// barFor is bar for a pair with its block, and with some rests: of those on its own
// spare channels, and of those that its signal inputs let it have, more is known
// than of all.
func (w *worker) barFor(p *drive.AmpChoice, rests with, aim build.Level) (least build.Level, ok bool) {
	floor, bare := w.price+p.Floor, w.price+p.Bare
	if w.task.ladder {
		return w.barOnLadder(p, rests, aim)
	}
	switch {
	case !p.Spare || rests == withLean:
		return w.bar(&w.lean[p.Lean], floor, bare, p, p)
	case rests == withSpare:
		return w.bar(w.goalsBeside(p.Amp), floor, bare, p, p)
	}
	lowest, possible := w.bar(&w.allGoals, floor, bare, p, p)
	if !possible {
		return 0, false
	}
	if least, ok = w.bar(&w.lean[p.Lean], floor, bare, p, p); ok && least == lowest {
		return least, true
	}
	if own, too := w.bar(w.goalsBeside(p.Amp), floor, bare, p, p); too && (!ok || own < least) {
		return own, true
	}
	return least, ok
}

// goalsBeside is what can be aimed at with rests on an amplifier's spare channels.
func (w *worker) goalsBeside(amp *pricing.Item) *goals {
	if len(w.beside) < len(w.Shelf.Items) {
		w.beside = make([]besideAmp, len(w.Shelf.Items))
	}
	b := &w.beside[amp.ID]
	if b.goals == nil {
		b.goals = &goals{rests: w.rests.SpareCostOf(amp)}
	}
	if b.tuning != w.tuning {
		b.tuning = w.tuning
		w.goalsOf(b.goals.rests, b.goals)
	}
	return b.goals
}

// besideAmp is the goals beside an amplifier, and for which tuning.
type besideAmp struct {
	goals  *goals
	tuning int
}
