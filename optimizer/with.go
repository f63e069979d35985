package optimizer

import (
	"fmt"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/pricing"
)

// A part that has to be in every build, for the question what a customer's
// favourite would do. The brief's must does not answer it: what must names may
// be idle, so a line converter could ride along with nothing to convert, and
// the answer would be no build of the brief at all. With a part asked for by
// Problem.With, the builds are exactly those builds of the brief that hold it.

// with marks the part that every build has to hold.
func (t *task) with() error {
	if t.Problem.With == "" {
		return nil
	}
	it := t.Shelf.BySKU[t.Problem.With]
	if it == nil {
		return fmt.Errorf("with names %s, which is not in the catalogue", t.Problem.With)
	}
	if it.Part.Kind.ForBuilding() {
		return fmt.Errorf("with names %s, which is what boxes are built with, not a part of a build", t.Problem.With)
	}
	if it.Must == 0 {
		it.Must, it.Used = 1, true
	}
	return nil
}

// usefulKind says whether a part of a kind has to be in, and not idle.
func (t *task) usefulKind(kind catalog.Kind) bool {
	return slices.ContainsFunc(t.Musts, func(it *pricing.Item) bool { return it.Part.Kind == kind && it.Used })
}

// direct says whether a source drives a pair by the rule with whatever filter
// there is: then an amplifier of the pair's own is idle for a reading. A
// blocker that has to be in does not change what the others could do.
func (r *rests) direct(c choice, src *catalog.Source) bool {
	watts := sourcePower(src, c.load)
	passes := func(f filter) bool {
		_, ok := r.t.hear(c, watts, f)
		return ok
	}
	elsewhere := func() bool { // in a shop that is not gone to: see tours.go
		return r.t.Problem.Shops != nil && slices.ContainsFunc(r.t.Problem.Shops.Elsewhere, func(b *catalog.Part) bool {
			return passes(blockerFilter(b.Blocker, c.load))
		})
	}
	if !r.usefulBlocker {
		return len(r.filtered(pack{choice: c}, watts, src.HighPass)) > 0 || watts > 0 && !src.HighPass && !r.forcedBlocker && elsewhere()
	}
	if !(watts > 0) || src.HighPass {
		return watts > 0 && passes(builtIn)
	}
	if passes(filter{}) {
		return true
	}
	return slices.ContainsFunc(r.t.Shelf.Kinds[catalog.KindBlocker], func(b *pricing.Item) bool {
		return b.Offered() && passes(blocked(b, c.load)[0])
	}) || elsewhere()
}

// idleBlocker says whether any blocker is idle before a pair: beside another
// high-pass, and for a reading where the rule holds without.
func (r *rests) idleBlocker(c choice, watts float64, highPass bool) bool {
	if highPass {
		return true
	}
	_, without := r.t.hear(c, watts, filter{})
	return without && !r.t.Music()
}
