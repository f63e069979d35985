package completion

import (
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// A better part can leave another one without a use, and no build holds idle
// parts. So putting a better part q in the place of p (undominated.go) does not always
// make a build; but what is then idle can go, and the build is cheaper still.
// There are two exceptions, and in both p is kept:
//
//   - What goes has to be replaced. For a reading, an amplifier of the front's
//     own is idle beside a source that drives the pair by the rule, if only
//     behind a bass blocker; the blocker may cost more than the amplifier.
//   - What goes is dear to lose: it is the part that is asked for (useful.go), or
//     a deal wants it that saves more than it costs.

// driveNeed is what a pair needs to be driven by the rule by a source without a
// filter, and with watts enough.
type driveNeed int

const (
	hopeless driveNeed = iota
	blockerAid
	noAid
)

// needOf is that of a pair; any blocker that can be had counts.
func (r *Lists) needOf(c Speakers) driveNeed {
	can := func(f HighPass) bool { return !c.Fresh || r.response(c, f).most >= r.enough() }
	if can(HighPass{}) {
		return noAid
	}
	blocked := func(b *catalog.Part) bool { return can(BlockerHighPass(b.Blocker, c.Load)) }
	if slices.ContainsFunc(r.Shelf.Kinds[catalog.KindBlocker], func(it *pricing.Item) bool { return it.Offered() && blocked(it.Part) }) ||
		r.Problem.Shops != nil && slices.ContainsFunc(r.Problem.Shops.Elsewhere, blocked) {
		return blockerAid
	}
	return hopeless
}

// enough is the watts a side that the rule asks for.
func (r *Lists) enough() float64 { return r.Brief.FrontWatts * (1 - build.WattsTolerance) }

// speakersKeepUses says whether a better pair q leaves a use to what p has a use
// for, or needs nothing in its place.
func (r *Lists) speakersKeepUses(q, p Speakers) bool {
	if r.Music() {
		return true
	}
	a, b := r.needOf(q), r.needOf(p)
	if r.ownNeeded || r.blockerNeeded {
		return a == b && q.Fresh == p.Fresh && (r.response(q, BuiltIn).most >= r.enough()) == (r.response(p, BuiltIn).most >= r.enough())
	}
	return a != blockerAid || b != hopeless
}

// sourceKeepsUses says the same of a better source a in the place of b.
func (r *Lists) sourceKeepsUses(a, b *catalog.Source, loads []float64) bool {
	if r.lineNeeded && (a.PreOuts > 0) != (b.PreOuts > 0) {
		return false
	}
	if r.Music() {
		return true
	}
	strict := r.ownNeeded || r.blockerNeeded
	if strict && a.HighPass != b.HighPass {
		return false
	}
	for _, load := range loads {
		x, y := SourcePower(a, load), SourcePower(b, load)
		drives, rule := (x > 0) == (y > 0), (x >= r.enough()) == (y >= r.enough())
		if drives && rule || !strict && (rule || a.HighPass || !r.blockerNeed(load)) {
			continue
		}
		return false
	}
	return true
}

// Connects says whether a part connects wherever another does: it takes speaker
// wires, or neither does. It also has to leave a line converter its use, where
// that is needed.
func (r *Lists) Connects(q, p bool) bool { return q == p || q && !r.lineNeeded }

// blockerNeed says that some pair of a load needs a blocker.
func (r *Lists) blockerNeed(load float64) bool {
	if r.needed == nil {
		r.needed = make(map[float64]bool)
		for _, c := range r.speakers {
			r.needed[c.Load] = r.needed[c.Load] || r.needOf(c) == blockerAid
		}
	}
	return r.needed[load]
}

// needBeyond says that there may be blockers that the lists of front stages do not show.
func (r *Lists) needBeyond() bool {
	return r.usefulBlocker || r.Problem.Shops != nil && len(r.Problem.Shops.Elsewhere) > 0
}
