package optimizer

import (
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// A better part can leave another one without a use, and no build holds idle
// parts. So putting a better part q in the place of p (deep.go) does not always
// make a build; but what is then idle can go, and the build is cheaper still.
// There are two exceptions, and in both p is kept:
//
//   - What goes has to be replaced. For a reading, an amplifier of the front's
//     own is idle beside a source that drives the pair by the rule, if only
//     behind a bass blocker; the blocker may cost more than the amplifier.
//   - What goes is dear to lose: it is the part that is asked for (with.go), or
//     a deal wants it that saves more than it costs.

// aid is what a pair needs to be driven by the rule by a source without a
// filter, and with watts enough.
type aid int

const (
	hopeless aid = iota
	blockerAid
	noAid
)

// aidOf is that of a pair; any blocker that can be had counts.
func (r *rests) aidOf(c choice) aid {
	can := func(f filter) bool { return !c.fresh || r.ear(c, f).most >= r.enough() }
	if can(filter{}) {
		return noAid
	}
	blocked := func(b *catalog.Part) bool { return can(blockerFilter(b.Blocker, c.load)) }
	if slices.ContainsFunc(r.Shelf.Kinds[catalog.KindBlocker], func(it *pricing.Item) bool { return it.Offered() && blocked(it.Part) }) ||
		r.Problem.Shops != nil && slices.ContainsFunc(r.Problem.Shops.Elsewhere, blocked) {
		return blockerAid
	}
	return hopeless
}

// enough is the watts a side that the rule asks for.
func (r *rests) enough() float64 { return r.Brief.FrontWatts * (1 - build.WattsTolerance) }

// choiceKeepsUses says whether a better pair q leaves a use to what p has a use
// for, or needs nothing in its place.
func (r *rests) choiceKeepsUses(q, p choice) bool {
	if r.Music() {
		return true
	}
	a, b := r.aidOf(q), r.aidOf(p)
	if r.ownNeeded || r.blockerNeeded {
		return a == b && q.fresh == p.fresh && (r.ear(q, builtIn).most >= r.enough()) == (r.ear(p, builtIn).most >= r.enough())
	}
	return a != blockerAid || b != hopeless
}

// sourceKeepsUses says the same of a better source a in the place of b.
func (r *rests) sourceKeepsUses(a, b *catalog.Source, loads []float64) bool {
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
		x, y := sourcePower(a, load), sourcePower(b, load)
		drives, rule := (x > 0) == (y > 0), (x >= r.enough()) == (y >= r.enough())
		if drives && rule || !strict && (rule || a.HighPass || !r.blockerAid(load)) {
			continue
		}
		return false
	}
	return true
}

// connects says whether a part connects wherever another does: it takes speaker
// wires, or neither does. It also has to leave a line converter its use, where
// that is needed.
func (r *rests) connects(q, p bool) bool { return q == p || q && !r.lineNeeded }

// blockerAid says that some pair of a load needs a blocker.
func (r *rests) blockerAid(load float64) bool {
	if r.aided == nil {
		r.aided = make(map[float64]bool)
		for _, c := range r.choices {
			r.aided[c.load] = r.aided[c.load] || r.aidOf(c) == blockerAid
		}
	}
	return r.aided[load]
}

// aidBeyond says that there may be blockers that the lists of packs do not show.
func (r *rests) aidBeyond() bool {
	return r.usefulBlocker || r.Problem.Shops != nil && len(r.Problem.Shops.Elsewhere) > 0
}
