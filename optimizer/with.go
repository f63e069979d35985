package optimizer

import (
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/pricing"
)

// drives is direct, for whoever asks beside others.
func (r *rests) drives(c choice, src *catalog.Source) bool {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	return r.direct(c, src)
}

// direct says whether a source drives a pair by the rule with whatever filter
// there is: then an amplifier of the pair's own is idle for a reading. A
// blocker that has to be in does not change what the others could do.
func (r *rests) direct(c choice, src *catalog.Source) bool {
	watts := sourcePower(src, c.load)
	passes := func(f filter) bool {
		_, ok := r.play(c, watts, f)
		return ok
	}
	elsewhere := func() bool { // in a shop that is not gone to: see tours.go
		return r.Problem.Shops != nil && slices.ContainsFunc(r.Problem.Shops.Elsewhere, func(b *catalog.Part) bool {
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
	return slices.ContainsFunc(r.Shelf.Kinds[catalog.KindBlocker], func(b *pricing.Item) bool {
		return b.Offered() && passes(blocked(b, c.load)[0])
	}) || elsewhere()
}

// idleBlocker says whether any blocker is idle before a pair: beside another
// high-pass, and for a reading where the rule holds without.
func (r *rests) idleBlocker(c choice, watts float64, highPass bool) bool {
	if highPass {
		return true
	}
	_, without := r.play(c, watts, filter{})
	return without && !r.Music()
}
